package sheet

import "slices"

// kind says what a spreadsheet holds in a cell.
type kind uint8

const (
	kindEmpty kind = iota
	kindText
	kindNumber
	kindBool
	kindError // a spreadsheet error such as #DIV/0!
	kindDate  // a number or text shown as a date; the text is in ISO form
)

// cell is one cell with what matters of its type and format.
type cell struct {
	text    string
	col     int32 // zero-based column of the grid
	kind    kind
	formula bool
	percent bool // number shown with a percent format
}

func (c cell) empty() bool { return c.kind == kindEmpty || (c.kind == kindText && blank(c.text)) }

// span is a rectangle of cells, zero-based and inclusive.
type span struct{ r0, c0, r1, c1 int }

// grid is one sheet: rows of those cells that hold something, in the order of
// their columns.
type grid struct {
	sheet      string
	rows       [][]cell
	width      int
	delimited  bool // from a text file, where every cell is text
	merged     map[[2]int][2]int
	hiddenRows map[int]bool
	hiddenCols map[int]bool
	style      fileStyle
}

func (g *grid) at(r, c int) cell {
	if r < 0 || r >= len(g.rows) || c < 0 {
		return cell{}
	}
	row := g.rows[r]
	if c < len(row) && int(row[c].col) == c { // no gap to the left of it
		return row[c]
	}
	i, found := slices.BinarySearchFunc(row[:min(c+1, len(row))], int32(c), func(x cell, col int32) int { return int(x.col - col) })
	if !found {
		return cell{}
	}
	return row[i]
}

// add puts a row of cells at the end of the grid.
func (g *grid) add(row []cell) {
	g.rows = append(g.rows, row)
	if n := len(row); n > 0 {
		g.width = max(g.width, int(row[n-1].col)+1)
	}
}

// maxMergedCells bounds the cells to which merged text is carried.
const maxMergedCells = 200_000

// merge records that all cells of s show the text of its first cell.
func (g *grid) merge(s span) {
	if g.merged == nil {
		g.merged = map[[2]int][2]int{}
	}
	for r := s.r0; r <= s.r1; r++ {
		for c := s.c0; c <= s.c1; c++ {
			if len(g.merged) >= maxMergedCells {
				return
			}
			g.merged[[2]int{r, c}] = [2]int{s.r0, s.c0}
		}
	}
}

// view is a part of a grid, upright or turned on its side. Its rows and
// columns are counted over those that are shown.
type view struct {
	g          *grid
	rows, cols []int // grid rows (columns when turned) behind the view's rows and columns
	turned     bool
}

// visible returns the shown part of the grid.
func (g *grid) visible() view {
	v := view{g: g}
	for r := range g.rows {
		if !g.hiddenRows[r] {
			v.rows = append(v.rows, r)
		}
	}
	for c := range g.width {
		if !g.hiddenCols[c] {
			v.cols = append(v.cols, c)
		}
	}
	return v
}

// turn returns the view with rows and columns exchanged.
func (v view) turn() view {
	return view{g: v.g, rows: v.cols, cols: v.rows, turned: !v.turned}
}

func (v view) part(r0, r1, c0, c1 int) view {
	return view{g: v.g, rows: v.rows[r0:r1], cols: v.cols[c0:c1], turned: v.turned}
}

func (v view) gridPos(r, c int) (int, int) {
	if v.turned {
		return v.cols[c], v.rows[r]
	}
	return v.rows[r], v.cols[c]
}

func (v view) at(r, c int) cell {
	if r < 0 || r >= len(v.rows) || c < 0 || c >= len(v.cols) {
		return cell{}
	}
	return v.g.at(v.gridPos(r, c))
}

// anchor returns the grid position of the cell whose text is shown at r, c,
// and whether that is another cell, by merging.
func (v view) anchor(r, c int) (pos [2]int, elsewhere bool) {
	gr, gc := v.gridPos(r, c)
	pos = [2]int{gr, gc}
	if a, ok := v.g.merged[pos]; ok && a != pos {
		return a, true
	}
	return pos, false
}

// shown returns the cell with merged text carried to it.
func (v view) shown(r, c int) cell {
	own := v.at(r, c)
	if !own.empty() || r < 0 || r >= len(v.rows) || c < 0 || c >= len(v.cols) {
		return own
	}
	if a, ok := v.anchor(r, c); ok {
		return v.g.at(a[0], a[1])
	}
	return own
}

func (v view) ref(r, c int) string {
	gr, gc := v.gridPos(r, c)
	return refOf(gr, gc)
}

// filled returns the columns of row r that hold something.
func (v view) filled(r int) []int {
	var out []int
	if !v.turned {
		c := 0
		for _, cell := range v.g.rows[v.rows[r]] {
			for c < len(v.cols) && v.cols[c] < int(cell.col) {
				c++
			}
			if c < len(v.cols) && v.cols[c] == int(cell.col) && !cell.empty() {
				out = append(out, c)
			}
		}
		return out
	}
	for c := range v.cols {
		if !v.at(r, c).empty() {
			out = append(out, c)
		}
	}
	return out
}

func (v view) blankRow(r int) bool {
	if !v.turned && len(v.g.rows[v.rows[r]]) == 0 {
		return true
	}
	for c := range v.cols {
		if !v.at(r, c).empty() {
			return false
		}
	}
	return true
}

const (
	maxSheetRows    = 1_048_576 // ECMA-376
	maxSheetColumns = 16_384
)
