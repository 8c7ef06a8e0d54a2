package page

import "slices"

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

// meaning returns what the sign means.
func (c Class) meaning() string {
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
			line := mark + " " + c.Class.meaning()
			if i, found := slices.BinarySearch(legend, line); !found {
				legend = slices.Insert(legend, i, line)
			}
		}
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
