package sheet

import "sort"

const (
	strayRowGap    = 200 // empty rows beyond which a few cells are no part of the table
	strayColumnGap = 30
	mostStrays     = 10
)

// extent returns the last row and column of what the sheet is about, and the
// references of the few filled cells that stand far outside it. Such cells are
// left by accident and would make a reader walk through a million rows.
func (s *sheetScan) extent() (e span, strays []string) {
	total, columns := 0, map[int]int{}
	for _, row := range s.rows {
		total += len(row.cells)
	}
	if total == 0 {
		return span{r1: -1, c1: -1}, nil
	}
	last := len(s.rows) - 1
	after := 0
	for i := len(s.rows) - 1; i > 0; i-- {
		after += len(s.rows[i].cells)
		if after > mostStrays || after*2 >= total {
			break
		}
		if s.rows[i].index-s.rows[i-1].index > strayRowGap {
			last = i - 1
		}
	}
	e.r1 = s.rows[last].index
	for _, row := range s.rows[:last+1] {
		for _, c := range row.cells {
			columns[int(c.col)]++
		}
	}
	e.c1 = lastColumn(columns, total)
	for n, row := range s.rows {
		for i := len(row.cells) - 1; i >= 0; i-- {
			c := row.cells[i]
			if n <= last && int(c.col) <= e.c1 {
				break
			}
			strays = append(strays, refOf(row.index, int(c.col)))
		}
	}
	return e, strays
}

func lastColumn(columns map[int]int, total int) int {
	used := make([]int, 0, len(columns))
	for c := range columns {
		used = append(used, c)
	}
	sort.Ints(used)
	last, after := len(used)-1, 0
	for i := len(used) - 1; i > 0; i-- {
		after += columns[used[i]]
		if after > mostStrays || after*2 >= total {
			break
		}
		if used[i]-used[i-1] > strayColumnGap {
			last = i - 1
		}
	}
	return used[last]
}
