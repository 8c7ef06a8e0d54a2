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
	if rest, ok := strings.CutPrefix(s, "'"); ok { // typed to keep a number as text
		if t, ok := plainNumber(rest, m); ok {
			return t
		}
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
