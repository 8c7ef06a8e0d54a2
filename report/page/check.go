package page

import (
	"fmt"
	"regexp"
	"strings"
)

var figureID = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9-]*$`)

// check refuses a document whose page would be broken: ids given twice, rows
// of the wrong length, a figure without a description.
func check(d Document) error {
	ids := map[string]bool{"contents": true, "main": true, "colophon": true, "tip": true, "picked": true}
	claim := func(id string) error {
		if ids[id] {
			return fmt.Errorf("page: the id %q is given twice", id)
		}
		ids[id] = true
		return nil
	}
	for _, b := range d.Blocks {
		switch b := b.(type) {
		case *Prose:
			for _, h := range b.Headings {
				if err := claim(h.ID); err != nil {
					return err
				}
			}
		case *Entry:
			if err := claim(b.id()); err != nil {
				return err
			}
			for _, p := range b.Parts {
				id, err := checkPart(p)
				if err == nil && id != "" {
					err = claim(id)
				}
				if photos, ok := p.(*Photographs); ok && err == nil {
					for _, id := range photos.pictures() {
						if err = claim(id); err != nil {
							break
						}
					}
				}
				if err != nil {
					return fmt.Errorf("entry %d (%s): %w", b.Number, b.Kind, err)
				}
			}
		default:
			return fmt.Errorf("page: a block is of the unknown type %T", b)
		}
	}
	return nil
}

// checkPart returns the id of a part, empty where it has none.
func checkPart(p Part) (id string, err error) {
	switch p := p.(type) {
	case *Figure:
		if !figureID.MatchString(p.ID) {
			return "", fmt.Errorf("page: the figure's id %q should be letters, digits and hyphens, starting with a letter", p.ID)
		}
		if strings.TrimSpace(p.Alt) == "" {
			return "", fmt.Errorf("page: the figure %q has no description", p.ID)
		}
		return p.ID, nil
	case *Table:
		return p.id(), p.check()
	case *Spread:
		return p.id(), p.check()
	case *Photographs:
		return p.ID, p.check()
	case *Text:
		return "", checkRuns(p.Paragraphs...)
	case *Equation:
		if len(p.Lines) == 0 {
			return "", fmt.Errorf("page: equation %d is empty", p.Number)
		}
		for _, s := range p.Where {
			if err := checkRuns(s.Means); err != nil {
				return "", err
			}
		}
		return fmt.Sprintf("equation-%d", p.Number), checkRuns(p.Source)
	case *Notices:
	default:
		return "", fmt.Errorf("page: a part is of the unknown type %T", p)
	}
	return "", nil
}

func checkRuns(paragraphs ...[]Run) error {
	for _, runs := range paragraphs {
		for _, r := range runs {
			switch {
			case r.Cite != "":
				return fmt.Errorf("page: nobody has resolved the citation of %q", r.Cite)
			case r.Link != "" && !strings.HasPrefix(r.Link, "https://") && !strings.HasPrefix(r.Link, "http://") && !strings.HasPrefix(r.Link, "#ref-"):
				return fmt.Errorf("page: the link %q is no web address", r.Link)
			}
		}
	}
	return nil
}

func (t *Table) check() error {
	span := 0
	for _, g := range t.Groups {
		span += g.Span
	}
	if t.Groups != nil && span != len(t.Columns) {
		return fmt.Errorf("page: the column groups of table %d span %d columns of %d", t.Number, span, len(t.Columns))
	}
	for i, r := range t.Rows {
		if len(r.Cells) != len(t.Columns) {
			return fmt.Errorf("page: row %d of table %d has %d cells for %d columns", i+1, t.Number, len(r.Cells), len(t.Columns))
		}
	}
	return nil
}

func (s *Spread) check() error {
	for i, r := range s.Rows {
		if len(r.Left) != len(s.Columns) || len(r.Right) != len(s.Columns) {
			return fmt.Errorf("page: row %d of spread %d has %d and %d cells for %d columns", i+1, s.Number, len(r.Left), len(r.Right), len(s.Columns))
		}
	}
	return nil
}

func (e *Entry) id() string {
	if e.ID != "" {
		return e.ID
	}
	return fmt.Sprintf("entry-%d", e.Number)
}

func (t *Table) id() string {
	if t.ID != "" {
		return t.ID
	}
	return fmt.Sprintf("table-%d", t.Number)
}

func (s *Spread) id() string {
	if s.ID != "" {
		return s.ID
	}
	return fmt.Sprintf("table-%d", s.Number)
}
