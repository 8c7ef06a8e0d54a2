package sheet

import (
	"math"
	"strings"
)

// marker says what a heading beside an analyte means.
type marker struct {
	limit    string  // "LOD" or "LOQ" for a limit; empty for an uncertainty
	k        float64 // coverage factor; NaN when not stated
	relative bool    // percent of the value
	note     string  // how the uncertainty is to be described
}

const (
	noteUnknownK = "coverage not stated, taken as k=1"
	noteOneSigma = "stated as one standard deviation"
	noteTwoSigma = "stated as two standard deviations, halved"
	noteExpanded = "stated as expanded uncertainty, k=2, halved"
	noteInterval = "stated as 95 % interval, half width taken as k=2, halved"
	noteRelative = "stated as relative standard deviation"
	noteMean     = "stated as standard error of the mean"
)

// markerOf recognises uncertainty and limit words. Case matters where a single
// letter is the whole word: u is a standard uncertainty, U an expanded one.
func markerOf(s string) (marker, bool) {
	s, _ = foldSpaces(s)
	s = foldSigns(s)
	if in := inBrackets(s); in != "" {
		s = in
	}
	unknown := marker{k: math.NaN(), note: noteUnknownK}
	one := marker{k: 1, note: noteOneSigma}
	two := marker{k: 2, note: noteTwoSigma}
	switch s {
	case "u", "u(x)", "uc":
		return marker{k: 1, note: "stated as standard uncertainty"}, true
	case "U":
		return marker{k: 2, note: noteExpanded}, true
	case "s":
		return one, true
	}
	key := markerSigns.Replace(strings.ToLower(s))
	key = strings.TrimLeft(key, "±")
	key = strings.TrimPrefix(key, "+/")
	switch key {
	case "":
		if s == "±" || s == "+/-" || s == "+/−" || s == "+-" {
			return unknown, true
		}
		return marker{}, false
	case "error", "err", "errors", "uncertainty", "uncert", "unc", "unsicherheit", "incertitude", "+", "fehler":
		return unknown, true
	case "1sigma", "sigma", "1s", "1sd", "sd", "stdev", "std", "stddev", "standarddeviation", "1sigmaerror", "1serror", "1err", "error1sigma", "error1s":
		return one, true
	case "2sigma", "2s", "2sd", "2sigmaerror", "2serror", "error2sigma", "error2s", "2stdev":
		return two, true
	case "u95", "k=2", "uk=2", "u(k=2)", "u(95%)", "expandeduncertainty", "expanded":
		return marker{k: 2, note: noteExpanded}, true
	case "95%ci", "ci95", "ci95%", "95%", "95ci", "95%confidence":
		return marker{k: 2, note: noteInterval}, true
	case "ci":
		return marker{k: math.NaN(), note: "stated as confidence interval, factor not stated, taken as k=1"}, true
	case "rsd", "rsd%", "%rsd", "rsd(%)", "cv", "cv%", "%cv", "relerr", "relerr%", "rel%", "relsd", "relstdev", "relstd", "rsdpct":
		return marker{k: 1, relative: true, note: noteRelative}, true
	case "se", "sem", "standarderror", "stderr":
		return marker{k: 1, note: noteMean}, true
	case "lod", "dl", "mdl", "lld", "rl", "detlimit", "detectionlimit", "nwg", "limitofdetection", "ld":
		return marker{limit: "LOD"}, true
	case "loq", "bg", "limitofquantification", "quantificationlimit":
		return marker{limit: "LOQ"}, true
	}
	return marker{}, false
}

var markerSigns = strings.NewReplacer(" ", "", ".", "", "_", "", "-", "", "σ", "sigma")
