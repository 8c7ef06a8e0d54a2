package sheet

import (
	"archive/zip"
	"encoding/xml"
	"io"
	"maps"
	"path"
	"slices"
	"strings"
)

// workbookParts is the plan of a workbook: which part holds which sheet.
type workbookParts struct {
	sheets      []sheetPart
	sharedTexts []string
	formats     []format // by cell style
	date1904    bool
}

type sheetPart struct {
	name   string
	file   *zip.File
	hidden bool
}

// archive gives access to the parts of a workbook by name.
type archive struct {
	parts  map[string]*zip.File
	budget *budget
	limits Limits
	output bool // whether the workbook bears the mark of outputs
}

// newArchive indexes the parts. Two parts of one name are refused: readers
// differ in which of them they take.
func newArchive(z *zip.Reader, limits Limits) (*archive, *refusal) {
	a := &archive{parts: map[string]*zip.File{}, budget: &budget{left: limits.UnpackedBytes}, limits: limits}
	seen := map[string]bool{}
	for _, f := range z.File {
		name := partName(f)
		key := strings.ToLower(name)
		if seen[key] {
			return nil, refuse(codeMalformed, "the workbook holds the part %s twice; nothing was read; open it and save it again", clip(f.Name))
		}
		seen[key] = true
		a.parts[name] = f
	}
	return a, nil
}

// walk reads an XML part to its end and hands every start and end element and
// text to visit, which may be nil.
func (a *archive) walk(f *zip.File, visit func(tok xml.Token, depth int)) *refusal {
	r, err := a.budget.open(f)
	if err != nil {
		return refuse(codeMalformed, "the workbook is damaged (%s: %v); nothing was read; ask for the file again", clip(f.Name), plainZipError(err))
	}
	defer r.Close()
	x := newXMLReader(r)
	for {
		tok, err := x.next()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return refuseXML(err, f.Name, "", a.limits)
		}
		if visit != nil {
			visit(tok, x.depth())
		}
	}
}

// scan reads one sheet part.
func (a *archive) scan(p sheetPart, plan *workbookParts, most scanLimits) (*sheetScan, *refusal) {
	r, err := a.budget.open(p.file)
	if err != nil {
		bad := refuse(codeMalformed, "the sheet is damaged (%v); nothing was read; ask for the file again", plainZipError(err))
		bad.sheet = p.name
		return nil, bad
	}
	defer r.Close()
	s, err := scanSheet(r, plan, most)
	if err != nil {
		return nil, refuseXML(err, p.file.Name, p.name, a.limits)
	}
	return s, nil
}

// texts reads the shared texts.
func (a *archive) texts(f *zip.File) ([]string, *refusal) {
	r, err := a.budget.open(f)
	if err != nil {
		return nil, refuse(codeMalformed, "the workbook is damaged (%s: %v); nothing was read; ask for the file again", clip(f.Name), plainZipError(err))
	}
	defer r.Close()
	out, err := scanTexts(r, scanLimits{a.limits.Cells, a.limits.textBytes()})
	if err != nil {
		return nil, refuseXML(err, f.Name, "", a.limits)
	}
	return out, nil
}

