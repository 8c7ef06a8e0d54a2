package page

import (
	"bytes"
	"fmt"
	"html/template"
	"io"
)

// renderSheet writes a sheet to print by its template; rows of its log have a
// height.
func renderSheet(w io.Writer, name, html, css, row string, sheet any) error {
	t, err := template.New(name).Parse(html)
	if err != nil {
		return fmt.Errorf("page: %w", err)
	}
	var out bytes.Buffer
	if err := t.Execute(&out, struct {
		Sheet  any
		Style  template.CSS
		Height template.CSS
		Policy template.HTMLAttr
	}{sheet, template.CSS(rootStyle() + css), template.CSS("--row:" + row),
		`content="default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'"`}); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("page: writing the %s: %w", name, err)
	}
	return nil
}
