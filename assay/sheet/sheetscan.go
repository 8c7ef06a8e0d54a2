package sheet

import (
	"io"
	"strconv"
)

// gridRow is a row as the sheet part holds it: only cells with a value or a
// formula, in the order of their columns.
type gridRow struct {
	index  int // zero-based
	hidden bool
	cells  []cell
}

// sheetScan is what one strict pass over a sheet part finds.
type sheetScan struct {
	rows   []gridRow // those with cells
	merges []span
	hidden [][2]int // ranges of hidden columns, zero-based, inclusive
	cells  int

	textBytes int // of the texts that are not shared
}

// scanLimits bound what one sheet part may still add to the workbook.
type scanLimits struct{ cells, textBytes int }

// scanSheet reads a sheet part to its end. It fails on damaged XML, on rows or
// references that do not rise (a row reader would shift such cells in
// silence), on references outside a sheet and on shared texts that do not
// exist.
func scanSheet(r io.Reader, plan *workbookParts, most scanLimits) (*sheetScan, error) {
	x := newXMLScan(r)
	s := &sheetScan{}
	st := scanState{sheetScan: s, x: x, plan: plan, most: most, lastRow: -1}
	for {
		tok, err := x.next()
		if err == io.EOF {
			st.endRow()
			s.textBytes = st.texts.size
			return s, nil
		}
		if err != nil {
			return nil, err
		}
		switch tok {
		case xmlStart:
			err = st.start(x.depth())
		case xmlEnd:
			err = st.end(x.depth())
		case xmlText:
			if st.inValue {
				st.value = append(st.value, x.text...)
			}
		}
		if err != nil {
			return nil, err
		}
	}
}

type scanState struct {
	*sheetScan
	x                     *xmlScan
	plan                  *workbookParts
	most                  scanLimits
	inData, inRow, inCell bool
	inValue, inPhonetic   bool
	lastRow, lastCol      int
	row                   gridRow
	cell                  cell
	style                 int
	cellType              [12]byte
	typeLength            int
	value                 []byte
	room                  []cell // for the cells of the next rows
	texts                 texts
}

func (s *scanState) start(depth int) error {
	switch string(s.x.name) {
	case "sheetData":
		s.inData = s.inData || depth == 2
	case "row":
		if s.inData && depth == 3 {
			return s.startRow()
		}
	case "c":
		if s.inData && depth == 4 {
			if !s.inRow {
				return malformed("a cell outside of any row")
			}
			return s.startCell()
		}
	case "f":
		if s.inCell && depth == 5 {
			s.cell.formula = true
		}
	case "v":
		s.inValue = s.inCell && depth == 5
	case "t":
		s.inValue = s.inCell && !s.inPhonetic && s.typed("inlineStr")
	case "rPh": // phonetic help for East Asian text is no part of the text
		s.inPhonetic = true
	case "mergeCell":
		if depth != 3 {
			return nil
		}
		m, ok := parseSpan(s.x.attr("ref"))
		if !ok {
			return malformed("merged range %q", clip(s.x.attr("ref")))
		}
		s.merges = append(s.merges, m)
	case "col":
		if depth == 3 {
			return s.column()
		}
	}
	return nil
}

// end is called with the number of elements still open.
func (s *scanState) end(depth int) error {
	switch string(s.x.name) {
	case "sheetData":
		s.inData = s.inData && depth != 1
	case "v", "t":
		s.inValue = false
	case "rPh":
		s.inPhonetic = false
	case "row":
		if depth == 2 {
			s.endRow()
		}
	case "c":
		if s.inCell && depth == 3 {
			s.inCell = false
			return s.endCell()
		}
	}
	return nil
}

func (s *scanState) startRow() error {
	index := s.lastRow + 1
	hidden := false
	for _, a := range s.x.attrs {
		switch string(a.name) {
		case "r":
			n, ok := smallNumber(a.value, maxSheetRows)
			if !ok || n < 1 {
				return malformed("row number %q", clip(string(a.value)))
			}
			index = n - 1
		case "hidden":
			hidden = hidden || isTrue(string(a.value))
		case "ht":
			hidden = hidden || string(a.value) == "0"
		}
	}
	if index <= s.lastRow {
		return malformed("row %d stands after row %d", index+1, s.lastRow+1)
	}
	if index >= maxSheetRows {
		return malformed("more than %d rows", maxSheetRows)
	}
	s.inRow, s.lastRow, s.lastCol = true, index, -1
	s.row = gridRow{index: index, hidden: hidden, cells: s.room[:0]}
	return nil
}

// endRow keeps the row where it has cells, and what is left of the room for
// the next.
func (s *scanState) endRow() {
	if n := len(s.row.cells); s.inRow && n > 0 {
		s.room = s.row.cells[n:]
		s.row.cells = s.row.cells[:n:n]
		s.rows = append(s.rows, s.row)
	}
	s.inRow = false
	s.row = gridRow{}
}

func (s *scanState) column() error {
	if !isTrue(s.x.attr("hidden")) && s.x.attr("width") != "0" {
		return nil
	}
	from, err1 := strconv.Atoi(s.x.attr("min"))
	to, err2 := strconv.Atoi(s.x.attr("max"))
	if err1 != nil || err2 != nil || from < 1 || to < from || to > maxSheetColumns {
		return malformed("column range %q to %q", clip(s.x.attr("min")), clip(s.x.attr("max")))
	}
	s.hidden = append(s.hidden, [2]int{from - 1, to - 1})
	return nil
}

func isTrue(s string) bool { return s == "1" || s == "true" }

// smallNumber reads a whole number from 0 to most.
func smallNumber(s []byte, most int) (int, bool) {
	n := 0
	for _, c := range s {
		if c < '0' || c > '9' || n > most {
			return 0, false
		}
		n = n*10 + int(c-'0')
	}
	return n, len(s) > 0 && n <= most
}
