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
	var rows []int
	total := 0
	columns := map[int]int{}
	for i, row := range s.rows {
		if len(row.cells) == 0 {
			continue
		}
		rows = append(rows, i)
		total += len(row.cells)
	}
	if total == 0 {
		return span{r1: -1, c1: -1}, nil
	}
	last := len(rows) - 1
	after := 0
	for i := len(rows) - 1; i > 0; i-- {
		after += len(s.rows[rows[i]].cells)
		if after > mostStrays || after*2 >= total {
			break
		}
		if s.rows[rows[i]].index-s.rows[rows[i-1]].index > strayRowGap {
			last = i - 1
		}
	}
	e.r1 = s.rows[rows[last]].index
	for _, i := range rows[:last+1] {
		for _, c := range s.rows[i].cells {
			columns[int(c.col)]++
		}
	}
	e.c1 = lastColumn(columns, total)
	for n, i := range rows {
		for _, c := range s.rows[i].cells {
			if n > last || int(c.col) > e.c1 {
				strays = append(strays, refOf(s.rows[i].index, int(c.col)))
			}
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
