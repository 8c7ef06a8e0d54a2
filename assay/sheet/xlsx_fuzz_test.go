package sheet

import (
	"context"
	"encoding/xml"
	"io"
	"strings"
	"testing"
)

func FuzzSheetPart(f *testing.F) {
	for _, s := range []string{
		sheetOpen + headingRow + sampleRow + sheetClose,
		sheetOpen + headingRow + `<row r="2"><c r="B2"><f>A1</f><v></v></c></row>` + sheetClose,
		sheetOpen + `<row><c t="inlineStr"><is><r><t>Si</t></r></is></c></row></sheetData><mergeCells><mergeCell ref="A1:C9"/></mergeCells></worksheet>`,
		`<worksheet><cols><col min="1" max="3" hidden="1"/></cols><sheetData><row r="1" hidden="1"/></sheetData></worksheet>`,
		`<worksheet><sheetData><rows><c r="A1"><v>1</v></c></rows></sheetData></worksheet>`,
		`<!DOCTYPE a><worksheet/>`, `<worksheet>`, "",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, part string) {
		b, err := readBytes(context.Background(), makeBook(t, part, nil), "f.xlsx", Options{Limits: Limits{Rows: 500, Columns: 64, Cells: 5000}})
		if err != nil {
			t.Fatal(err)
		}
		checkBook(t, b)
		if !wellFormed(part) && len(b.Tables)+len(b.Records) > 0 {
			t.Fatal("a table from a damaged sheet")
		}
	})
}

// wellFormed asks the standard decoder, by its slower path that also resolves
// name spaces.
func wellFormed(s string) bool {
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		tok, err := d.Token()
		if err == io.EOF {
			return true
		}
		if err != nil {
			return false
		}
		if _, directive := tok.(xml.Directive); directive {
			return false
		}
	}
}
