package sheet

import (
	"bytes"
	"context"
	"encoding/xml"
	"io"
	"math"
	"strings"
	"testing"
)

// fuzzLimits keep single runs short.
var fuzzLimits = Limits{Rows: 500, Columns: 64, Cells: 5000}

// readPart reads a workbook of which one part is given, and asserts what holds
// of every book; nothing may come of a damaged part.
func readPart(t *testing.T, part, content string) *Book {
	t.Helper()
	sheetXML := sheetOpen + headingRow + sampleRow + sheetClose
	if part == "xl/worksheets/sheet1.xml" {
		sheetXML = content
	}
	b, err := readBytes(context.Background(), makeBook(t, sheetXML, map[string]string{part: content}), "f.xlsx", Options{Limits: fuzzLimits})
	if err != nil {
		t.Fatal(err)
	}
	checkBook(t, b)
	if !wellFormed(content) && len(b.Tables)+len(b.Records) > 0 {
		t.Fatal("a table from a damaged part")
	}
	return b
}

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
	f.Fuzz(func(t *testing.T, part string) { readPart(t, "xl/worksheets/sheet1.xml", part) })
}

func FuzzSharedTexts(f *testing.F) {
	for _, s := range []string{
		`<sst><si><t>Sample</t></si><si><t>SiO2 %</t></si><si><t>Cu %</t></si></sst>`,
		`<sst count="9"><si><r><t>Si</t></r><rPh sb="0"><t>x</t></rPh><r><t xml:space="preserve">O2 </t></r></si><si/><si><t>_x000D_&amp;&#10;</t></si></sst>`,
		`<sst><si><t><![CDATA[a<b]]></t></si></sst>`, `<sst><si><t>a</si></sst>`, `<sst>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, part string) { readPart(t, "xl/sharedStrings.xml", part) })
}

func FuzzStyles(f *testing.F) {
	for _, s := range []string{
		`<styleSheet><numFmts><numFmt numFmtId="170" formatCode="dd/mm/yyyy"/></numFmts><cellXfs><xf numFmtId="0"/><xf numFmtId="10"/><xf numFmtId="170"/></cellXfs></styleSheet>`,
		`<styleSheet><cellXfs><xf/><xf numFmtId="x"/></cellXfs><cellXfs/></styleSheet>`,
		`<styleSheet><numFmts><numFmt numFmtId="1" formatCode="[h]:mm;&quot;%&quot;@"/></numFmts></styleSheet>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, part string) { readPart(t, "xl/styles.xml", part) })
}

func FuzzWorkbookPart(f *testing.F) {
	for _, s := range []string{
		`<workbook xmlns:r="x"><workbookPr date1904="1"/><sheets><sheet name="Slag" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		`<workbook xmlns:r="x"><sheets><sheet name="a" state="veryHidden" r:id="rId1"/><sheet name="a" r:id="rId1"/></sheets></workbook>`,
		`<workbook><sheets><sheet name="" id="rId1"/></sheets></workbook>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, part string) { readPart(t, "xl/workbook.xml", part) })
}

