package cite

import (
	"strings"
	"testing"
)

// The file has the form of the CSL-JSON schema, version 1.0.2
// (github.com/citation-style-language/schema); the works are invented.
const refs = `[
 {"id": "b", "type": "article-journal", "title": "Bowls <again>", "author": [{"family": "Vale", "given": "O.", "non-dropping-particle": "de"}, {"family": "Marsh", "given": "T."}],
  "container-title": "Papers", "volume": 3, "issue": "2", "page": "10-12", "issued": {"date-parts": [["2020", 5]]}, "DOI": "https://doi.org/10.1000/xyz"},
 {"id": "a", "type": "book", "title": "Bowls", "author": [{"family": "Vale", "given": "O.", "non-dropping-particle": "de"}, {"family": "Marsh", "given": "T."}],
  "issued": {"date-parts": [[2020]]}, "publisher": "Press", "publisher-place": "Orrin", "URL": "javascript:alert(1)"},
 {"id": 7, "type": "chapter", "title": "Slag", "author": [{"literal": "Field Group"}], "editor": [{"family": "Reeve", "given": "A."}], "container-title": "Finds", "issued": {"raw": "spring 1999"}},
 {"id": "c", "title": "Three", "author": [{"family": "A"}, {"family": "B"}, {"family": "C"}], "issued": {"literal": "in press"}},
 {"id": "d", "title": "Nobody's"},
 {"id": "c", "title": "Twice"},
 {"title": "No key"}
]`

func TestReferencesByAuthorAndYear(t *testing.T) {
	l, notices := Read("refs.json", []byte(refs))
	if notices.Failed() || strings.Join(notices.Codes(), " ") != "KEY_TWICE WORK_WITHOUT_KEY" {
		t.Fatal(notices)
	}
	r := l.Cited([]string{"d", "c", "7", "b", "a", "b", "missing"})
	for key, want := range map[string]string{"a": "de Vale & Marsh 2020a", "b": "de Vale & Marsh 2020b", "7": "Field Group 1999", "c": "A et al. in press", "d": "Nobody's undated"} {
		if got, id, ok := r.Short(key); !ok || got != want || !strings.HasPrefix(id, "ref-") {
			t.Errorf("%s: %q %q %t, want %q", key, got, id, ok, want)
		}
	}
	html := string(r.HTML())
	for _, want := range []string{
		`de Vale, O.; Marsh, T. 2020b. Bowls &lt;again&gt;. <em>Papers</em> 3(2): 10–12. <a href="https://doi.org/10.1000/xyz">https://doi.org/10.1000/xyz</a>`,
		`de Vale, O.; Marsh, T. 2020a. <em>Bowls</em>. Press, Orrin.</li>`,
		`Field Group 1999. Slag. <em>Finds</em> (ed. Reeve, A.).`,
	} {
		if !strings.Contains(html, want) {
			t.Errorf("no %q in\n%s", want, html)
		}
	}
	if lines := r.Lines(); len(lines) != 5 || lines[2] != `de Vale, O.; Marsh, T. 2020b. Bowls <again>. Papers 3(2): 10–12. https://doi.org/10.1000/xyz` {
		t.Errorf("lines: %q", r.Lines())
	}
	if strings.Contains(html, "javascript") || strings.Index(html, "A; B; C") > strings.Index(html, "Field Group") {
		t.Errorf("list:\n%s", html)
	}
	if !l.Cited(nil).Empty() || r.Empty() {
		t.Error("emptiness")
	}
}

func TestABadBibliographyIsToldByLine(t *testing.T) {
	for text, want := range map[string]string{
		"[\n{\"id\": }\n]":   "refs.json, line 2: the bibliography is no CSL-JSON list",
		"@article{a, }":      "refs.json, line 1: the bibliography is no CSL-JSON list",
		`[{"id": {"a": 1}}]`: "the bibliography is no CSL-JSON list",
		"":                   "the bibliography is no CSL-JSON list",
	} {
		_, notices := Read("refs.json", []byte(text))
		if !notices.Failed() || !strings.Contains(notices[0].Error(), want) {
			t.Errorf("%q: %v", text, notices)
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add([]byte(refs))
	f.Fuzz(func(t *testing.T, data []byte) {
		l, _ := Read("refs.json", data)
		html := string(l.Cited(l.Keys()).HTML())
		if strings.Count(html, "<li ") != len(l.Keys()) || strings.Contains(html, "<script") {
			t.Errorf("%d works, list %q", len(l.Keys()), html)
		}
	})
}
