package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
)

func plainNumber(s string, m marks) (token, bool) {
	x, traits, ok := parseNumber(s, m)
	if !ok {
		return token{}, false
	}
	t := noNumber(quantity.Measured)
	t.value, t.traits, t.number = x, traits, true
	return t, true
}

// censored reads "<0.01", "≤ 5 ppm", "<LOD", ">10", "b.d.l. (0.02)".
func censored(s string, m marks) (token, bool) {
	class, rest := quantity.Below, s
	for {
		r := []rune(rest)
		if len(r) == 0 {
			return token{}, false
		}
		if strings.ContainsRune("<≤‹＜", r[0]) {
			rest = string(r[1:])
		} else if strings.ContainsRune(">≥›＞", r[0]) {
			class, rest = quantity.Above, string(r[1:])
		} else {
			break
		}
		rest = strings.TrimPrefix(strings.TrimSpace(rest), "=")
	}
	if rest == s {
		open := strings.IndexAny(s, "([")
		if open <= 0 || censorWords[censorKey(s[:open])] != quantity.Below || inBrackets(s[open:]) == "" {
			return token{}, false
		}
		rest = inBrackets(s[open:])
		rest = strings.TrimLeft(rest, "<= ")
	}
	t := noNumber(class)
	switch word := strings.ToUpper(censorKey(rest)); word {
	case "LOD", "DL", "LLD", "MDL", "RL", "BDL", "LD", "DETLIMIT", "NWG":
		t.limits = "LOD"
		return t, class == quantity.Below
	case "LOQ", "BG":
		t.limits = "LOQ"
		return t, class == quantity.Below
	}
	n, ok := plainNumber(rest, m)
	if !ok {
		if n, ok = withUnit(rest, m); !ok {
			n, ok = marked(rest, m)
		}
	}
	if !ok || n.class != quantity.Measured || n.value < 0 {
		return token{}, false
	}
	t.limit, t.unit, t.traits, t.number, t.marks = n.value, n.unit, n.traits, true, n.marks
	return t, true
}

// approximate reads "~0.5", "ca. 0.5", "0.5?".
func approximate(s string, m marks) (token, bool) {
	rest := strings.TrimSuffix(s, "?")
	for _, lead := range []string{"~", "≈", "ca.", "ca ", "c.", "approx.", "approx "} {
		if cut, ok := strings.CutPrefix(strings.ToLower(rest), lead); ok {
			rest = cut
			break
		}
	}
	rest = strings.TrimSpace(rest)
	if rest == s {
		return token{}, false
	}
	t, ok := plainNumber(rest, m)
	if !ok {
		t, ok = withUnit(rest, m)
	}
	t.flags = append(t.flags, "approximate")
	return t, ok
}

// bracketed reads "(0.05)": an information value, never a negative number.
func bracketed(s string, m marks) (token, bool) {
	in := inBrackets(s)
	if in == "" {
		return token{}, false
	}
	t, ok := plainNumber(in, m)
	t.flags = append(t.flags, "in brackets")
	return t, ok
}

// marked reads "0.05*": a value with footnote marks.
func marked(s string, m marks) (token, bool) {
	rest := strings.TrimRight(s, "*†‡§¹²³ ")
	if rest == s || rest == "" {
		return token{}, false
	}
	t, ok := plainNumber(rest, m)
	if !ok {
		return token{}, false
	}
	t.marks = strings.TrimSpace(s[len(rest):])
	return t, true
}

// withUncertainty reads "0.32±0.02", "0.32 +/- 0.02" and "0.32(2)".
func withUncertainty(s string, m marks) (token, bool) {
	for _, sign := range []string{"±", "+/-", "+/−", "+-"} {
		a, b, found := strings.Cut(s, sign)
		if !found {
			continue
		}
		t, ok1 := plainNumber(strings.TrimSpace(a), m)
		u, ok2 := plainNumber(strings.TrimSpace(b), m)
		if !ok1 || !ok2 || u.value < 0 {
			return token{}, false
		}
		t.u = u.value
		return t, true
	}
	open := strings.IndexByte(s, '(')
	if open <= 0 || !strings.HasSuffix(s, ")") || !allDigits(s[open+1:len(s)-1]) || len(s)-open > 5 {
		return token{}, false
	}
	t, ok := plainNumber(strings.TrimSpace(s[:open]), m)
	if !ok {
		return token{}, false
	}
	places := 0
	if shape, mark := shapeOf(strings.TrimSpace(s[:open])); shape == shapeDecimal || (shape == shapeOpen && mark == m.decimal) {
		places = open - 1 - strings.LastIndexByte(s[:open], mark)
	}
	digits, _ := parseStored(s[open+1 : len(s)-1])
	t.u = digits * math.Pow(10, -float64(places))
	return t, true
}

// withUnit reads "31.4 %" and "250 ppm".
func withUnit(s string, m marks) (token, bool) {
	end := strings.LastIndexAny(s, "0123456789")
	if end < 0 || end == len(s)-1 {
		return token{}, false
	}
	for i := end + 1; i > 0; i-- { // a unit may hold digits: mg kg-1
		u, ok := parseUnit(s[i:])
		if !ok {
			if s[i-1] == ' ' || s[i-1] >= '0' && s[i-1] <= '9' || s[i-1] == '-' || s[i-1] >= 'a' && s[i-1] <= 'z' {
				continue
			}
			break
		}
		t, ok := plainNumber(strings.TrimSpace(s[:i]), m)
		if !ok {
			continue
		}
		t.unit = &u
		return t, true
	}
	return token{}, false
}
