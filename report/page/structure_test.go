package page

import (
	"crypto/sha256"
	"encoding/base64"
	"html/template"
	"reflect"
	"strings"
	"testing"

	"golang.org/x/net/html"

	"smeltbook/assay/source"
)

// tree is a parsed page.
func tree(t *testing.T, page string) *html.Node {
	t.Helper()
	n, err := html.Parse(strings.NewReader(page))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// all returns the elements of the given names, of any name for none.
func all(n *html.Node, names ...string) []*html.Node {
	var out []*html.Node
	for c := range n.Descendants() {
		if c.Type != html.ElementNode {
			continue
		}
		for _, name := range names {
			if c.Data == name {
				out = append(out, c)
			}
		}
		if len(names) == 0 {
			out = append(out, c)
		}
	}
	return out
}

func attr(n *html.Node, key string) string {
	for _, a := range n.Attr {
		if a.Key == key {
			return a.Val
		}
	}
	return ""
}

func textOf(n *html.Node) string {
	var b strings.Builder
	for c := range n.Descendants() {
		if c.Type == html.TextNode {
			b.WriteString(c.Data)
		}
	}
	return b.String()
}

func TestStructure(t *testing.T) {
	root := tree(t, render(t, sampleDocument(), Assets{ChartLibrary: "a", ChartScript: "b"}))
	for name, want := range map[string]int{"h1": 1, "main": 1, "nav": 1, "footer": 1, "title": 1, "style": 1, "details": 1} {
		if got := len(all(root, name)); got != want {
			t.Errorf("%d <%s>, want %d", got, name, want)
		}
	}
	if lang := attr(all(root, "html")[0], "lang"); lang != "en" {
		t.Errorf("language %q", lang)
	}
	ids := map[string]bool{}
	for _, n := range all(root) {
		if id := attr(n, "id"); id != "" {
			if ids[id] {
				t.Errorf("the id %q is there twice", id)
			}
			ids[id] = true
		}
	}
	for _, a := range all(root, "a") {
		if target, ok := strings.CutPrefix(attr(a, "href"), "#"); ok && !ids[target] {
			t.Errorf("the link to #%s leads nowhere", target)
		}
	}
	for _, n := range all(root) {
		for _, key := range []string{"aria-labelledby", "aria-describedby"} {
			if ref := attr(n, key); ref != "" && !ids[ref] {
				t.Errorf("<%s %s=%q> refers to nothing", n.Data, key, ref)
			}
		}
	}
	above := 0
	for _, h := range all(root, "h1", "h2", "h3", "h4", "h5", "h6") {
		level := int(h.Data[1] - '0')
		if level > above+1 {
			t.Errorf("the heading %q of level %d follows one of level %d", textOf(h), level, above)
		}
		above = level
	}
	for _, f := range all(root, "figure") {
		still := all(f, "div")[1]
		if attr(still, "class") != "still" || attr(still, "role") != "img" || attr(still, "aria-label") == "" {
			t.Errorf("the figure %s has no described drawing", attr(f, "id"))
		}
		if len(all(f, "svg")) != 1 || len(all(f, "figcaption")) != 1 {
			t.Errorf("the figure %s has %d drawings and %d captions", attr(f, "id"), len(all(f, "svg")), len(all(f, "figcaption")))
		}
	}
	for _, th := range all(root, "th") {
		if attr(th, "scope") == "" {
			t.Errorf("the head cell %q has no scope", textOf(th))
		}
	}
	for _, table := range all(root, "table") {
		if attr(table, "class") != "prose" && len(all(table, "caption")) != 1 {
			t.Errorf("the table %s has no caption", attr(table, "id"))
		}
	}
	for _, row := range all(root, "tr") {
		if row.Parent.Data == "tbody" && attr(row.Parent.Parent, "class") != "prose" && attr(row.FirstChild, "scope") != "row" {
			t.Errorf("the row %q begins without its name", textOf(row))
		}
	}
}

func TestContents(t *testing.T) {
	root := tree(t, render(t, sampleDocument(), Assets{}))
	var got []string
	for _, a := range all(all(root, "nav")[0], "a") {
		got = append(got, attr(a, "href")+" "+textOf(a))
	}
	want := []string{
		"#s-what-we-asked What we asked", "#s-side-by-side Side by side",
		"#entry-1 1 Slag from both sites, facing", "#entry-2 2 How hot it had to be",
		"#s-where-they-plot Where they plot", "#s-reading-the-triangle Reading the triangle",
		"#entry-3 3 The slags between iron, silica and lime", "#entry-4 4 Basicity and its kin",
		"#entry-5 5 Every cell behind this report", "#entry-6 6 Methods", "#colophon Colophon",
	}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("contents\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The policy of the page lets run exactly the scripts that were put in, and
// lets nothing be fetched.
func TestPolicy(t *testing.T) {
	root := tree(t, render(t, sampleDocument(), Assets{ChartLibrary: "a()\r\nb()", ChartScript: "c('</script>')"}))
	policy := ""
	for _, m := range all(root, "meta") {
		if attr(m, "http-equiv") == "Content-Security-Policy" {
			policy = attr(m, "content")
		}
	}
	if !strings.HasPrefix(policy, "default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:;") {
		t.Errorf("policy %q", policy)
	}
	run := 0
	for _, s := range all(root, "script") {
		if attr(s, "src") != "" {
			t.Error("a script is fetched")
		}
		if attr(s, "type") == "application/json" {
			continue
		}
		run++
		sum := sha256.Sum256([]byte(textOf(s)))
		if !strings.Contains(policy, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'") {
			t.Errorf("the policy does not let the script %.40q run", textOf(s))
		}
	}
	if run != 3 {
		t.Errorf("%d scripts, want 3", run)
	}
	for _, word := range []string{"innerHTML", "eval(", "new Function", "document.write", "http://", "https://"} {
		if strings.Contains(pageJS, word) {
			t.Errorf("the script has %q", word)
		}
	}
	for _, word := range []string{"@import", "url(", "http://", "https://"} {
		if strings.Contains(pageCSS, word) {
			t.Errorf("the style has %q", word)
		}
	}
}

const hostile = `"><script>alert(1)</script><img src=x onerror=alert(1)>' {{.}} --> ]]> </style></title>&amp;`

// TestHostileText puts markup into every text of a document and looks whether
// any of it came alive.
func TestHostileText(t *testing.T) {
	d := sampleDocument()
	clean := tree(t, render(t, d, Assets{}))
	poison(reflect.ValueOf(&d).Elem())
	page := render(t, d, Assets{})
	root := tree(t, page)
	// Places to break a head stand behind its slashes, which the markup has too.
	elements := func(n *html.Node) int { return len(all(n)) - len(all(n, "wbr")) }
	if got, want := elements(root), elements(clean); got != want {
		t.Errorf("%d elements, %d without the markup in the texts", got, want)
	}
	for _, n := range all(root) {
		for _, a := range n.Attr {
			if strings.HasPrefix(a.Key, "on") {
				t.Errorf("<%s> has a handler %s", n.Data, a.Key)
			}
		}
	}
	if n := strings.Count(textOf(root), "alert(1)"); n < 100 {
		t.Errorf("the texts are there %d times; were they put in?", n)
	}
}

// poison sets every text that v holds, apart from ids, drawings and links.
func poison(v reflect.Value) {
	switch v.Kind() {
	case reflect.Interface, reflect.Pointer:
		if !v.IsNil() {
			poison(v.Elem())
		}
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			return
		}
		for i := range v.Len() {
			poison(v.Index(i))
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if name := v.Type().Field(i).Name; name != "ID" && name != "Link" {
				poison(v.Field(i))
			}
		}
	case reflect.String:
		switch v.Type() {
		case reflect.TypeFor[template.HTML](), reflect.TypeFor[Layout](), reflect.TypeFor[Side](), reflect.TypeFor[Class](), reflect.TypeFor[Style]():
			return
		}
		if v.String() != "" {
			v.SetString(hostile)
		}
	}
}

func TestHostileSeverityAndClass(t *testing.T) {
	d := Document{Title: "T", Blocks: []Block{&Entry{Number: 1, Kind: "data", Parts: []Part{
		&Table{Number: 1, Columns: []Column{{}, {}}, Rows: []Row{{Side: Side(hostile), Cells: []Cell{{}, {Class: Class(hostile)}}}}},
		&Figure{ID: "f", Alt: "a", Layout: Layout(hostile), SVG: []byte("<svg/>")},
		&Notices{List: source.Notices{{Severity: source.Severity(9)}}},
	}}}}
	root := tree(t, render(t, d, Assets{}))
	if n := len(all(root, "script")); n != 1 {
		t.Errorf("%d scripts, want 1", n)
	}
	if n := len(all(root, "img")); n != 0 {
		t.Errorf("%d images, want none", n)
	}
}
