package page

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"html/template"
	"io"
	"strings"
)

// safeSVG checks a drawing and returns its <svg> element. Ids inside it get
// the figure's id as a prefix, so that several drawings can stand in one page.
func safeSVG(figure string, svg []byte) (template.HTML, error) {
	d := xml.NewDecoder(bytes.NewReader(svg))
	d.Entity = nil
	start, end := int64(-1), int64(-1)
	var ids []string
	depth := 0
	for {
		before := d.InputOffset()
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return "", fmt.Errorf("the drawing is not well-formed: %w", err)
		}
		switch t := token.(type) {
		case xml.StartElement:
			if depth == 0 && (t.Name.Local != "svg" || start >= 0) {
				return "", fmt.Errorf("the drawing begins with <%s> instead of one <svg>", t.Name.Local)
			}
			if depth == 0 {
				start = before
			}
			depth++
			found, err := checkElement(t)
			if err != nil {
				return "", err
			}
			ids = append(ids, found...)
		case xml.EndElement:
			depth--
			end = d.InputOffset()
		case xml.Directive, xml.ProcInst:
			if depth > 0 {
				return "", errors.New("the drawing has a declaration inside")
			}
		}
	}
	if start < 0 {
		return "", errors.New("the drawing has no <svg> element")
	}
	out := string(svg[start:end])
	for _, id := range ids {
		for _, use := range []string{`id="%s"`, `id='%s'`, `"#%s"`, `'#%s'`, `url(#%s)`} {
			old := fmt.Sprintf(use, id)
			out = strings.ReplaceAll(out, old, strings.Replace(old, id, figure+"--"+id, 1))
		}
	}
	return template.HTML(out), nil
}

// checkElement refuses what a drawing does not need and a page must not have:
// scripts, foreign markup, handlers and addresses outside the drawing.
func checkElement(e xml.StartElement) (ids []string, err error) {
	switch strings.ToLower(e.Name.Local) {
	case "script", "foreignobject", "iframe", "object", "embed", "a", "animate", "set", "handler", "style":
		return nil, fmt.Errorf("the drawing has a <%s> element", e.Name.Local)
	}
	for _, a := range e.Attr {
		name, value := strings.ToLower(a.Name.Local), strings.TrimSpace(a.Value)
		switch {
		case strings.HasPrefix(name, "on"):
			return nil, fmt.Errorf("the drawing has a handler %s", a.Name.Local)
		case (name == "href" || name == "src") && !strings.HasPrefix(value, "#") && !strings.HasPrefix(value, "data:image/png"):
			return nil, fmt.Errorf("the drawing leads to %q", value)
		case strings.Contains(strings.ReplaceAll(value, "url(#", ""), "url("):
			return nil, fmt.Errorf("the drawing leads to %q", value)
		case name == "id" && a.Name.Space == "":
			ids = append(ids, a.Value)
		}
	}
	return ids, nil
}