// plan checks every XML part but the sheets and finds out what is where.
func (a *archive) plan() (*workbookParts, *refusal) {
	w := &workbookParts{}
	book, bad := a.mainPart()
	if bad != nil {
		return nil, bad
	}
	type entry struct{ name, id, state string }
	var entries []entry
	bad = a.walk(book, func(tok xml.Token, _ int) {
		t, ok := tok.(xml.StartElement)
		switch {
		case !ok:
		case t.Name.Local == "sheet":
			entries = append(entries, entry{attr(t, "name"), relationID(t), attr(t, "state")})
		case t.Name.Local == "workbookPr":
			w.date1904 = isTrue(attr(t, "date1904"))
		}
	})
	if bad != nil {
		return nil, bad
	}
	rels, bad := a.relations(book.Name)
	if bad != nil {
		return nil, bad
	}
	done := map[*zip.File]bool{book: true}
	for _, e := range entries {
		rel := rels[e.id]
		if !strings.HasSuffix(rel.kind, "/worksheet") {
			continue // a chart or dialogue sheet
		}
		f := a.parts[rel.target]
		if f == nil || e.name == "" || done[f] {
			return nil, refuse(codeMalformed, "the workbook is damaged (sheet %q has no content); nothing was read; ask for the file again", clip(e.name))
		}
		done[f] = true
		w.sheets = append(w.sheets, sheetPart{e.name, f, e.state == "hidden" || e.state == "veryHidden"})
	}
	for _, id := range slices.Sorted(maps.Keys(rels)) {
		rel := rels[id]
		f := a.parts[rel.target]
		if f == nil || done[f] {
			continue
		}
		switch {
		case strings.HasSuffix(rel.kind, "/sharedStrings"):
			done[f] = true
			w.sharedTexts, bad = a.texts(f)
		case strings.HasSuffix(rel.kind, "/styles"):
			done[f] = true
			w.formats, bad = a.styles(f)
		}
		if bad != nil {
			return nil, bad
		}
	}
	return w, a.checkRest(done)
}

// checkRest reads the parts that the tables do not need, so that a custom
// entity or damage anywhere is noticed.
func (a *archive) checkRest(done map[*zip.File]bool) *refusal {
	for _, name := range slices.Sorted(maps.Keys(a.parts)) {
		f := a.parts[name]
		if done[f] || !isXML(name) || strings.HasPrefix(name, "xl/worksheets/sheet") {
			continue
		}
		var visit func(xml.Token, int)
		if name == propertiesPart {
			visit = a.lookForMark()
		}
		if bad := a.walk(f, visit); bad != nil {
			return bad
		}
	}
	return nil
}

// mainPart finds the workbook part.
func (a *archive) mainPart() (*zip.File, *refusal) {
	rels, bad := a.relations("")
	if bad != nil {
		return nil, bad
	}
	for _, id := range slices.Sorted(maps.Keys(rels)) {
		rel := rels[id]
		if strings.HasSuffix(rel.kind, "/officeDocument") {
			if f := a.parts[rel.target]; f != nil && strings.HasSuffix(rel.target, ".xml") && strings.HasPrefix(rel.target, "xl/") {
				return f, nil
			}
		}
	}
	if f := a.parts["xl/workbook.xml"]; f != nil {
		return f, nil
	}
	if a.parts["xl/workbook.bin"] != nil {
		return nil, refuse(codeForm, "this is a binary workbook (.xlsb); save it as .xlsx or .csv")
	}
	return nil, refuse(codeForm, "this archive holds no workbook; save the spreadsheet as .xlsx or .csv")
}

type relation struct{ kind, target string }

// relations reads the relations of a part; "" stands for the whole package.
func (a *archive) relations(part string) (map[string]relation, *refusal) {
	f := a.parts[path.Join(path.Dir(part), "_rels", path.Base(part)+".rels")]
	if part == "" {
		f = a.parts["_rels/.rels"]
	}
	rels := map[string]relation{}
	if f == nil {
		return rels, nil
	}
	bad := a.walk(f, func(tok xml.Token, _ int) {
		t, ok := tok.(xml.StartElement)
		if !ok || t.Name.Local != "Relationship" || attr(t, "TargetMode") == "External" {
			return
		}
		target := attr(t, "Target")
		if !strings.HasPrefix(target, "/") {
			target = path.Join(path.Dir(part), target)
		}
		rels[attr(t, "Id")] = relation{attr(t, "Type"), strings.TrimPrefix(path.Clean(target), "/")}
	})
	return rels, bad
}

func relationID(t xml.StartElement) string {
	for _, a := range t.Attr {
		if a.Name.Local == "id" && a.Name.Space != "" {
			return a.Value
		}
	}
	return ""
}
