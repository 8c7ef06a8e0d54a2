package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/report/page"
)

// cellOf prints a quantity, its uncertainty on a line of its own, with what is
// known of its origin as a note.
func cellOf(q quantity.Quantity, also ...string) page.Cell {
	value, u, certain := strings.Cut(q.Text(), plusMinus)
	c := page.Cell{Text: value}
	if certain {
		c.Sub = strings.TrimPrefix(plusMinus, " ") + u
	}
	switch {
	case q.Known():
		v := q.Value
		c.Sort = &v
	case q.Class == quantity.Missing || q.Class == quantity.NotRun:
		c.Class = page.Absent
	case q.Class == quantity.Unusable:
		c.Class = page.Flagged
	default:
		c.Class = page.Censored
		if !math.IsNaN(q.Limit) {
			v := q.Limit
			c.Sort = &v
		}
	}
	if q.HasU() {
		u := q.U
		c.U = &u
	}
	c.From = q.From
	c.Note = strings.Join(nonEmpty(append([]string{origin(q.From), q.UNote}, also...)...), "; ")
	return c
}

// orCell prints a quantity, and where it holds no number a dash that says why.
func orCell(q quantity.Quantity, why string, also ...string) page.Cell {
	if !q.Known() {
		return page.Cell{Text: "–", Class: page.Absent, Note: why}
	}
	return cellOf(q, also...)
}

// plusMinus stands between a value and its standard uncertainty.
const plusMinus = " ± "

// inOneLine sets the uncertainty behind the value: for listings, whose rows
// should be low.
func inOneLine(c page.Cell) page.Cell {
	if c.Sub != "" {
		c.Text, c.Sub = c.Text+" "+c.Sub, ""
	}
	return c
}

// sampleCell names a sample, and below it where it comes from.
func sampleCell(s *assay.Sample) page.Cell {
	c := page.Cell{Text: s.ID, Note: s.At.String(), From: []source.Cell{s.At}}
	if from := whence(s); from != s.ID {
		c.Sub = from
	}
	return c
}

// origin lists cells, shortly: one file and sheet with all its cells.
func origin(from []source.Cell) string {
	var parts []string
	last := source.Cell{}
	for _, c := range from {
		if len(parts) > 0 && c.File == last.File && c.Sheet == last.Sheet {
			parts[len(parts)-1] += ", " + c.Ref
			continue
		}
		parts = append(parts, c.String())
		last = c
	}
	if len(parts) > 3 {
		return fmt.Sprintf("%s and %d more places", strings.Join(parts[:2], "; "), len(parts)-2)
	}
	return strings.Join(parts, "; ")
}

func nonEmpty(texts ...string) []string {
	var out []string
	for _, t := range texts {
		if t != "" {
			out = append(out, t)
		}
	}
	return out
}

// numberCell prints a number to a fixed number of decimals.
func numberCell(x float64, decimals int) page.Cell {
	if math.IsNaN(x) {
		return page.Cell{Text: "–", Class: page.Absent}
	}
	return page.Cell{Text: strings.Replace(strconv.FormatFloat(x, 'f', decimals, 64), "-", quantity.Minus, 1), Sort: &x}
}

func textCell(text string) page.Cell { return page.Cell{Text: text} }

// whence names a sample's firing or find spot.
func whence(s *assay.Sample) string {
	if s.Run != "" {
		return s.Run
	}
	if s.Context != "" {
		return s.Context
	}
	return s.Site
}
