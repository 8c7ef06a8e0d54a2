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

func (s *scanState) startCell() error {
	col := s.lastCol + 1
	s.style, s.typeLength = 0, 0
	for _, a := range s.x.attrs {
		switch string(a.name) {
		case "r":
			row, c, ok := parseRef(a.value)
			if !ok || row != s.lastRow {
				return malformed("cell reference %q in row %d", clip(string(a.value)), s.lastRow+1)
			}
			col = c
		case "s":
			n, ok := smallNumber(a.value, 1<<20)
			if !ok {
				return malformed("cell style %q", clip(string(a.value)))
			}
			s.style = n
		case "t":
			if len(a.value) > len(s.cellType) {
				return malformed("cell of type %q", clip(string(a.value)))
			}
			s.typeLength = copy(s.cellType[:], a.value)
		}
	}
	if col <= s.lastCol {
		return malformed("cell %s stands after %s", refOf(s.lastRow, col), refOf(s.lastRow, s.lastCol))
	}
	if col >= maxSheetColumns {
		return malformed("more than %d cells in row %d", maxSheetColumns, s.lastRow+1)
	}
	s.lastCol = col
	s.cell = cell{col: int32(col)}
	s.inCell, s.value = true, s.value[:0]
	return nil
}

func (s *scanState) typed(name string) bool { return string(s.cellType[:s.typeLength]) == name }

func (s *scanState) endCell() error {
	c := &s.cell
	switch string(s.cellType[:s.typeLength]) {
	case "", "n":
		c.kind = kindNumber
		s.value = trimXMLSpace(s.value)
	case "s":
		c.kind = kindText
		if value := trimXMLSpace(s.value); len(value) > 0 {
			n, ok := smallNumber(value, len(s.plan.sharedTexts)-1)
			if !ok {
				return malformed("cell %s points to a text that does not exist", refOf(s.lastRow, int(c.col)))
			}
			c.text = s.plan.sharedTexts[n]
		}
		s.value = s.value[:0]
	case "inlineStr", "str":
		c.kind = kindText
	case "b":
		c.kind, c.text = kindBool, boolTexts[isTrue(string(s.value))]
		if len(s.value) == 0 {
			c.text = ""
		}
		s.value = s.value[:0]
	case "e":
		c.kind = kindError
	case "d":
		c.kind = kindDate
	default:
		return malformed("cell %s of type %q", refOf(s.lastRow, int(c.col)), clip(string(s.cellType[:s.typeLength])))
	}
	if len(s.value) > 0 {
		c.text = s.texts.keep(s.value)
		if c.kind == kindText {
			c.text = unescape(c.text)
		}
		if s.texts.size > s.most.textBytes {
			return tooMuchTextError{}
		}
	}
	s.plan.show(c, s.style)
	if c.text == "" && !c.formula {
		return nil
	}
	if s.cells++; s.cells > s.most.cells {
		return tooManyCellsError{}
	}
	s.keepCell(*c)
	return nil
}

var boolTexts = map[bool]string{false: "FALSE", true: "TRUE"}

// roomCells is how many cells get their memory at a time.
const roomCells = 4096

// keepCell adds a cell to the row; the cells of many rows share their memory.
func (s *scanState) keepCell(c cell) {
	if n := len(s.row.cells); n == cap(s.row.cells) {
		room := make([]cell, n, max(roomCells, 2*n))
		copy(room, s.row.cells)
		s.row.cells = room
	}
	s.row.cells = append(s.row.cells, c)
}

// The file asks for more than the limits allow.
type (
	tooManyCellsError struct{}
	tooMuchTextError  struct{}
)

func (tooManyCellsError) Error() string { return "too many cells" }
func (tooMuchTextError) Error() string  { return "too much text" }

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
