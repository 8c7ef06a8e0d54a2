package page

import (
	"bytes"
	_ "embed" // what all sheets share
	"fmt"
	"html/template"
	"io"
)

// sheetHTML holds the head and the tail of the sheets to print.
//
//go:embed sheet.html
var sheetHTML string

// leaf is a sheet to print with what its template needs beside it.
type leaf struct {
	Name    string // "Charge sheet"
	Signed  string // who signs beside firing and date
	Failing string // what goes before an alarm
	Sheet   any

	Style, Height template.CSS
	Policy        template.HTMLAttr
}

// renderSheet writes a sheet to print by its template; rows of its log have a
// height.
func renderSheet(w io.Writer, l leaf, html, css, row string) error {
	t, err := template.New(l.Name).Parse(sheetHTML + html)
	if err != nil {
		return fmt.Errorf("page: %w", err)
	}
	l.Style, l.Height = template.CSS(rootStyle()+css), template.CSS("--row:"+row)
	l.Policy = `content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"`
	var out bytes.Buffer
	if err := t.Execute(&out, l); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("page: writing the %s: %w", l.Name, err)
	}
	return nil
}
