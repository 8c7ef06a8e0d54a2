package sheet

import (
	"math"
	"strconv"
	"strings"
)

// marks says which sign separates decimals. The zero value is undecided.
type marks struct{ decimal byte }

// numberTraits tells what was peculiar about a number's spelling.
type numberTraits struct {
	comma     bool // decimal comma
	point     bool // decimal point
	grouped   bool // grouping marks removed
	oddSpace  bool // non-breaking or thin space removed
	minus     bool // minus sign other than the hyphen
	mixed     bool // decimal mark other than that of the table
	undecided bool // one mark before three digits: could be either
}

// parseNumber reads a number as it is typed by people: an optional sign,
// digits with grouping in threes by the other mark, by spaces or by
// apostrophes, and one decimal mark. Exponents, "Inf", underscores and
// letters are refused. Where the spelling leaves the decimal mark open, m
// decides; where m is undecided too, ok is false and traits.undecided is set.
//
// A spelling that is clear by itself is read by itself even where it is
// against m; traits.mixed then tells so.
func parseNumber(token string, m marks) (x float64, traits numberTraits, ok bool) {
	s, odd := foldSpaces(token)
	traits.oddSpace = odd
	s, traits.minus = foldMinus(s)
	sign := ""
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = "-"
		}
		s = strings.TrimLeft(s[1:], " ")
	}
	if s == "" || len(s) > 40 {
		return 0, traits, false
	}
	intPart, fraction, hasFraction, ok := split(s, m, &traits)
	if !ok {
		return 0, traits, false
	}
	digits, grouped, ok := ungroup(intPart)
	if !ok {
		return 0, traits, false
	}
	traits.grouped = traits.grouped || grouped
	plain := sign + digits
	if hasFraction {
		if !allDigits(fraction) {
			return 0, traits, false
		}
		plain += "." + fraction
	}
	x, err := strconv.ParseFloat(plain, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, traits, false
	}
	return x, traits, true
}

// split finds the decimal mark. The integer part keeps its grouping marks.
func split(s string, m marks, traits *numberTraits) (intPart, fraction string, hasFraction, ok bool) {
	shape, mark := shapeOf(s)
	decimal := byte(0)
	switch shape {
	case shapePlain:
		return s, "", false, true
	case shapeDecimal:
		decimal = mark
		traits.mixed = m.decimal != 0 && m.decimal != decimal
	case shapeGrouping:
		traits.mixed = m.decimal == mark
	case shapeOpen:
		if m.decimal == 0 {
			traits.undecided = true
			return "", "", false, false
		}
		if m.decimal == mark {
			decimal = mark
		}
	}
	if decimal == 0 {
		return s, "", false, true
	}
	traits.comma, traits.point = decimal == ',', decimal == '.'
	i := strings.LastIndexByte(s, decimal)
	if i == 0 { // ".5": nothing before the mark
		return "0", s[1:], true, true
	}
	return s[:i], s[i+1:], true, true
}

// shape says what the marks of a number tell by themselves.
type shape uint8

const (
	shapePlain    shape = iota // no point or comma
	shapeDecimal               // the mark is a decimal mark
	shapeGrouping              // the mark groups, and the other one would be decimal
	shapeOpen                  // one mark, up to three digits before and three behind
)

// shapeOf applies the rules: with both marks the later is the decimal one; a
// mark that comes twice groups; one mark is decimal unless exactly three
// digits follow; also when a zero or more than three digits stand before it.
func shapeOf(s string) (shape, byte) {
	point, comma := strings.LastIndexByte(s, '.'), strings.LastIndexByte(s, ',')
	switch {
	case point < 0 && comma < 0:
		return shapePlain, 0
	case point >= 0 && comma >= 0:
		if point > comma {
			return shapeDecimal, '.'
		}
		return shapeDecimal, ','
	}
	mark, at := byte('.'), point
	if comma >= 0 {
		mark, at = ',', comma
	}
	if strings.Count(s, string(mark)) > 1 {
		return shapeGrouping, mark
	}
	before := s[:at]
	if len(s)-at-1 != 3 || before == "" || before[0] == '0' || len(before) > 3 {
		return shapeDecimal, mark
	}
	return shapeOpen, mark
}

// ungroup removes grouping marks after checking that they group in threes and
// are all the same.
func ungroup(s string) (digits string, grouped, ok bool) {
	if allDigits(s) {
		return s, false, true
	}
	mark := rune(0)
	var b strings.Builder
	run, first := 0, true
	for _, r := range s {
		if r >= '0' && r <= '9' {
			b.WriteByte(byte(r))
			run++
			continue
		}
		if r == '’' {
			r = '\''
		}
		if r != '.' && r != ',' && r != ' ' && r != '\'' || (mark != 0 && r != mark) {
			return "", false, false
		}
		if (first && (run == 0 || run > 3)) || (!first && run != 3) {
			return "", false, false
		}
		mark, run, first = r, 0, false
	}
	if run != 3 || strings.HasPrefix(b.String(), "0") {
		return "", false, false
	}
	return b.String(), true, true
}

func allDigits(s string) bool {
	for i := 0; i < len(s); i++ {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// foldMinus turns the Unicode minus and the dashes in front of a number into
// a hyphen.
func foldMinus(s string) (string, bool) {
	for _, m := range []string{"−", "–", "‒", "﹣", "－", "‐", "‑"} {
		if rest, ok := strings.CutPrefix(s, m); ok {
			return "-" + rest, true
		}
	}
	return s, false
}

// parseStored reads the number of a true number cell: the form that
// spreadsheet programs store, with a point and an optional exponent.
func parseStored(s string) (float64, bool) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	digits := func() bool {
		from := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i > from
	}
	if !digits() {
		return 0, false
	}
	if i < len(s) && s[i] == '.' {
		i++
		if !digits() {
			return 0, false
		}
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		i++
		if i < len(s) && (s[i] == '-' || s[i] == '+') {
			i++
		}
		if !digits() {
			return 0, false
		}
	}
	if i != len(s) || len(s) > 64 {
		return 0, false
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) {
		return 0, false
	}
	return x, true
}

// storedText shows a stored number as a spreadsheet does, without the noise
// of binary fractions: 0.07 for 0.07000000000000001.
func storedText(s string) string {
	if len(s) < 16 {
		return s
	}
	x, ok := parseStored(s)
	if !ok {
		return s
	}
	return strconv.FormatFloat(x, 'g', 15, 64)
}

func formatShort(x float64) string { return strconv.FormatFloat(x, 'g', 12, 64) }
