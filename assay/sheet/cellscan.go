package sheet

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
