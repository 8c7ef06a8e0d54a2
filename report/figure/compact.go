package figure

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// Decimals of a point that drawings are written with: a tenth is a fifth of a
// pixel of a report on a wide screen. Journals enlarge.
const (
	pageDecimals    = 1
	journalDecimals = 2
)

var (
	pathElement = regexp.MustCompile(`^<path d="([^"]*)" style="([^"]*)" />$`)
	pathCommand = regexp.MustCompile(`([A-Za-z])([^A-Za-z]*)`)
	pathNumber  = regexp.MustCompile(`-?[0-9]+(?:\.[0-9]+)?`)
)

// compact writes the same drawing in fewer letters, a line an element: numbers
// to some decimals and relative to the point before, round marks as circles,
// neighbours of one style in one group, and lines of one style, none of which
// can hide another, in one path.
func compact(s string, decimals int) string {
	var out strings.Builder
	var run []string // elements of one style, without it
	style := ""
	end := func() {
		switch {
		case len(run) == 1:
			out.WriteString(strings.Replace(run[0], "/>", ` style="`+style+`"/>`, 1) + "\n")
		case len(run) > 1:
			out.WriteString(`<g style="` + style + "\">\n" + strings.Join(run, "\n") + "\n</g>\n")
		}
		run = nil
	}
	for _, line := range strings.SplitAfter(s, "\n") {
		m := pathElement.FindStringSubmatch(strings.TrimSuffix(line, "\n"))
		if m == nil {
			end()
			out.WriteString(line)
			continue
		}
		if m[2] != style {
			end()
			style = m[2]
		}
		element := shorter(m[1], decimals)
		if len(run) > 0 && strings.HasPrefix(style, "fill:none") && !strings.Contains(style, "opacity") {
			run[0] = strings.TrimSuffix(run[0], `"/>`) + strings.TrimPrefix(element, `<path d="`)
			continue
		}
		run = append(run, element)
	}
	end()
	return out.String()
}

// shorter writes a path of the commands that the pens make; others stay as they
// are.
func shorter(d string, decimals int) string {
	scale := math.Pow10(decimals)
	whole := func(v float64) float64 { return math.Round(v * scale) }
	var out strings.Builder
	last := byte(0)             // kind of what was written last: a letter, or a digit
	number := func(v float64) { // in units of the last decimal
		if v >= 0 && last == '0' {
			out.WriteByte(' ')
		}
		t := strconv.FormatFloat(v/scale, 'f', -1, 64)
		switch {
		case t == "-0":
			t = "0"
		case strings.HasPrefix(t, "0."):
			t = t[1:]
		case strings.HasPrefix(t, "-0."):
			t = "-" + t[2:]
		}
		out.WriteString(t)
		last = '0'
	}
	command := byte(0)
	letter := func(c byte) {
		if c != command || c == 'M' || c == 'z' {
			out.WriteByte(c)
			last = c
		}
		command = c
	}
	var x, y, fromX, fromY float64
	for _, part := range pathCommand.FindAllStringSubmatch(d, -1) {
		var v []float64
		for _, n := range pathNumber.FindAllString(part[2], -1) {
			f, err := strconv.ParseFloat(n, 64)
			if err != nil {
				return `<path d="` + d + `"/>`
			}
			v = append(v, f)
		}
		switch {
		case part[1] == "M" && len(v) == 2:
			x, y = whole(v[0]), whole(v[1])
			fromX, fromY = x, y
			letter('M')
			number(x)
			number(y)
		case part[1] == "L" && len(v) == 2:
			toX, toY := whole(v[0]), whole(v[1])
			switch {
			case toY == y:
				letter('h')
				number(toX - x)
			case toX == x:
				letter('v')
				number(toY - y)
			default:
				letter('l')
				number(toX - x)
				number(toY - y)
			}
			x, y = toX, toY
		case part[1] == "A" && len(v) == 7:
			toX, toY := whole(v[5]), whole(v[6])
			letter('a')
			number(whole(v[0]))
			number(whole(v[1]))
			out.WriteString(fmt.Sprintf(" %g %g %g", v[2], v[3], v[4]))
			number(toX - x)
			number(toY - y)
			x, y = toX, toY
		case part[1] == "Z" && len(v) == 0:
			letter('z')
			x, y = fromX, fromY
		default:
			return `<path d="` + d + `"/>`
		}
	}
	if c, ok := circle(d); ok {
		at := func(v float64) string { return trimmed(v, decimals) }
		return fmt.Sprintf(`<circle cx="%s" cy="%s" r="%s"/>`, at(c[0]), at(c[1]), at(c[2]))
	}
	return `<path d="` + out.String() + `"/>`
}

var twoArcs = regexp.MustCompile(`^M([0-9.-]+),([0-9.-]+)A([0-9.]+),([0-9.]+) 0 1 [01] ([0-9.-]+),([0-9.-]+)A([0-9.]+),([0-9.]+) 0 1 [01] ([0-9.-]+),([0-9.-]+)Z$`)

// circle reads a path of two half circles as centre and radius.
func circle(d string) (c [3]float64, ok bool) {
	m := twoArcs.FindStringSubmatch(d)
	if m == nil || m[1] != m[9] || m[2] != m[10] || m[3] != m[4] {
		return c, false
	}
	var n [4]float64
	for i, t := range []string{m[1], m[2], m[5], m[3]} {
		v, err := strconv.ParseFloat(t, 64)
		if err != nil {
			return c, false
		}
		n[i] = v
	}
	return [3]float64{(n[0] + n[2]) / 2, n[1], n[3]}, m[6] == m[2]
}
