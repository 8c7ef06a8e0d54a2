package sheet

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
)

// reading of one cell of an analyte column, in the unit of the column.
type token struct {
	class  quantity.Class
	value  float64 // NaN unless measured
	limit  float64 // NaN unless stated
	u      float64 // uncertainty in the same cell, NaN when none
	unit   *unit   // unit in the same cell
	flags  []string
	traits numberTraits
	number bool   // a number was read, be it value or limit
	limits string // "LOD" or "LOQ": the limit stands elsewhere
	nd     bool   // "n.d.", of which a footnote may tell the meaning
	marks  string // footnote marks
	why    string // for unusable: what is wrong, ready for a sentence
}

func noNumber(class quantity.Class) token {
	return token{class: class, value: math.NaN(), limit: math.NaN(), u: math.NaN()}
}

// words that stand in place of a number, reduced by censorKey.
var censorWords = map[string]quantity.Class{
	"nd": quantity.NotFound, "notdetected": quantity.NotFound, "notfound": quantity.NotFound, "nn": quantity.NotFound,
	"nichtnachweisbar": quantity.NotFound, "none": quantity.NotFound, "nil": quantity.NotFound,
	"nb": quantity.NotRun, "na": quantity.NotRun, "n/a": quantity.NotRun, "notdet": quantity.NotRun, "undet": quantity.NotRun,
	"notdetermined": quantity.NotRun, "notanalysed": quantity.NotRun, "notanalyzed": quantity.NotRun, "notmeasured": quantity.NotRun,
	"nm": quantity.NotRun, "nichtbestimmt": quantity.NotRun, "undetermined": quantity.NotRun,
	"bdl": quantity.Below, "udl": quantity.Below, "bld": quantity.Below, "lld": quantity.Below, "lod": quantity.Below, "dl": quantity.Below, "loq": quantity.Below,
	"blod": quantity.Below, "belowdetection": quantity.Below, "belowdetectionlimit": quantity.Below, "belowlod": quantity.Below,
	"tr": quantity.Trace, "trace": quantity.Trace, "traces": quantity.Trace, "sp": quantity.Trace, "spur": quantity.Trace, "spuren": quantity.Trace,
	"-": quantity.Missing, "--": quantity.Missing, "---": quantity.Missing, "/": quantity.Missing, "": quantity.Missing,
}

// errorWords are the errors of spreadsheet programs, as typed by them.
var errorWords = map[string]bool{
	"#DIV/0!": true, "#VALUE!": true, "#REF!": true, "#NAME?": true, "#N/A": true, "#NUM!": true, "#NULL!": true,
	"#WERT!": true, "#BEZUG!": true, "#ZAHL!": true, "#NV": true, "#SPILL!": true, "#CALC!": true, "Err:502": true, "Err:504": true,
}

func censorKey(s string) string {
	s = strings.ToLower(foldSigns(s))
	return noStops.Replace(s)
}

// parseToken reads the text of a value cell.
func parseToken(text string, m marks) token {
	s, odd := foldSpaces(text)
	t := parseFolded(s, m)
	t.traits.oddSpace = t.traits.oddSpace || (odd && t.number)
	return t
}

func parseFolded(s string, m marks) token {
	if s == "" {
		return noNumber(quantity.Missing)
	}
	if errorWords[s] {
		t := noNumber(quantity.Unusable)
		t.why = "is an error of the spreadsheet; correct the formula or leave the cell empty"
		return t
	}
	if t, ok := plainNumber(s, m); ok {
		return t
	}
	key := censorKey(s)
	if class, ok := censorWords[key]; ok && strings.ToLower(s) != "lod" || key == "lod" {
		t := noNumber(class)
		t.nd = key == "nd"
		if class == quantity.Below {
			t.limits = "LOD"
			if key == "loq" {
				t.limits = "LOQ"
			}
		}
		return t
	}
	for _, read := range []func(string, marks) (token, bool){marked, censored, approximate, bracketed, withUncertainty, withUnit} {
		if t, ok := read(s, m); ok {
			return t
		}
	}
	t := noNumber(quantity.Unusable)
	t.why = whyNotNumber(s, m)
	return t
}

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

// whyNotNumber words what is wrong with a token and what may have been meant.
func whyNotNumber(s string, m marks) string {
	if _, traits, ok := parseNumber(s, m); !ok && traits.undecided {
		return "may be thousands or decimals; state the decimal mark for this sheet"
	}
	if looksLikeDate(s) {
		return "looks like a date where a number belongs; type the number again as the laboratory gave it"
	}
	repaired := digitsForLetters.Replace(s)
	if repaired != s {
		if _, ok := plainNumber(repaired, m); ok {
			switch {
			case strings.ContainsAny(s, "Oo"):
				return "is not a number (letter O for zero?); correct the cell or leave it empty"
			default:
				return "is not a number (a letter for a digit?); correct the cell or leave it empty"
			}
		}
	}
	if i := strings.IndexAny(s, "eE"); i > 0 {
		if _, ok := parseStored(s); ok {
			return "is a number with an exponent stored as text; write it out in full"
		}
	}
	return "is not a number; correct the cell or leave it empty"
}

var noStops = strings.NewReplacer(".", "", " ", "")

// digitsForLetters turns letters into the digits they are mistaken for.
var digitsForLetters = strings.NewReplacer("O", "0", "o", "0", "l", "1", "I", "1", "S", "5", "B", "8")
