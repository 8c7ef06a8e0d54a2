package wetlab

import (
	"slices"
	"strings"
)

// dimension is what a unit measures; its text is the unit in which readings
// are kept.
type dimension string

const (
	gram       dimension = "g"
	millilitre dimension = "mL"
	molar      dimension = "mol/L"
	milligramL dimension = "mg/L"
	millimole  dimension = "mmol"
	percent    dimension = "%"
	litrePerMg dimension = "L/mg"
	pureNumber dimension = "1"
)

// unitTable gives what a unit measures and the factor to the unit of its
// dimension.
var unitTable = map[string]struct {
	dim    dimension
	factor float64
}{
	"g": {gram, 1}, "mg": {gram, 1e-3}, "kg": {gram, 1e3}, "µg": {gram, 1e-6}, "ug": {gram, 1e-6},
	"ml": {millilitre, 1}, "cm3": {millilitre, 1}, "cm³": {millilitre, 1}, "l": {millilitre, 1e3}, "µl": {millilitre, 1e-3}, "ul": {millilitre, 1e-3},
	"mol/l": {molar, 1}, "mol/dm3": {molar, 1}, "mol/dm³": {molar, 1}, "mmol/l": {molar, 1e-3}, "mmol/ml": {molar, 1},
	"mg/l": {milligramL, 1}, "µg/ml": {milligramL, 1}, "ug/ml": {milligramL, 1}, "mg/ml": {milligramL, 1e3}, "g/l": {milligramL, 1e3}, "µg/l": {milligramL, 1e-3}, "ug/l": {milligramL, 1e-3},
	"mmol": {millimole, 1}, "mol": {millimole, 1e3}, "µmol": {millimole, 1e-3}, "umol": {millimole, 1e-3},
	"%": {percent, 1}, "% rel": {percent, 1}, "% rel.": {percent, 1}, "wt%": {percent, 1},
	"l/mg": {litrePerMg, 1}, "l mg-1": {litrePerMg, 1}, "ml/µg": {litrePerMg, 1}, "ml/ug": {litrePerMg, 1},
	"": {pureNumber, 1}, "1": {pureNumber, 1}, "a": {pureNumber, 1}, "abs": {pureNumber, 1}, "absorbance": {pureNumber, 1},
}

// parseUnit reads a unit as printed over a column.
func parseUnit(s string) (dim dimension, factor float64, ok bool) {
	s = strings.NewReplacer("μ", "µ", "⁻¹", "-1", " / ", "/").Replace(strings.ToLower(strings.TrimSpace(s)))
	u, ok := unitTable[s]
	return u.dim, u.factor, ok
}

// unitNames lists the units in which a dimension may be given.
func unitNames(d dimension) string {
	var names []string
	for name, u := range unitTable {
		if u.dim == d && name != "" && !strings.HasPrefix(name, "u") {
			names = append(names, strings.ReplaceAll(strings.ReplaceAll(name, "l/", "L/"), "ml", "mL"))
		}
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}
