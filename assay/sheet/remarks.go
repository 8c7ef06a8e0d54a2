package sheet

import (
	"encoding/xml"
	"maps"
	"slices"
	"strings"

	"smeltbook/assay/source"
)

// mostRemarks is the most comments of a sheet that are told one by one.
const mostRemarks = 20

// remark is a comment that a spreadsheet program hangs on a cell.
type remark struct{ ref, text string }

// remarks reads the comments of a sheet, in the order of the file.
func (a *archive) remarks(p sheetPart) ([]remark, *refusal) {
	rels, bad := a.relations(partName(p.file))
	if bad != nil {
		return nil, bad
	}
	var out []remark
	for _, id := range slices.Sorted(maps.Keys(rels)) {
		f := a.parts[rels[id].target]
		if f == nil || !strings.HasSuffix(rels[id].kind, "/comments") {
			continue
		}
		inText := false
		bad := a.walk(f, func(tok xml.Token, _ int) {
			switch t := tok.(type) {
			case xml.StartElement:
				inText = t.Name.Local == "t"
				if t.Name.Local == "comment" {
					out = append(out, remark{ref: attr(t, "ref")})
				}
			case xml.EndElement:
				inText = false
			case xml.CharData:
				if n := len(out); inText && n > 0 {
					out[n-1].text += string(t)
				}
			}
		})
		if bad != nil {
			return nil, bad
		}
	}
	return out, nil
}

// tellRemarks notes the comments of a sheet: they may say why a number is not to
// be trusted, and nobody sees them in a table of results.
func (r *reader) tellRemarks(sheet string, all []remark) {
	for i, m := range all {
		if i == mostRemarks {
			r.note(source.Note, "CELL_COMMENT", r.cellAt(sheet, ""), "%d more cells bear comments of the spreadsheet", len(all)-i)
			return
		}
		text, _ := foldSpaces(m.text)
		if strings.HasPrefix(text, "[Threaded comment]") { // words for older programs stand before it
			if _, own, ok := strings.Cut(text, "Comment: "); ok {
				text = own
			}
		}
		if text != "" {
			r.note(source.Note, "CELL_COMMENT", r.cellAt(sheet, m.ref), "a comment hangs on this cell: %q; where it matters, say so under `notes:` in the notebook", clip(text))
		}
	}
}
