package sheet

import (
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// cellMeta is what the scan learns of a cell: where it stands, of what type it
// is and how it is shown. Its text is read later.
type cellMeta struct {
	col     int32
	style   int32
	kind    kind
	formula bool
	value   bool // a value is stored
	text    bool // type is string
}

// rowMeta is a row of the scan; cells holds only those with a value or a
// formula.
type rowMeta struct {
	index  int // zero-based
	hidden bool
	cells  []cellMeta
}

// sheetScan is what one strict pass over a sheet part finds.
type sheetScan struct {
	rows   []rowMeta
	merges []span
	hidden [][2]int // ranges of hidden columns, zero-based, inclusive
	cells  int
}

// scanSheet passes over a sheet part to its end. It fails on damaged XML, on
// rows or references that do not rise (a row reader would shift such cells in
// silence), on references outside a sheet and on shared texts that do not
// exist. maxCells bounds the non-empty cells.
func scanSheet(r io.Reader, sharedTexts, maxCells int) (*sheetScan, error) {
	x := newXMLReader(r)
	s := &sheetScan{}
	st := scanState{sheetScan: s, sharedTexts: sharedTexts, maxCells: maxCells, lastRow: -1}
	for {
		tok, err := x.next()
		if err == io.EOF {
			return s, nil
		}
		if err != nil {
			return nil, err
		}
		switch t := tok.(type) {
		case xml.StartElement:
			err = st.start(t, x.depth())
		case xml.EndElement:
			err = st.end(t)
		case xml.CharData:
			if st.inValue {
				st.value = append(st.value, t...)
			}
		}
		if err != nil {
			return nil, err
		}
	}
}

type scanState struct {
	*sheetScan
	sharedTexts, maxCells int
	inData, inRow, inCell bool
	inValue               bool
	lastRow, lastCol      int
	cell                  cellMeta
	cellType              string
	value                 []byte
}

// tooManyCellsError tells that the cells of a file are over the limit.
type tooManyCellsError struct{ limit int }

func (e tooManyCellsError) Error() string { return fmt.Sprintf("more than %d cells", e.limit) }

func (s *scanState) start(t xml.StartElement, depth int) error {
	switch t.Name.Local {
	case "sheetData":
		s.inData = depth == 2
	case "row":
		if s.inData && depth == 3 {
			return s.row(t)
		}
	case "c":
		if s.inData && depth == 4 {
			if !s.inRow {
				return fmt.Errorf("%w: a cell outside of any row", errMalformed)
			}
			return s.startCell(t)
		}
	case "f":
		if s.inCell {
			s.cell.formula = true
		}
	case "v", "t":
		if s.inCell {
			s.inValue = true
		}
	case "rPh": // phonetic help for East Asian text is no part of the text
		s.inValue = false
	case "mergeCell":
		m, ok := parseSpan(attr(t, "ref"))
		if !ok {
			return fmt.Errorf("%w: merged range %q", errMalformed, clip(attr(t, "ref")))
		}
		s.merges = append(s.merges, m)
	case "col":
		return s.column(t)
	}
	return nil
}

func (s *scanState) end(t xml.EndElement) error {
	switch t.Name.Local {
	case "sheetData":
		s.inData = false
	case "v", "t":
		s.inValue = false
	case "row":
		s.inRow = false
	case "c":
		if s.inCell {
			s.inCell = false
			return s.endCell()
		}
	}
	return nil
}

func (s *scanState) row(t xml.StartElement) error {
	index := s.lastRow + 1
	if r := attr(t, "r"); r != "" {
		n, err := strconv.Atoi(r)
		if err != nil || n < 1 || n > maxSheetRows {
			return fmt.Errorf("%w: row number %q", errMalformed, clip(r))
		}
		index = n - 1
	}
	if index <= s.lastRow {
		return fmt.Errorf("%w: row %d stands after row %d", errMalformed, index+1, s.lastRow+1)
	}
	s.inRow, s.lastRow, s.lastCol = true, index, -1
	s.rows = append(s.rows, rowMeta{index: index, hidden: isTrue(attr(t, "hidden")) || attr(t, "ht") == "0"})
	return nil
}

func (s *scanState) startCell(t xml.StartElement) error {
	col := s.lastCol + 1
	style := 0
	s.cellType = ""
	for i := range t.Attr {
		a := &t.Attr[i]
		switch a.Name.Local {
		case "r":
			row, c, ok := parseRef(a.Value)
			if !ok || row != s.lastRow {
				return fmt.Errorf("%w: cell reference %q in row %d", errMalformed, clip(a.Value), s.lastRow+1)
			}
			col = c
		case "s":
			n, err := strconv.Atoi(a.Value)
			if err != nil || n < 0 || n > 1<<20 {
				return fmt.Errorf("%w: cell style %q", errMalformed, clip(a.Value))
			}
			style = n
		case "t":
			s.cellType = a.Value
		}
	}
	if col <= s.lastCol {
		return fmt.Errorf("%w: cell %s stands after %s", errMalformed, refOf(s.lastRow, col), refOf(s.lastRow, s.lastCol))
	}
	if col >= maxSheetColumns {
		return fmt.Errorf("%w: more than %d cells in row %d", errMalformed, maxSheetColumns, s.lastRow+1)
	}
	s.lastCol = col
	s.cell = cellMeta{col: int32(col), style: int32(style)}
	s.inCell, s.value = true, s.value[:0]
	return nil
}

func (s *scanState) endCell() error {
	c := &s.cell
	c.value = len(s.value) > 0
	switch s.cellType {
	case "", "n":
		c.kind = kindNumber
	case "s":
		c.kind, c.text = kindText, true
		if c.value {
			n, err := strconv.Atoi(strings.TrimSpace(string(s.value)))
			if err != nil || n < 0 || n >= s.sharedTexts {
				return fmt.Errorf("%w: cell %s points to a text that does not exist", errMalformed, refOf(s.lastRow, int(c.col)))
			}
		}
	case "inlineStr", "str":
		c.kind, c.text = kindText, true
	case "b":
		c.kind = kindBool
	case "e":
		c.kind = kindError
	case "d":
		c.kind = kindDate
	default:
		return fmt.Errorf("%w: cell %s of type %q", errMalformed, refOf(s.lastRow, int(c.col)), clip(s.cellType))
	}
	if !c.value && !c.formula {
		return nil
	}
	if s.cells++; s.cells > s.maxCells {
		return tooManyCellsError{s.maxCells}
	}
	row := &s.rows[len(s.rows)-1]
	if row.cells == nil && len(s.rows) > 1 {
		row.cells = make([]cellMeta, 0, len(s.rows[len(s.rows)-2].cells))
	}
	row.cells = append(row.cells, *c)
	return nil
}

func (s *scanState) column(t xml.StartElement) error {
	if !isTrue(attr(t, "hidden")) && attr(t, "width") != "0" {
		return nil
	}
	from, err1 := strconv.Atoi(attr(t, "min"))
	to, err2 := strconv.Atoi(attr(t, "max"))
	if err1 != nil || err2 != nil || from < 1 || to < from || to > maxSheetColumns {
		return fmt.Errorf("%w: column range %q to %q", errMalformed, clip(attr(t, "min")), clip(attr(t, "max")))
	}
	s.hidden = append(s.hidden, [2]int{from - 1, to - 1})
	return nil
}

func isTrue(s string) bool { return s == "1" || s == "true" }
