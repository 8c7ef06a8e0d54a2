package report

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"slices"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/report/cite"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// placed is an entry of the notebook with what became of it.
type placed struct {
	asked *notebook.Entry
	entry *page.Entry
}

// refTo resolves a reference in the prose to another entry.
func (b *builder) refTo(entries []placed) func(notebook.Call) (string, string, source.Notices) {
	return func(c notebook.Call) (text, href string, ns source.Notices) {
		fail := func(format string, args ...any) (string, string, source.Notices) {
			ns.Add(source.Error, "REF", source.Line(b.file, c.Line), format, args...)
			return "", "", ns
		}
		if len(c.Args) == 0 || len(c.Args) > 2 {
			return fail(`ref takes the kind or the id of an entry, and what of it: write {{ ref "ternary" }} or {{ ref "ternary" "table" }}`)
		}
		var names []string
		var found []placed
		for _, p := range entries {
			names = append(names, nonEmpty(p.asked.Kind, p.asked.ID)...)
			if p.asked.ID == c.Args[0] {
				found = []placed{p}
				break
			}
			if p.asked.Kind == c.Args[0] {
				found = append(found, p)
			}
		}
		slices.Sort(names)
		switch {
		case len(found) == 0:
			return fail("there is no entry %q to refer to%s", c.Args[0], source.DidYouMean(c.Args[0], slices.Compact(names)))
		case len(found) > 1:
			return fail("there are %d entries `%s`; give the one that is meant a line such as id: %s-1 and refer to that", len(found), c.Args[0], c.Args[0])
		}
		what := ""
		if len(c.Args) == 2 {
			what = c.Args[1]
		}
		return b.partOf(found[0].entry, what, fail)
	}
}

// partOf names the first figure of an entry, or its first table where it has no
// figure, or what is wanted of it.
func (b *builder) partOf(e *page.Entry, what string, fail func(string, ...any) (string, string, source.Notices)) (text, href string, ns source.Notices) {
	text, href = fmt.Sprintf("Entry %d", e.Number), "#"+e.ID
	var figure, table, photos string
	var figureAt, tableAt, photosAt string
	for _, part := range e.Parts {
		switch p := part.(type) {
		case *page.Figure:
			if figure == "" {
				figure, figureAt = fmt.Sprintf(", Figure %d", p.Number), "#"+p.ID
			}
		case *page.Photographs:
			if photos == "" {
				photos, photosAt = fmt.Sprintf(", Figure %d", p.Number), "#"+p.ID
			}
		case *page.Table:
			if table == "" {
				table, tableAt = fmt.Sprintf(", Table %d", p.Number), "#"+p.ID
			}
		case *page.Spread:
			if table == "" {
				table, tableAt = fmt.Sprintf(", Table %d", p.Number), "#"+p.ID
			}
		}
	}
	switch {
	case what == "entry", what == "" && figure == "" && table == "":
		return text, href, nil
	case what == "figure" && figure != "", what == "" && figure != "":
		return text + figure, figureAt, nil
	case what == "table" && table != "", what == "":
		return text + table, tableAt, nil
	case what == "photographs" && photos != "":
		return text + photos, photosAt, nil
	case what == "figure" || what == "table" || what == "photographs":
		return fail("the entry `%s` has no %s", e.Kind, what)
	}
	return fail("of an entry there is \"entry\", \"figure\", \"table\" and \"photographs\", not %q", what)
}

// largestBibliography is the most bytes of a bibliography that are read.
const largestBibliography = 16 << 20

// references reads the bibliography and returns what the prose cites of it, and
// what the methods cite, with the key that each of their works goes by.
func (b *builder) references(files fs.FS, methods []string) (cite.References, map[string]string) {
	library, keys := b.bibliography(files)
	joined, as := library.With(b.methodWorks())
	for _, key := range methods {
		keys = append(keys, as[key])
	}
	return joined.Cited(keys), as
}

// bibliography reads the notebook's bibliography and lists what the prose cites.
func (b *builder) bibliography(files fs.FS) (library cite.Library, keys []string) {
	library, ns := ReadBibliography(files, b.notebook)
	b.notices = append(b.notices, ns...)
	for _, c := range b.notebook.Citations() {
		keys = append(keys, c.Key)
	}
	return library, keys
}

// ReadBibliography reads the bibliography that a notebook names and tells what is
// wrong with it, and which works the prose cites that are not there.
func ReadBibliography(files fs.FS, n *notebook.Notebook) (library cite.Library, ns source.Notices) {
	cited := n.Citations()
	name := n.Bibliography
	if name == "" {
		if len(cited) > 0 {
			ns.Add(source.Error, "NO_BIBLIOGRAPHY", source.Line(n.File, cited[0].Line),
				"[@%s] cites a work, but the notebook names no bibliography; add to its first lines bibliography: refs.json, a file in CSL-JSON as reference managers export it", cited[0].Key)
		}
		return cite.Library{}, ns
	}
	data, err := readBibliography(files, name)
	if err != nil {
		hint := "; put it beside the notebook"
		if meant := source.DidYouMean(name, jsonBelow(files)); meant != "" {
			hint = meant
		}
		ns.Add(source.Error, "MISSING_FILE", source.Line(n.File, n.BibliographyLine), "the bibliography %q cannot be read: %v%s", name, err, hint)
		return cite.Library{}, ns
	}
	library, ns = cite.Read(name, data)
	failed := ns.Failed()
	for _, c := range cited {
		if _, ok := library.Work(c.Key); !ok && !failed {
			ns.Add(source.Error, "UNKNOWN_WORK", source.Line(n.File, c.Line), "[@%s] cites a work that %s does not hold%s", c.Key, name, source.DidYouMean(c.Key, library.Keys()))
		}
	}
	return library, ns
}

// jsonBelow lists the files that may be a bibliography, hidden ones left aside.
func jsonBelow(files fs.FS) []string {
	var names []string
	err := fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		switch hidden := name != "." && strings.HasPrefix(d.Name(), "."); {
		case err != nil, d.IsDir() && hidden:
			return fs.SkipDir
		case !d.IsDir() && !hidden && strings.EqualFold(path.Ext(name), ".json"):
			names = append(names, name)
		}
		return nil
	})
	if err != nil {
		return nil
	}
	return names
}

func readBibliography(files fs.FS, name string) ([]byte, error) {
	f, err := files.Open(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no such file")
	case err != nil:
		return nil, fmt.Errorf("it cannot be opened")
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, largestBibliography+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("it is no ordinary file")
	case len(data) > largestBibliography:
		return nil, fmt.Errorf("it is larger than %d MB", largestBibliography>>20)
	}
	return data, nil
}

// citing gives the prose the names of works.
func citing(r cite.References) func(notebook.Citation) (string, string, source.Notices) {
	return func(c notebook.Citation) (string, string, source.Notices) {
		short, id, ok := r.Short(c.Key)
		if !ok {
			return "", "", nil // told when the bibliography was read
		}
		return short, "#" + id, nil
	}
}

// referenceList is the list at the end of the report.
func referenceList(r cite.References) *page.Prose {
	const id = "references"
	return &page.Prose{HTML: `<h2 id="` + id + `">References</h2>` + "\n" + r.HTML(),
		Headings: []page.Heading{{Level: 2, ID: id, Text: "References"}}}
}
