// Package redox says how reducing a furnace was: the oxygen potentials at which
// its solids and liquids are in balance (buffers), that of its gas over
// charcoal, what ferric iron tells of it, and the window that everything seen
// in a slag leaves open.
//
// Oxygen potentials are log10 of the oxygen fugacity in bar. Temperatures are
// in °C at the border of the package and in kelvin inside the formulas.
package redox

import (
	"math"

	"smeltbook/assay/source"
)

const (
	gasConstant = 8.314462618 // J/(mol K)
	zeroCelsius = 273.15      // K
)

// Buffer is an equilibrium that fixes the oxygen potential at a temperature.
type Buffer struct {
	ID         string  // stable name, "iw"
	Family     string  // ID of the buffer's first source: the same for all sources of one equilibrium
	Label      string  // for people, "iron and wüstite"
	Reaction   string  // per mole of O2
	Source     string  // author, year, journal
	LoC, HiC   float64 // range of the source, °C
	logFO2     func(T float64) float64
	derivation string // set where the line goes beyond its source
}

// LogFO2 returns log10 of the oxygen fugacity in bar at a temperature in °C,
// with a warning outside the range of the source. It is NaN at or below
// absolute zero.
func (b Buffer) LogFO2(tc float64) (float64, source.Notices) {
	var ns source.Notices
	T := tc + zeroCelsius
	if !(T > 0) || math.IsInf(T, 1) {
		ns.Add(source.Error, "NO_TEMPERATURE", source.Cell{}, "%g °C is no temperature; give one between %.0f and %.0f °C", tc, b.LoC, b.HiC)
		return math.NaN(), ns
	}
	if tc < b.LoC || tc > b.HiC {
		ns.Add(source.Warning, "BUFFER_RANGE", source.Cell{},
			"the line of %s (%s) was fitted from %.0f to %.0f °C; %.0f °C is outside", b.Label, b.Source, b.LoC, b.HiC, tc)
	}
	return b.logFO2(T), ns
}

// Derivation says what was added to the source's own line, empty where
// nothing was.
func (b Buffer) Derivation() string { return b.derivation }

// fromPotential turns a chemical potential of O2 in J/mol into log fO2.
func fromPotential(mu, T float64) float64 { return mu / (gasConstant * T * math.Ln10) }

// IronWustite returns the buffer 2Fe + O2 = 2FeO of O'Neill & Pownceby 1993.
// Below it iron is reduced to metal; it is the natural lower bound for a
// furnace that made copper without iron in it.
func IronWustite() Buffer {
	return Buffer{ID: "iw", Family: "iw", Label: "iron and wüstite", Reaction: "2Fe + O2 = 2FeO",
		Source: "O'Neill & Pownceby 1993, Contrib. Mineral. Petrol. 114:296", LoC: 833 - zeroCelsius, HiC: 1644 - zeroCelsius,
		logFO2: func(T float64) float64 {
			var mu float64
			switch ln := math.Log(T); {
			case T < 1042:
				mu = -605812 + 1366.718*T - 182.7955*T*ln + 0.10359*T*T
			case T < 1184:
				mu = -519357 + 59.427*T + 8.9276*T*ln
			default:
				mu = -551159 + 269.404*T - 16.9484*T*ln
			}
			return fromPotential(mu, T)
		}}
}

// FayaliteMagnetite returns the buffer 3Fe2SiO4 + O2 = 2Fe3O4 + 3SiO2 (QFM) of
// Frost 1991, the one that reaches furnace temperatures. Above the melting of
// fayalite (about 1205 °C) the line is metastable and only a yardstick.
func FayaliteMagnetite() Buffer {
	return Buffer{ID: "qfm", Family: "qfm", Label: "quartz, fayalite and magnetite", Reaction: "3Fe2SiO4 + O2 = 2Fe3O4 + 3SiO2",
		Source: "Frost 1991, Rev. Mineral. 25:1", LoC: 573, HiC: 1200,
		logFO2: func(T float64) float64 { return -25096.3/T + 8.735 }}
}

// FayaliteMagnetiteONeill returns the same buffer after O'Neill 1987, which
// ends at 1147 °C. The two lines show how far the sources differ.
func FayaliteMagnetiteONeill() Buffer {
	return Buffer{ID: "qfm_oneill", Family: "qfm", Label: "quartz, fayalite and magnetite", Reaction: "3Fe2SiO4 + O2 = 2Fe3O4 + 3SiO2",
		Source: "O'Neill 1987, Am. Mineral. 72:67", LoC: 900 - zeroCelsius, HiC: 1420 - zeroCelsius,
		logFO2: func(T float64) float64 {
			return fromPotential(-587474+1584.427*T-203.3164*T*math.Log(T)+0.092710*T*T, T)
		}}
}

// WustiteMagnetite returns the buffer 6FeO + O2 = 2Fe3O4 of Frost 1991.
func WustiteMagnetite() Buffer {
	return Buffer{ID: "wm", Family: "wm", Label: "wüstite and magnetite", Reaction: "6FeO + O2 = 2Fe3O4",
		Source: "Frost 1991, Rev. Mineral. 25:1", LoC: 565, HiC: 1200,
		logFO2: func(T float64) float64 { return -32807/T + 13.012 }}
}