func FuzzRelations(f *testing.F) {
	for _, s := range []string{
		`<Relationships><Relationship Id="rId1" Type="a/worksheet" Target="worksheets/sheet1.xml"/></Relationships>`,
		`<Relationships><Relationship Id="rId1" Type="a/worksheet" Target="/xl/worksheets/sheet1.xml"/><Relationship Id="rId2" Type="a/sharedStrings" Target="../xl/sharedStrings.xml"/></Relationships>`,
		`<Relationships><Relationship Id="rId1" Type="a/worksheet" Target="styles.xml"/><Relationship Id="rId3" Type="a/styles" Target="worksheets/sheet1.xml" TargetMode="External"/></Relationships>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, part string) { readPart(t, "xl/_rels/workbook.xml.rels", part) })
}

// FuzzXMLScan holds the scanner against the standard decoder: what the scanner
// accepts the decoder accepts too, with the same elements and the same text.
func FuzzXMLScan(f *testing.F) {
	for _, s := range []string{
		`<?xml version="1.0" encoding="UTF-8"?><a b="1" c='&lt;'>x<!-- y --><d/>&#x41;<![CDATA[<&]]></a>`,
		"\ufeff<a>\r\n<b:c xmlns:b='u' b:d=\"&amp;\"/>\r</a >", `<a b = "1"/>`, `<a>]]></a>`, `<a b="1" b="2"/>`, `<é/>`, `<a>&b;</a>`, `<a/><b/>`, `<a><!-- -- --></a>`,
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		x := newXMLScan(&pieces{data: []byte(s)})
		got := ""
		for {
			tok, err := x.next()
			if err == io.EOF {
				break
			}
			if err != nil {
				return
			}
			switch tok {
			case xmlStart:
				got += "<" + string(x.name)
				for _, a := range x.attrs {
					got += " " + string(localName(a.name)) + "=" + string(a.value)
				}
				got += ">"
			case xmlEnd:
				got += "</" + string(x.name) + ">"
			case xmlText:
				got += string(x.text)
			}
		}
		want := ""
		depth := 0
		d := xml.NewDecoder(strings.NewReader(s))
		for {
			tok, err := d.RawToken()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%q was accepted, but: %v", s, err)
			}
			switch tok := tok.(type) {
			case xml.Directive:
				t.Fatalf("%q holds a directive", s)
			case xml.StartElement:
				depth++
				want += "<" + tok.Name.Local
				for _, a := range tok.Attr {
					want += " " + a.Name.Local + "=" + a.Value
				}
				want += ">"
			case xml.EndElement:
				depth--
				want += "</" + tok.Name.Local + ">"
			case xml.CharData:
				if depth > 0 {
					want += string(tok)
				}
			}
		}
		if got != want {
			t.Fatalf("%q reads %q, want %q", s, got, want)
		}
	})
}

// pieces hands out a text in pieces of a few bytes, so that tokens fall across
// the ends of the buffer.
type pieces struct {
	data []byte
	n    int
}

func (p *pieces) Read(b []byte) (int, error) {
	if len(p.data) == 0 {
		return 0, io.EOF
	}
	p.n = p.n%5 + 1
	n := copy(b[:min(p.n, len(b))], p.data)
	p.data = p.data[n:]
	return n, nil
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

// FuzzArchive damages a whole workbook.
func FuzzArchive(f *testing.F) {
	whole := makeBook(f, sheetOpen+headingRow+sampleRow+sheetClose, nil)
	f.Add(whole)
	f.Add(whole[:len(whole)/2])
	f.Add(bytes.Replace(whole, []byte("xl/styles.xml"), []byte("XL/styles.xml"), 1))
	f.Fuzz(func(t *testing.T, data []byte) {
		b, err := readBytes(context.Background(), data, "f.xlsx", Options{Limits: fuzzLimits})
		if err != nil {
			t.Fatal(err)
		}
		checkBook(t, b)
	})
}

func FuzzUnit(f *testing.F) {
	for _, s := range []string{"wt.%", "(ppm)", "% (m/m)", "µg g⁻¹", "Oxides in wt%, trace elements in ppm.", "Slag (wt%)", "all in % m/m", "g/t", "oz/t", "unit: ‰", "in (", "()"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if u, ok := parseUnit(s); ok && (u.name == "" || (u.refuse == "") != (u.factor > 0)) {
			t.Fatalf("%q is the unit %+v", s, u)
		}
		for about, u := range statedUnits(s, true) {
			if u.refuse != "" || u.factor <= 0 {
				t.Fatalf("%q states %+v for %q", s, u, about)
			}
		}
	})
}

func FuzzNumberFormat(f *testing.F) {
	for _, s := range []string{"0.00%", "dd/mm/yyyy", `0.0" mg"`, "[Red]0.0", "[h]:mm", `\`, `"`, "[", "General", "_-* #,##0.00_-;"} {
		f.Add(s, 45365.5)
	}
	f.Fuzz(func(t *testing.T, code string, serial float64) {
		if got := classifyFormat(code); got > formatDate {
			t.Fatalf("%q is %d", code, got)
		}
		if !math.IsNaN(serial) && !math.IsInf(serial, 0) && isoDate(serial, true) == "" {
			t.Fatalf("%v is no date and no number", serial)
		}
	})
}
