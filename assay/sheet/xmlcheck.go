package sheet

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
)

// maxXMLDepth bounds the nesting of elements; spreadsheets need less than 20.
const maxXMLDepth = 256

var (
	errDirective = errors.New("document type declaration or custom entity")
	errMalformed = errors.New("damaged XML")
)

// xmlReader reads one part of a workbook strictly to its end. It refuses any
// document type declaration and any entity beyond the five of XML, checks that
// elements nest, and hands every token to the caller.
type xmlReader struct {
	dec   *xml.Decoder
	stack []xml.Name
	roots int
}

func newXMLReader(r io.Reader) *xmlReader {
	return &xmlReader{dec: xml.NewDecoder(r)}
}

// next returns the next token; io.EOF only after one complete root element.
// The token is valid until the next call.
func (x *xmlReader) next() (xml.Token, error) {
	tok, err := x.dec.RawToken()
	if err == io.EOF {
		if len(x.stack) > 0 || x.roots != 1 {
			return nil, fmt.Errorf("%w: it ends too early", errMalformed)
		}
		return nil, io.EOF
	}
	if err != nil {
		return nil, x.classify(err)
	}
	switch t := tok.(type) {
	case xml.Directive:
		return nil, errDirective
	case xml.StartElement:
		if len(x.stack) == 0 {
			if x.roots++; x.roots > 1 {
				return nil, fmt.Errorf("%w: a second root element", errMalformed)
			}
		}
		if len(x.stack) >= maxXMLDepth {
			return nil, fmt.Errorf("%w: elements nested deeper than %d", errMalformed, maxXMLDepth)
		}
		x.stack = append(x.stack, t.Name)
	case xml.EndElement:
		if len(x.stack) == 0 || x.stack[len(x.stack)-1] != t.Name {
			return nil, fmt.Errorf("%w: element %s is not closed where it should be", errMalformed, clip(t.Name.Local))
		}
		x.stack = x.stack[:len(x.stack)-1]
	case xml.CharData:
		if len(x.stack) == 0 && strings.TrimSpace(strings.TrimPrefix(string(t), "\ufeff")) != "" {
			return nil, fmt.Errorf("%w: text outside the root element", errMalformed)
		}
	}
	return tok, nil
}

func (x *xmlReader) classify(err error) error {
	var over overBudgetError
	if errors.As(err, &over) {
		return over
	}
	var syntax *xml.SyntaxError
	if errors.As(err, &syntax) {
		if strings.Contains(syntax.Msg, "entity") {
			return errDirective
		}
		return fmt.Errorf("%w at line %d: %s", errMalformed, syntax.Line, clip(syntax.Msg))
	}
	return fmt.Errorf("%w: %s", errMalformed, clip(plainZipError(err)))
}

// depth counts the open elements.
func (x *xmlReader) depth() int { return len(x.stack) }

// refuseXML words what was wrong with a part.
func refuseXML(err error, part, sheet string, limits Limits) *refusal {
	var (
		over overBudgetError
		many tooManyCellsError
		text tooMuchTextError
	)
	switch {
	case errors.As(err, &over):
		return tooMuch(limits)
	case errors.As(err, &many):
		r := refuse(codeTooLarge, "the workbook has more than %d filled cells; nothing was read; keep the assay tables in a file of their own, or raise `cells` under `limits:` in the notebook", limits.Cells)
		r.sheet = sheet
		return r
	case errors.As(err, &text):
		r := refuse(codeTooLarge, "the texts of the cells come to more than %s; nothing was read; keep the assay tables in a file of their own, or raise `cells` under `limits:` in the notebook", megabytes(int64(limits.textBytes())))
		r.sheet = sheet
		return r
	case errors.Is(err, errDirective):
		r := refuse(codeEntity, "the workbook contains a document type declaration or a custom entity (in %s), which spreadsheet programs never write; nothing was read; open it, check it and save it again", clip(part))
		r.sheet = sheet
		return r
	}
	r := refuse(codeMalformed, "the workbook is damaged (%s: %v); nothing was read; ask for the file again or save it again", clip(part), err)
	r.sheet = sheet
	return r
}

func attr(t xml.StartElement, name string) string {
	for i := range t.Attr {
		if t.Attr[i].Name.Local == name {
			return t.Attr[i].Value
		}
	}
	return ""
}
