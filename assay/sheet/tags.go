package sheet

import "strings"

// basisWords say of what a percentage is a percentage.
var basisWords = map[string]string{
	"dry": "dry", "dry basis": "dry", "db": "dry", "d b": "dry", "dried": "dry", "105 °c": "dry", "trocken": "dry",
	"ign": "ignited", "ignited": "ignited", "ignited basis": "ignited", "geglüht": "ignited", "calcined": "ignited",
	"loi-free": "loi-free", "loi free": "loi-free", "volatile-free": "loi-free", "volatile free": "loi-free", "anhydrous": "loi-free", "water-free": "loi-free",
	"norm": "normalised", "normalised": "normalised", "normalized": "normalised", "norm 100": "normalised", "normiert": "normalised", "recalculated": "normalised",
	"as received": "as received", "ar": "as received", "a r": "as received", "as rec": "as received", "as-received": "as received",
}

func basisOf(s string) (string, bool) {
	b, ok := basisWords[word(strings.Trim(s, "()[]"))]
	return b, ok
}

// basisPhrases are statements of a basis in running text.
var basisPhrases = []struct{ phrase, basis string }{
	{"dry basis", "dry"}, {"dried at", "dry"}, {"on dried", "dry"}, {"dry powder", "dry"},
	{"ignited basis", "ignited"}, {"ignited powder", "ignited"}, {"on ignited", "ignited"},
	{"volatile-free", "loi-free"}, {"loi-free", "loi-free"}, {"loi free", "loi-free"},
	{"as received", "as received"}, {"as-received", "as received"},
}

// basisStatement is a basis that a text states: for one analyte, or for all
// results where analyte is empty.
type basisStatement struct{ analyte, basis string }

// basisInText finds the bases that a title or footnote states, clause by
// clause: "values on dried powder, moisture on the powder as received" speaks
// of two. Where two clauses contradict each other nothing is taken.
func basisInText(s string) []basisStatement {
	found := map[string]string{}
	for _, clause := range strings.FieldsFunc(s, func(r rune) bool { return r == ',' || r == ';' }) {
		w := " " + word(clause) + " "
		about := ""
		switch {
		case strings.Contains(w, "moisture"), strings.Contains(w, "h2o-"):
			about = "H2O-"
		case strings.Contains(w, " loi ") && !strings.Contains(w, "loi free"), strings.Contains(w, "loss on ignition"):
			about = "LOI"
		}
		for _, p := range basisPhrases {
			if !strings.Contains(w, p.phrase) {
				continue
			}
			if old, twice := found[about]; twice && old != p.basis {
				return nil
			}
			found[about] = p.basis
		}
	}
	var out []basisStatement
	for _, about := range []string{"H2O-", "LOI", ""} {
		if b, ok := found[about]; ok {
			out = append(out, basisStatement{about, b})
		}
	}
	return out
}

// techniques are the analytical methods that occur as tags in headings.
var techniques = []string{
	"XRF", "WDXRF", "EDXRF", "PXRF", "HHXRF", "FPXRF", "ICP", "ICPOES", "ICPAES", "ICPMS", "OES", "AES", "MS", "AAS", "FAAS", "GFAAS", "AA", "INAA", "NAA",
	"LECO", "EPMA", "EMPA", "WDS", "EDS", "EDX", "SEM", "PIXE", "LAICPMS", "LIBS", "XRD",
	"GRAV", "GRAVIMETRY", "GRAVIMETRIC", "TITR", "TITRATION", "TITRIMETRIC", "WET", "PHOTOMETRY", "PHOT", "ELECTROGRAVIMETRY", "FUSEDBEAD", "PELLET", "PRESSEDPELLET", "4ACID", "FUSION", "RFA",
}

// isMethod recognises a method tag: a technique, or a laboratory's code that
// holds one between hyphens and digits ("ME-XRF26", "FUS-ICP").
func isMethod(s string) bool {
	s = strings.Trim(s, "()[]. ")
	if len(s) < 2 || len(s) > 24 {
		return false
	}
	whole := strings.ToUpper(methodSigns.Replace(s))
	for _, t := range techniques {
		if whole == t {
			return true
		}
	}
	if strings.ToUpper(s) != s || !strings.ContainsAny(s, "-0123456789") {
		return false
	}
	for _, piece := range strings.FieldsFunc(s, func(r rune) bool { return r < 'A' || r > 'Z' }) {
		for _, t := range []string{"XRF", "ICP", "AAS", "INAA", "OES", "LECO"} {
			if piece == t {
				return true
			}
		}
	}
	return false
}

var methodSigns = strings.NewReplacer("-", "", " ", "", ".", "")
