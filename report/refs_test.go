package report_test

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/study"
)

// written builds the report of a notebook over two slags.
func written(t *testing.T, front, body string) (page.Document, string) {
	t.Helper()
	s, n := twoSlags(t, front, body)
	doc, notices, err := report.Document(context.Background(), s, n, report.Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	var told []string
	for _, x := range notices {
		told = append(told, x.Error())
	}
	return doc, strings.Join(told, "\n")
}

func twoSlags(t *testing.T, front, body string) (*study.Study, *notebook.Notebook) {
	t.Helper()
	return twoSlagsWith(t, nil, front, body)
}

// twoSlagsWith is twoSlags with files of the campaign replaced or added.
func twoSlagsWith(t *testing.T, files map[string]string, front, body string) (*study.Study, *notebook.Notebook) {
	t.Helper()
	dir := t.TempDir()
	text := "---\ntitle: T\ndata: ['*.csv']\ngroups: {fired: {samples: A-1}, dug: {samples: A-2}}\ndraws: 50\n" + front + "---\n" + body
	all := map[string]string{
		"lab.csv":     "Sample,SiO2,FeOT,CaO,Al2O3\n,wt%,wt%,wt%,wt%\nA-1,34,54,5,6\nA-2,33,55,5,6\n",
		"samples.csv": "id,kind,note\nA-1,slag,from the field sheet\nA-2,slag,\n",
		"refs.json":   `[{"id": "vale2020", "title": "Bowls", "author": [{"family": "Vale"}], "issued": {"date-parts": [[2020]]}}]`,
	}
	maps.Copy(all, files)
	for name, data := range all {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	n, ns := notebook.Parse(assay.NotebookName, []byte(text))
	c, err := assay.Load(context.Background(), dir, n.Config, nil)
	if err != nil || ns.Failed() || c.Notices.Failed() {
		t.Fatal(err, ns, c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(n.Seed, n.Draws), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s, n
}

const indices = "\n```indices\ngroups: [fired, dug]\n```\n"

func TestReferencesInProse(t *testing.T) {
	doc, told := written(t, "bibliography: refs.json\n", "See {{ ref \"indices\" }}, {{ ref \"indices\" \"table\" }} and [@vale2020, p. 3].\n"+indices)
	html := string(doc.Blocks[0].(*page.Prose).HTML)
	for _, want := range []string{`<a class="ref" href="#figure-1">Entry 1, Figure 1</a>`, `<a class="ref" href="#table-1">Entry 1, Table 1</a>`,
		`(<a href="#ref-1">Vale 2020</a>, p. 3)`} {
		if !strings.Contains(html, want) {
			t.Errorf("no %s in %s (%s)", want, html, told)
		}
	}
	last := doc.Blocks[len(doc.Blocks)-1].(*page.Prose)
	if !strings.Contains(string(last.HTML), `<li id="ref-1">Vale 2020. <em>Bowls</em>.</li>`) || last.Headings[0].Text != "References" {
		t.Errorf("list of references: %+v", last)
	}
	if doc, _ := written(t, "bibliography: refs.json\n", indices); len(doc.Blocks) != 1 {
		t.Error("a list of references without citations")
	}
}

func TestWrongReferencesAreToldByLine(t *testing.T) {
	cites := "bibliography: refs.json\n"
	for _, tt := range []struct{ front, body, want string }{
		{cites, "[@vale2002]\n", `notebook.md, line 8: [@vale2002] cites a work that refs.json does not hold; did you mean "vale2020"?`},
		{"", "[@vale2020]\n", "line 7: [@vale2020] cites a work, but the notebook names no bibliography"},
		{"bibliography: none.json\n", "[@vale2020]\n", `notebook.md, line 6: the bibliography "none.json" cannot be read: there is no such file; there are: refs.json`},
		{"bibliography: ref.json\n", "[@vale2020]\n", `line 6: the bibliography "ref.json" cannot be read: there is no such file; did you mean "refs.json"?`},
		{"", "{{ ref \"indeces\" }}\n" + indices, `line 7: there is no entry "indeces" to refer to; did you mean "indices"?`},
		{"", "{{ ref \"indices\" }}\n" + indices + indices, "line 7: there are 2 entries `indices`; give the one that is meant a line such as id: indices-1"},
		{"", "{{ ref \"indices\" \"picture\" }}\n" + indices, `not "picture"`},
		{"", "{{ ref }}\n", "ref takes the kind or the id of an entry"},
		{"notes: {A-3: seen}\n", indices, `line 6: "notes" speaks of the sample "A-3"`},
	} {
		if _, told := written(t, tt.front, tt.body); !strings.Contains(told, tt.want) {
			t.Errorf("%q: %q, want %q", tt.body, told, tt.want)
		}
	}
	two := indices + "\n```indices\ngroups: [fired, dug]\nid: again\n```\n"
	if doc, told := written(t, "", "{{ ref \"again\" }}\n"+two); told != "" || !strings.Contains(string(doc.Blocks[0].(*page.Prose).HTML), "Entry 2, Figure 2") {
		t.Errorf("an entry by its id: %s", told)
	}
}

func TestNotesStandWithTheSample(t *testing.T) {
	doc, _ := written(t, "notes: {a-2: clay on one face}\n", indices+"\n```data\n```\n")
	var marked, pointed, listed bool
	for _, b := range doc.Blocks {
		e := b.(*page.Entry)
		for _, table := range tables(e) {
			for _, r := range table.Rows {
				if e.Kind == "indices" && r.Sample == "A-2" {
					marked = r.Cells[0].Text == "A-2*" && strings.Contains(strings.Join(table.Notes, "\n"), "* A-2: clay on one face.")
				}
				if e.Kind == "indices" && r.Sample == "A-1" {
					pointed = r.Cells[0].Text == "A-1" && strings.Contains(r.Cells[0].Note, "from the field sheet")
				}
				if e.Kind == "data" && r.Sample == "A-2" && r.Cells[len(r.Cells)-1].Text == "clay on one face" {
					listed = true
				}
			}
		}
	}
	if !marked || !pointed || !listed {
		t.Errorf("marked %t, pointed %t, listed %t", marked, pointed, listed)
	}
}
