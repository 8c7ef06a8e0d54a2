package page

import "slices"

// NoteMark stands behind a sample on which there is a note below the table.
const NoteMark = "*"

// Mark returns the sign printed behind a cell of the class.
func (c Class) Mark() string {
	switch c {
	case Flagged:
		return "†"
	case OutOfRange:
		return "‡"
	}
	return ""
}

// Meaning returns what the sign means; it is empty where there is none.
func (c Class) Meaning() string {
	switch c {
	case Flagged:
		return "to be looked at; see the notices"
	case OutOfRange:
		return "outside the range in which the model was tested"
	}
	return ""
}

// addLegend adds the explanation of the cells' signs, each once, in a fixed
// order.
func addLegend(legend []string, cells ...Cell) []string {
	for _, c := range cells {
		if mark := c.Class.Mark(); mark != "" {
			line := mark + " " + c.Class.Meaning()
			if i, found := slices.BinarySearch(legend, line); !found {
				legend = slices.Insert(legend, i, line)
			}
		}
	}
	return legend
}

// Legend explains the signs behind the cells of a table.
func (t *Table) Legend() (legend []string) {
	for _, r := range t.Rows {
		legend = addLegend(legend, r.Cells...)
	}
	return legend
}

// Legend explains the signs behind the cells of a spread.
func (s *Spread) Legend() (legend []string) {
	for _, r := range s.Rows {
		legend = addLegend(legend, r.Left...)
		legend = addLegend(legend, r.Right...)
		legend = addLegend(legend, r.Difference)
	}
	return legend
}

// Shape returns the sign that goes with a side.
func (s Side) Shape() string {
	switch s {
	case Fired:
		return "▲"
	case Dug:
		return "○"
	}
	return ""
}
