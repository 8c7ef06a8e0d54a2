package cite

import (
	"cmp"
	"html"
	"html/template"
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// References are the works that a text cites, in the order of their list.
type References struct {
	list  []Work
	marks map[string]string // a letter behind the year where two would read alike
}

// Cited returns the references of the works with the given keys. Keys that the
// library does not have are passed over.
func (l Library) Cited(keys []string) References {
	r := References{marks: map[string]string{}}
	for _, key := range slices.Compact(slices.Sorted(slices.Values(keys))) {
		if w, ok := l.Work(key); ok {
			r.list = append(r.list, w)
		}
	}
	slices.SortStableFunc(r.list, func(a, b Work) int {
		return cmp.Or(strings.Compare(sortKey(a), sortKey(b)), strings.Compare(a.Year(), b.Year()), strings.Compare(string(a.Title), string(b.Title)))
	})
	alike := map[string][]string{}
	for _, w := range r.list {
		short := w.who() + " " + w.Year()
		alike[short] = append(alike[short], string(w.ID))
	}
	for _, ids := range alike {
		for i, id := range ids {
			if len(ids) > 1 {
				r.marks[id] = letters(i)
			}
		}
	}
	return r
}

func letters(i int) string {
	if i < 26 {
		return string(rune('a' + i))
	}
	return letters(i/26-1) + letters(i%26)
}

func sortKey(w Work) string {
	names, _ := w.makers()
	if len(names) == 0 {
		return strings.ToLower(string(w.Title))
	}
	var all []string
	for _, n := range names {
		all = append(all, n.full())
	}
	return strings.ToLower(strings.Join(all, "; "))
}

// Short returns what stands in the text, "Reeve & Marsh 2025", and the id of the
// work in the list.
func (r References) Short(key string) (text, id string, ok bool) {
	i := slices.IndexFunc(r.list, func(w Work) bool { return string(w.ID) == key })
	if i < 0 {
		return "", "", false
	}
	w := r.list[i]
	return w.who() + " " + w.Year() + r.marks[key], "ref-" + strconv.Itoa(i+1), true
}

// Empty reports whether nothing is cited.
func (r References) Empty() bool { return len(r.list) == 0 }

// HTML returns the list of references. All text in it is escaped.
func (r References) HTML() template.HTML {
	var b strings.Builder
	b.WriteString(`<ul class="references">` + "\n")
	for i, w := range r.list {
		b.WriteString(`<li id="ref-` + strconv.Itoa(i+1) + `">` + w.html(r.marks[string(w.ID)]) + "</li>\n")
	}
	b.WriteString("</ul>\n")
	return template.HTML(b.String())
}

// Lines returns the list of references without markup.
func (r References) Lines() (lines []string) {
	for _, w := range r.list {
		lines = append(lines, html.UnescapeString(tag.ReplaceAllString(w.html(r.marks[string(w.ID)]), "")))
	}
	return lines
}

// tag matches the tags of html, whose texts hold no strokes of their own.
var tag = regexp.MustCompile(`<[^>]*>`)

// html is a reference: who and when, the title, where it appeared. What stands
// on a spine is in italics.
func (w Work) html(mark string) string {
	esc := template.HTMLEscapeString
	var b strings.Builder
	names, editors := w.makers()
	var all []string
	for _, n := range names {
		all = append(all, n.full())
	}
	if len(all) > 0 {
		b.WriteString(esc(strings.Join(all, "; ")))
		if editors {
			b.WriteString(" (ed.)")
		}
		b.WriteString(" " + esc(w.Year()+mark) + ". ")
	}
	title, container := string(w.Title), string(w.Container)
	if container == "" {
		b.WriteString("<em>" + esc(title) + "</em>")
	} else {
		b.WriteString(esc(title))
	}
	if len(all) == 0 {
		b.WriteString(" " + esc(w.Year()+mark))
	}
	if w.Edition != "" {
		b.WriteString(", edition " + esc(string(w.Edition)))
	}
	b.WriteString(".")
	if container != "" {
		b.WriteString(" <em>" + esc(container) + "</em>")
		if !editors && len(w.Editors) > 0 {
			var eds []string
			for _, n := range w.Editors {
				eds = append(eds, n.full())
			}
			b.WriteString(" (ed. " + esc(strings.Join(eds, "; ")) + ")")
		}
		if w.Volume != "" {
			b.WriteString(" " + esc(string(w.Volume)))
		}
		if w.Issue != "" {
			b.WriteString("(" + esc(string(w.Issue)) + ")")
		}
		if w.Page != "" {
			b.WriteString(": " + esc(strings.ReplaceAll(string(w.Page), "-", "–")))
		}
		b.WriteString(".")
	}
	if w.Publisher != "" {
		b.WriteString(" " + esc(string(w.Publisher)))
		if w.Place != "" {
			b.WriteString(", " + esc(string(w.Place)))
		}
		b.WriteString(".")
	}
	if link := w.link(); link != "" {
		b.WriteString(` <a href="` + esc(link) + `">` + esc(link) + "</a>")
	}
	return b.String()
}

// link is where the work can be had: by its DOI, else by an address of the web.
func (w Work) link() string {
	doi := string(w.DOI)
	for _, prefix := range []string{"https://doi.org/", "http://doi.org/", "https://dx.doi.org/", "http://dx.doi.org/", "doi:"} {
		doi = strings.TrimPrefix(doi, prefix)
	}
	if strings.HasPrefix(doi, "10.") && !strings.ContainsAny(doi, " \"<>") {
		return "https://doi.org/" + doi
	}
	if u := string(w.URL); (strings.HasPrefix(u, "https://") || strings.HasPrefix(u, "http://")) && !strings.ContainsAny(u, " \"<>") {
		return u
	}
	return ""
}
