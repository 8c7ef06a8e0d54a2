package page

import (
	"bytes"
	"crypto/sha256"
	_ "embed" // the template, the style and the script
	"encoding/base64"
	"fmt"
	"html/template"
	"io"
	"regexp"
	"strings"
)

//go:embed page.html
var pageHTML string

//go:embed page.css
var baseCSS string

//go:embed tables.css
var tablesCSS string

//go:embed spread.css
var spreadCSS string

//go:embed photographs.css
var photographsCSS string

//go:embed print.css
var printCSS string

// pageCSS is the whole style; print comes last, so that it wins.
var pageCSS = baseCSS + "\n" + tablesCSS + "\n" + spreadCSS + "\n" + photographsCSS + "\n" + printCSS

//go:embed page.js
var pageJS string

// Assets are the scripts that make figures move, and the typeface. Without
// scripts the page shows the drawings for print, and nothing else changes.
type Assets struct {
	Faces        string // as Faces returns them
	ChartLibrary string
	ChartScript  string
}

// Render writes the document as one HTML file that fetches nothing. The same
// document and assets give the same bytes. Nothing is written where the
// document is faulty.
func Render(w io.Writer, d Document, a Assets) error {
	if err := check(d); err != nil {
		return err
	}
	v, err := newView(d)
	if err != nil {
		return err
	}
	scripts := []string{pageJS}
	if a.ChartLibrary != "" && a.ChartScript != "" {
		scripts = []string{a.ChartLibrary, pageJS, a.ChartScript}
	}
	hashes := make([]string, len(scripts))
	for i, s := range scripts {
		s = inScript(s)
		sum := sha256.Sum256([]byte(s))
		hashes[i] = "'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'"
		v.Scripts = append(v.Scripts, template.JS(s))
	}
	v.Policy = template.HTMLAttr(`content="default-src 'none'; style-src 'unsafe-inline'; img-src data:; font-src data:; base-uri 'none'; form-action 'none'; script-src ` + strings.Join(hashes, " ") + `"`)
	v.Style = template.CSS(a.Faces + pageCSS)

	t, err := template.New("page").Funcs(template.FuncMap{
		"sortKey": sortKey, "cellClass": cellClass, "size": size, "join": strings.Join, "breaks": breaks, "codeOut": codeOut, "codeAt": func(i int) bool { return i%2 == 1 }, "manyNotices": manyNotices,
	}).Parse(pageHTML)
	if err != nil {
		return fmt.Errorf("page: %w", err)
	}
	var out bytes.Buffer
	if err := t.Execute(&out, v); err != nil {
		return fmt.Errorf("page: %w", err)
	}
	if _, err := out.WriteTo(w); err != nil {
		return fmt.Errorf("page: writing the report: %w", err)
	}
	return nil
}

var scriptEnd = regexp.MustCompile(`(?i)<(/script|!--)`)

// inScript writes a script so that it can stand in a page: its line ends as
// the browser sees them, which its hash is made of, and nothing in it that
// ends the element.
func inScript(s string) string {
	s = strings.ReplaceAll(strings.ReplaceAll(s, "\r\n", "\n"), "\r", "\n")
	return scriptEnd.ReplaceAllString(s, `<\$1`)
}
