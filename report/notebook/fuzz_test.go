package notebook

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"golang.org/x/net/html"
)

// FuzzParse holds for any bytes that reading does not fail, that every line
// told lies within the file, and that rendered prose holds no element and no
// address that a page must not have.
func FuzzParse(f *testing.F) {
	sample, err := os.ReadFile(filepath.Join("testdata", "sample.md"))
	if err != nil {
		f.Fatal(err)
	}
	f.Add(sample)
	for _, s := range []string{
		"", "---", "---\n---", "---\n: [\n---\n{{", head + "{{ a \"b\n", head + "> ```flow\n", "---\ntitle: &a [*a]\n---\n",
		head + "<script>alert(1)</script>\n\n<img src=x onerror=y>", head + "# {{ a }}\n# {{ b }}\n[x](#section)\n",
		head + "|{{a}}|\n|-|\n|`\\|`|\n\n[^1]\n\n[^1]: x\n\n    ```spread\n", head + "![{{a}}](x \"y\")\n\r~~~{.data}\n\t- b\n",
		"---\nfurnace:\n  ground: moist\n  air: {by: bag, stroke: -1}\n  pipe: [1]\n---\n",
		"---\ndata: a.csv\r\ntitle: \xff\n---\n```data\n\tx: 1\n```", "---\ncharge:\n  ores: {A: {share: [0.5, 1]}, B: }\n  target: {liquidus: 1200, at: x, SiO2: [1, 2, 3]}\n  ash: {of: [A], percent: -1}\n  batch: 0\n---\n",
		head + "[a]: javascript:x\n\n[a] <javascript:x> [b](data:text/html,x)",
	} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, src []byte) {
		text := bytes.ReplaceAll(bytes.ReplaceAll(src, []byte("\r\n"), []byte("\n")), []byte("\r"), []byte("\n"))
		lines := 1 + bytes.Count(text, []byte("\n"))
		within := func(what string, line int) {
			if line < 1 || line > lines {
				t.Errorf("%s on line %d of %d", what, line, lines)
			}
		}
		n, notices := Parse("notebook.md", src)
		for _, notice := range notices {
			within(notice.Message, notice.At.LineNumber())
		}
		for _, c := range n.Calls() {
			within("call "+c.Func, c.Line)
		}
		ids := map[string]bool{}
		for _, b := range n.Blocks {
			switch b := b.(type) {
			case *Entry:
				within("entry "+b.Kind, b.Line)
				var o struct{ Groups []string }
				for _, notice := range b.Decode(&o) {
					within(notice.Message, notice.At.LineNumber())
				}
			case *Prose:
				r, notices := b.Render(Sources{Values: echo})
				for _, notice := range notices {
					within(notice.Message, notice.At.LineNumber())
				}
				checkInert(t, string(r.HTML), ids)
			}
		}
	})
}

// checkInert fails where HTML holds what prose cannot produce.
func checkInert(t *testing.T, s string, ids map[string]bool) {
	t.Helper()
	z := html.NewTokenizer(strings.NewReader(s))
	for z.Next() != html.ErrorToken {
		token := z.Token()
		switch token.Data {
		case "script", "style", "iframe", "object", "embed", "form", "input", "link", "meta", "base", "svg", "h1":
			if token.Type == html.StartTagToken || token.Type == html.SelfClosingTagToken {
				t.Errorf("element <%s> in\n%s", token.Data, s)
			}
		}
		if token.Type != html.StartTagToken {
			continue
		}
		for _, a := range token.Attr {
			switch {
			case strings.HasPrefix(a.Key, "on"):
				t.Errorf("handler %s in\n%s", a.Key, s)
			case a.Key == "id":
				if ids[a.Val] {
					t.Errorf("id %q twice", a.Val)
				}
				ids[a.Val] = true
			case a.Key == "href" || a.Key == "src":
				if _, ok := address([]byte(a.Val)); !ok && !strings.HasPrefix(a.Val, "mailto:") {
					t.Errorf("address %q in\n%s", a.Val, s)
				}
			}
		}
	}
}
