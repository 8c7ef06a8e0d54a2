package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Minus is the sign printed before negative numbers (U+2212).
const Minus = "−"

// Number prints x to the decimal place where its standard uncertainty u has
// its second significant figure, with u to the same place, after the rule of
// the GUM (JCGM 100:2008, 7.2.6). Where u is NaN or zero it prints x with four
// significant figures and an empty second string.
func Number(x, u float64) (value, uncertainty string) {
	if math.IsNaN(x) {
		return "–", ""
	}
	if math.IsInf(x, 0) || math.IsNaN(u) || math.IsInf(u, 0) || u <= 0 {
		return sign(significant(x, 4)), ""
	}
	places := placesFor(u)
	return sign(fixed(x, places)), fixed(u, places)
}

// Text prints q without its unit: "31.42 ± 0.15", "< 0.01", "n.d.".
func (q Quantity) Text() string {
	if q.Known() {
		v, u := Number(q.Value, q.U)
		if u == "" {
			return v
		}
		return v + " ± " + u
	}
	return q.Mark()
}

// Mark prints what stands in place of a number; it is empty for a number.
func (q Quantity) Mark() string {
	if q.Known() {
		return ""
	}
	limit := func(sign, otherwise string) string {
		if math.IsNaN(q.Limit) {
			return otherwise
		}
		return sign + " " + significant(q.Limit, 3)
	}
	switch q.Class {
	case Below:
		return limit("<", "< limit")
	case Above:
		return limit(">", "> range")
	case NotFound:
		return "n.d."
	case NotRun:
		return "n.a."
	case Trace:
		return "trace"
	case Unusable:
		return "unreadable"
	}
	return "–"
}

// WithUnit prints q with its unit: "1172 ± 18 °C", "31.42 ± 0.15 wt%". A pure
// number has no unit to print.
func (q Quantity) WithUnit() string {
	t := q.Text()
	limited := (q.Class == Below || q.Class == Above) && !math.IsNaN(q.Limit)
	if q.Unit == "" || q.Unit == "1" || !(q.Known() || limited) {
		return t
	}
	return t + " " + q.Unit
}

// placesFor returns the decimal place of the second significant figure of u,
// negative for tens and hundreds, after rounding (0.0996 counts as 0.10).
func placesFor(u float64) int {
	_, exp, _ := strings.Cut(strconv.FormatFloat(u, 'e', 1, 64), "e")
	n, _ := strconv.Atoi(exp) // strconv writes it
	return 1 - n
}

func fixed(x float64, places int) string {
	if places >= 0 {
		return strconv.FormatFloat(x, 'f', places, 64)
	}
	p := math.Pow(10, float64(-places))
	return strconv.FormatFloat(math.Round(x/p)*p, 'f', 0, 64)
}

func significant(x float64, n int) string {
	if x == 0 || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	places := max(n-1-int(math.Floor(math.Log10(math.Abs(x)))), 0)
	s := strconv.FormatFloat(x, 'f', places, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

func sign(s string) string {
	if s == "-0" || (strings.HasPrefix(s, "-0.") && strings.Trim(s, "-0.") == "") {
		return s[1:]
	}
	if rest, ok := strings.CutPrefix(s, "-"); ok {
		return Minus + rest
	}
	return s
}
