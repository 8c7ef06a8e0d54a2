package sheet

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

// makeBook packs one sheet part, and other parts by name, into a workbook.
func makeBook(t testing.TB, sheetXML string, parts map[string]string) []byte {
	t.Helper()
	all := map[string]string{
		"[Content_Types].xml": `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>`,
		"_rels/.rels":         `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":     `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Slag" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/><Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		"xl/styles.xml":            `<?xml version="1.0"?><styleSheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><numFmts count="1"><numFmt numFmtId="170" formatCode="dd/mm/yyyy"/></numFmts><cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="10"/><xf numFmtId="170"/></cellXfs></styleSheet>`,
		"xl/sharedStrings.xml":     `<?xml version="1.0"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>Sample</t></si><si><r><t>SiO</t></r><r><t>2</t></r><r><t xml:space="preserve"> %</t></r></si><si><t>Cu %</t></si></sst>`,
		"xl/worksheets/sheet1.xml": sheetXML,
	}
	for name, content := range parts {
		all[name] = content
	}
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	order := []string{"[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", "xl/sharedStrings.xml", "xl/worksheets/sheet1.xml"}
	for _, name := range slices.Sorted(maps.Keys(all)) {
		if !slices.Contains(order, name) {
			order = append(order, name)
		}
	}
	for _, name := range order {
		if all[name] == leaveOut {
			continue
		}
		f, err := w.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := f.Write([]byte(all[name])); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

const (
	sheetOpen  = `<?xml version="1.0"?><worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`
	sheetClose = `</sheetData></worksheet>`
	headingRow = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>2</v></c></row>`
	sampleRow  = `<row r="2"><c r="A2" t="inlineStr"><is><t>KR-1</t></is></c><c r="B2"><v>31.2</v></c><c r="C2"><v>0.9</v></c></row>`
)

// leaveOut as the content of a part leaves it out of the workbook.
const leaveOut = "-"

func readBook(t testing.TB, data []byte, opt Options) *Book {
	t.Helper()
	b, err := readBytes(context.Background(), data, "lab/book.xlsx", opt)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func TestWorkbook(t *testing.T) {
	cell := func(ref, attr, in string) string { return fmt.Sprintf(`<c r="%s"%s>%s</c>`, ref, attr, in) }
	row := func(r int, cells ...string) string {
		return fmt.Sprintf(`<row r="%d">%s</row>`, r, strings.Join(cells, ""))
	}
	for name, c := range map[string]struct {
		rows, tail string
		want       string // describeBook of the first row, or code of the refusal
		codes      []string
	}{
		"plain":              {rows: headingRow + sampleRow, want: "KR-1 [sample]: SiO2=31.2 Cu=0.9"},
		"no references":      {rows: `<row><c t="s"><v>0</v></c><c t="s"><v>1</v></c><c t="s"><v>2</v></c></row><row><c t="inlineStr"><is><t>KR-1</t></is></c><c><v>31.2</v></c><c><v>0.9</v></c></row>`, want: "KR-1 [sample]: SiO2=31.2 Cu=0.9"},
		"percent format":     {rows: headingRow + row(2, cell("A2", ` t="inlineStr"`, `<is><t>KR-1</t></is>`), cell("B2", ` s="1"`, `<v>0.312</v>`), cell("C2", "", `<v>0.9</v>`)), want: "KR-1 [sample]: SiO2=31.2 Cu=0.9", codes: []string{"PERCENT_FORMAT"}},
		"number as name":     {rows: headingRow + row(2, cell("A2", "", `<v>12</v>`), cell("B2", "", `<v>3.12E1</v>`), cell("C2", "", `<v>9.0000000000000002E-1</v>`)), want: "12 [sample]: SiO2=31.2 Cu=0.9", codes: []string{"NUMERIC_NAME"}},
		"formula text":       {rows: headingRow + row(2, cell("A2", ` t="str"`, `<f>"KR-"&amp;1</f><v>KR-1</v>`), cell("B2", "", `<f>A1</f>`), cell("C2", ` t="e"`, `<v>#DIV/0!</v>`)), want: "KR-1 [sample]: SiO2:missing Cu:error", codes: []string{"FORMULA_NO_VALUE", "CELL_ERROR"}},
		"stray cells":        {rows: headingRow + sampleRow + row(1048576, cell("XFD1048576", "", `<v>7</v>`)), want: "KR-1 [sample]: SiO2=31.2 Cu=0.9", codes: []string{"STRAY_CELLS"}},
		"stray column":       {rows: headingRow + row(2, cell("A2", ` t="inlineStr"`, `<is><t>KR-1</t></is>`), cell("B2", "", `<v>31.2</v>`), cell("C2", "", `<v>0.9</v>`), cell("XFD2", "", `<v>7</v>`)), want: "KR-1 [sample]: SiO2=31.2 Cu=0.9", codes: []string{"STRAY_CELLS"}},
		"true for a number":  {rows: headingRow + row(2, cell("A2", ` t="inlineStr"`, `<is><t>KR-1</t></is>`), cell("B2", ` t="b"`, `<v>1</v>`), cell("C2", "", `<v>0.9</v>`)), want: "KR-1 [sample]: SiO2:error Cu=0.9", codes: []string{"CELL_ERROR"}},
		"infinite number":    {rows: headingRow + row(2, cell("A2", ` t="inlineStr"`, `<is><t>KR-1</t></is>`), cell("B2", "", `<v>1e999</v>`), cell("C2", "", `<v>NaN</v>`)), want: "KR-1 [sample]: SiO2:error Cu:error", codes: []string{"CELL_ERROR"}},
		"row out of order":   {rows: headingRow + row(3) + sampleRow, want: codeMalformed},
		"row twice":          {rows: headingRow + sampleRow + sampleRow, want: codeMalformed},
		"cells out of order": {rows: headingRow + row(2, cell("C2", "", `<v>3</v>`), cell("A2", "", `<v>1</v>`)), want: codeMalformed},
		"cell twice":         {rows: headingRow + row(2, cell("B2", "", `<v>3</v>`), cell("B2", "", `<v>1</v>`)), want: codeMalformed},
		"cell of other row":  {rows: headingRow + row(2, cell("B7", "", `<v>3</v>`)), want: codeMalformed},
		"bad reference":      {rows: headingRow + row(2, cell("2B", "", `<v>3</v>`)), want: codeMalformed},
		"row number zero":    {rows: headingRow + row(0, cell("B0", "", `<v>3</v>`)), want: codeMalformed},
		"beyond the sheet":   {rows: headingRow + row(2, cell("XFE2", "", `<v>3</v>`)), want: codeMalformed},
		"text that is none":  {rows: headingRow + row(2, cell("B2", ` t="s"`, `<v>99</v>`)), want: codeMalformed},
		"negative text":      {rows: headingRow + row(2, cell("B2", ` t="s"`, `<v>-1</v>`)), want: codeMalformed},
		"unknown type":       {rows: headingRow + row(2, cell("B2", ` t="zz"`, `<v>1</v>`)), want: codeMalformed},
		"cut off":            {rows: headingRow + sampleRow + `<row r="3"><c r="A3"><v>1`, tail: " ", want: codeMalformed},
		"not nested":         {rows: headingRow + sampleRow + `<row r="3"></c></row>`, want: codeMalformed},
		"second root":        {rows: headingRow + sampleRow, tail: sheetClose + `<worksheet></worksheet>`, want: codeMalformed},
		"unknown entity":     {rows: headingRow + row(2, cell("A2", ` t="inlineStr"`, `<is><t>&lab;</t></is>`)), want: codeEntity},
	} {
		t.Run(name, func(t *testing.T) {
			tail := c.tail
			if tail == "" {
				tail = sheetClose
			}
			b := readBook(t, makeBook(t, sheetOpen+c.rows+tail, nil), Options{})
			if strings.HasPrefix(c.want, "E_") {
				if len(b.Tables)+len(b.Records) > 0 || len(b.Notices) != 1 || b.Notices[0].Code != c.want {
					t.Fatalf("%d tables, notices %v; want only %s", len(b.Tables), b.Notices, c.want)
				}
				return
			}
			if got := describeBook(b); !strings.Contains(got, "  "+c.want+"\n") {
				t.Errorf("got\n%swant a row %q", got, c.want)
			}
			for _, code := range c.codes {
				if !hasCode(b, code) {
					t.Errorf("%s was not raised: %v", code, b.Notices)
				}
			}
		})
	}
}

func hasCode(b *Book, code string) bool {
	for _, n := range b.Notices {
		if n.Code == code {
			return true
		}
	}
	return false
}

// TestDoctypeAnywhere refuses a document type declaration in any part, not
// only in the sheets.
func TestDoctypeAnywhere(t *testing.T) {
	for _, part := range []string{"[Content_Types].xml", "_rels/.rels", "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml", "xl/sharedStrings.xml", "xl/worksheets/sheet1.xml"} {
		b := readBook(t, makeBook(t, sheetOpen+headingRow+sampleRow+sheetClose, map[string]string{part: `<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "c">]><a>&b;</a>`}), Options{})
		if len(b.Tables) > 0 || !hasCode(b, codeEntity) {
			t.Errorf("%s: %v", part, b.Notices)
		}
	}
}

// TestDate1904 reads a date in the 1904 system, which counts 1462 days less.
func TestDate1904(t *testing.T) {
	// 45365 in the 1900 system is 14 March 2024 (common practice; the hard
	// sheet with dates states the same).
	for serial, want := range map[float64]string{45365: "2024-03-14", 45365.5: "2024-03-14 12:00", 1: "1900-01-01", 61: "1900-03-01"} {
		if got := isoDate(serial, false); got != want {
			t.Errorf("isoDate(%v) = %s, want %s", serial, got, want)
		}
	}
	if got := isoDate(45365-1462, true); got != "2024-03-14" {
		t.Errorf("1904 system: %s", got)
	}
}

func TestFormats(t *testing.T) {
	for code, want := range map[string]format{
		"General": formatPlain, "0.00": formatPlain, "#,##0.0": formatPlain, "0.00%": formatPercent, "0%;[Red]-0%": formatPercent,
		"dd/mm/yyyy": formatDate, "mmm-yy": formatDate, "[h]:mm": formatDate, `0.0" mg"`: formatPlain, `0.0\d`: formatPlain, "[Red]0.0": formatPlain,
		"0.00E+00": formatPlain, `[$-409]d-mmm;@`: formatDate, "@": formatPlain, `0" %"`: formatPlain, "hh:mm": formatDate,
	} {
		if got := classifyFormat(code); got != want {
			t.Errorf("classifyFormat(%q) = %d, want %d", code, got, want)
		}
	}
}

// TestLimits keeps a file from asking more of the machine than allowed.
func TestLimits(t *testing.T) {
	data := makeBook(t, sheetOpen+headingRow+sampleRow+sheetClose, nil)
	for name, l := range map[string]Limits{
		"unpacked": {UnpackedBytes: 500}, "entries": {Entries: 2}, "rows": {Rows: 1}, "columns": {Columns: 2}, "cells": {Cells: 5},
	} {
		b := readBook(t, data, Options{Limits: l})
		if len(b.Tables) > 0 || !hasCode(b, codeTooLarge) {
			t.Errorf("%s: %v", name, b.Notices)
		}
	}
}

// TestLyingSize counts bytes while unpacking: a declared size that is too
// small does not pass.
func TestLyingSize(t *testing.T) {
	data := makeBook(t, sheetOpen+headingRow+strings.Repeat(" ", 1<<20)+sheetClose, nil)
	// The sizes stand in the directory at the end of the archive.
	at := bytes.LastIndex(data, []byte("xl/worksheets/sheet1.xml")) - 46
	copy(data[at+24:at+28], []byte{10, 0, 0, 0})
	b := readBook(t, data, Options{})
	if len(b.Tables) > 0 || !b.Notices.Failed() {
		t.Errorf("%v", b.Notices)
	}
}

// TestPartTwice: readers differ in which of two parts of one name they take.
func TestPartTwice(t *testing.T) {
	old := makeBook(t, sheetOpen+headingRow+sampleRow+sheetClose, nil)
	z, err := zip.NewReader(bytes.NewReader(old), int64(len(old)))
	if err != nil {
		t.Fatal(err)
	}
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	for _, f := range append(z.File, z.File[len(z.File)-1]) {
		if err := w.Copy(f); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	b := readBook(t, buf.Bytes(), Options{})
	if len(b.Tables) > 0 || !hasCode(b, codeMalformed) {
		t.Errorf("%v", b.Notices)
	}
}

func TestNotASpreadsheet(t *testing.T) {
	for name, c := range map[string]struct{ data, code, word string }{
		"web page": {"<html><body><table><tr><td>SiO2</td></tr></table>", codeForm, "web page"},
		"xml":      {`<?xml version="1.0"?><Workbook/>`, codeForm, "XML"},
		"pdf":      {"%PDF-1.7", codeForm, "PDF"},
		"empty":    {" \n", codeEmpty, "empty"},
		"binary":   {"ab\x00\x01\x00cd\x02ef", codeForm, "binary"},
		"zip end":  {"PK\x03\x04garbage", codeMalformed, "damaged"},
		"picture":  {"\x89PNG\r\n", codeForm, "picture"},
		"locked":   {"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + string(utf16Text("EncryptedPackage")), codeEncrypted, "password"},
	} {
		b := readBook(t, []byte(c.data), Options{})
		if len(b.Tables)+len(b.Records) > 0 || len(b.Notices) != 1 || b.Notices[0].Code != c.code || !strings.Contains(b.Notices[0].Message, c.word) || b.Notices[0].Severity != source.Error {
			t.Errorf("%s: %v", name, b.Notices)
		}
	}
}

// TestOpenDocument names the form found and what to do.
func TestOpenDocument(t *testing.T) {
	var buf bytes.Buffer
	w := zip.NewWriter(&buf)
	f, err := w.Create("mimetype")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := f.Write([]byte("application/vnd.oasis.opendocument.spreadsheet")); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	b := readBook(t, buf.Bytes(), Options{})
	if !hasCode(b, codeForm) || !strings.Contains(b.Notices[0].Message, "OpenDocument") {
		t.Errorf("%v", b.Notices)
	}
}

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if b, err := Read(ctx, "whatever.csv", "", Options{}); err == nil || b != nil {
		t.Errorf("Read after cancel = %v, %v", b, err)
	}
	if _, err := readBytes(ctx, makeBook(t, sheetOpen+headingRow+sampleRow+sheetClose, nil), "b.xlsx", Options{}); err == nil {
		t.Error("no error after cancel")
	}
}

// TestOtherWriters reads the same table as other programs write it.
func TestOtherWriters(t *testing.T) {
	plain := sheetOpen + headingRow + sampleRow + sheetClose
	prefixed := strings.NewReplacer("</", "</x:", "<?", "<?", "<", "<x:", "xmlns=", "xmlns:x=").Replace
	texts := `<?xml version="1.0"?><sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>Sample</t></si><si><t>SiO2 %</t></si><si><t>Cu %</t></si></sst>`
	rels := func(shared string) string {
		return `<?xml version="1.0"?><Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="` + shared + `"/></Relationships>`
	}
	strict := strings.NewReplacer("http://schemas.openxmlformats.org/spreadsheetml/2006/main", "http://purl.oclc.org/ooxml/spreadsheetml/main", "http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships").Replace
	for name, c := range map[string]struct {
		sheet string
		parts map[string]string
	}{
		"byte order mark":        {"\ufeff" + plain, map[string]string{"xl/sharedStrings.xml": "\ufeff" + texts, "xl/workbook.xml": "\ufeff" + `<?xml version="1.0"?><workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="Slag" sheetId="1" r:id="rId1"/></sheets></workbook>`}},
		"prefixes":               {prefixed(plain), nil},
		"shared texts elsewhere": {plain, map[string]string{"xl/_rels/workbook.xml.rels": rels("texts/shared1.xml"), "xl/texts/shared1.xml": texts, "xl/sharedStrings.xml": leaveOut}},
		"absolute paths":         {plain, map[string]string{"xl/_rels/workbook.xml.rels": rels("/xl/sharedStrings.xml")}},
		"no styles":              {plain, map[string]string{"xl/styles.xml": leaveOut}},
		"strict":                 {strict(plain), map[string]string{"xl/sharedStrings.xml": strict(texts), "xl/_rels/workbook.xml.rels": strict(rels("sharedStrings.xml"))}},
		"single quotes, spaces":  {strings.ReplaceAll(strings.ReplaceAll(plain, `"`, `'`), "></c>", ">\n </c >\n"), nil},
		"line breaks between":    {strings.ReplaceAll(plain, "><", ">\r\n  <"), nil},
		"dimension, views, rest": {strings.Replace(plain, "<sheetData>", `<dimension ref="A1:ZZ9999"/><sheetViews><sheetView workbookViewId="0"/></sheetViews><cols><col min="1" max="3" width="9"/></cols><sheetData>`, 1), nil},
		"extensions":             {strings.Replace(plain, "</sheetData>", `</sheetData><extLst><ext><x14:c xmlns:x14="u" r="Z99"><x14:v>7</x14:v></x14:c></ext></extLst>`, 1), nil},
	} {
		b := readBook(t, makeBook(t, c.sheet, c.parts), Options{})
		if got := rowLines(b); len(got) != 1 || got[0] != "KR-1 [sample]: SiO2=31.2 Cu=0.9" {
			t.Errorf("%s: %q, %v", name, got, b.Notices)
		}
	}
}
