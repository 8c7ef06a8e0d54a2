package flow

import (
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Property is a computed property of a melt with the band in which it is to be
// trusted.
type Property struct {
	Value, Lo, Hi float64
	Unit          string
	Source        string
	Notices       source.Notices
}

func property(x, relative float64, unit, from string) Property {
	return Property{Value: x, Lo: x * (1 - relative), Hi: x * (1 + relative), Unit: unit, Source: from}
}

const (
	millsKeeneSource = "Mills & Keene 1987, Int. Mater. Rev. 32:1"
	langeSource      = "Lange & Carmichael 1987, Geochim. Cosmochim. Acta 51:2931; 1990, Rev. Mineral. 24:25"

	// DensityBand is what comparison with measured melts allows; the authors
	// claim 2 %.
	DensityBand = 0.04

	// leftOutLimit is the wt% of oxides without a coefficient above which a
	// warning is given; our convention.
	leftOutLimit = 2.0
)

// millsKeeneVolume holds partial molar volumes at 1773 K in cm³/mol; those of
// SiO2 and Al2O3 depend on the composition. Cu2O is derived from the density
// of the liquid oxide, 5.5 g/cm³ at 1573 K (Takasu, Itou & Nakamura); ZnO
// takes the volume of FeO, our convention.
var millsKeeneVolume = [slag.NumOxides]float64{slag.CaO: 20.7, slag.MgO: 16.1, slag.FeO: 15.8, slag.MnO: 15.6, slag.Na2O: 33.0,
	slag.K2O: 51.8, slag.TiO2: 24.0, slag.Fe2O3: 38.4, slag.P2O5: 65.7, slag.Cu2O: 26.5, slag.ZnO: 15.8,
	slag.SiO2: 19.55, slag.Al2O3: 28.31}

// Density returns the density of the liquid w (wt%) in g/cm³ at a temperature
// in °C after Mills & Keene 1987: molar volumes of the oxides, added up, with
// an expansion of 0.01 % a kelvin. The band is ±4 %.
func Density(w slag.Wt, tc float64) Property {
	p := property(millsKeene(&w, tc+zeroCelsius), DensityBand, "g/cm³", millsKeeneSource)
	p.refuse(w, tc)
	p.leftOut(&w, &millsKeeneVolume)
	return p
}

func millsKeene(w *slag.Wt, T float64) float64 {
	var n, mass float64
	for o, v := range millsKeeneVolume {
		if v > 0 {
			n += w[o] / slag.Oxide(o).Mass()
			mass += w[o]
		}
	}
	if n <= 0 {
		return math.NaN()
	}
	var volume float64
	for o, v := range millsKeeneVolume {
		if v == 0 || w[o] == 0 {
			continue
		}
		x := w[o] / slag.Oxide(o).Mass() / n
		switch slag.Oxide(o) {
		case slag.SiO2:
			v += 7.966 * x
		case slag.Al2O3:
			v += 32*x - 31.45*x*x
		}
		volume += x * v
	}
	return mass / n / (volume * (1 + 1e-4*(T-1773)))
}

// langeVolume holds molar volumes at 1673 K in cm³/mol and langeExpansion
// their change with temperature in cm³/(mol K). MnO and ZnO take those of FeO.
var (
	langeVolume = [slag.NumOxides]float64{slag.SiO2: 26.90, slag.TiO2: 23.16, slag.Al2O3: 37.11, slag.Fe2O3: 42.13, slag.FeO: 13.65,
		slag.MnO: 13.65, slag.ZnO: 13.65, slag.MgO: 11.45, slag.CaO: 16.57, slag.Na2O: 28.78, slag.K2O: 45.84}
	langeExpansion = [slag.NumOxides]float64{slag.TiO2: 7.24e-3, slag.Al2O3: 2.62e-3, slag.Fe2O3: 9.09e-3, slag.FeO: 2.92e-3,
		slag.MnO: 2.92e-3, slag.ZnO: 2.92e-3, slag.MgO: 2.62e-3, slag.CaO: 2.92e-3, slag.Na2O: 7.41e-3, slag.K2O: 11.91e-3}
)

// DensityLangeCarmichael returns the density of the liquid w (wt%) in g/cm³ at
// a temperature in °C after Lange & Carmichael, fitted to natural melts: a
// second opinion. The band is ±4 %.
func DensityLangeCarmichael(w slag.Wt, tc float64) Property {
	p := property(langeCarmichael(&w, tc+zeroCelsius), DensityBand, "g/cm³", langeSource)
	p.refuse(w, tc)
	p.leftOut(&w, &langeVolume)
	return p
}

func langeCarmichael(w *slag.Wt, T float64) float64 {
	var mass, volume float64
	for o, v := range langeVolume {
		if v > 0 {
			mass += w[o]
			volume += w[o] / slag.Oxide(o).Mass() * (v + langeExpansion[o]*(T-1673))
		}
	}
	if volume <= 0 {
		return math.NaN()
	}
	return mass / volume
}

// refuse empties the property where the melt or the temperature is none.
func (p *Property) refuse(w slag.Wt, tc float64) {
	err := checkMelt(w)
	if err == nil {
		err = possible(tc)
	}
	if err == nil && math.IsNaN(p.Value) {
		p.Notices.Add(source.Error, "PROPERTY_UNDEFINED", source.Cell{}, "the melt holds none of the oxides of %s", p.Source)
	}
	if err != nil {
		p.Value, p.Lo, p.Hi = math.NaN(), math.NaN(), math.NaN()
		p.Notices.Add(source.Error, "PROPERTY_UNDEFINED", source.Cell{}, "%v", err)
	}
}

// leftOut warns where oxides without a coefficient make up much of the melt.
func (p *Property) leftOut(w *slag.Wt, coefficient *[slag.NumOxides]float64) {
	var sum, left float64
	for o, x := range w {
		sum += x
		if coefficient[o] == 0 {
			left += x
		}
	}
	if share := 100 * left / sum; share > leftOutLimit {
		p.Notices.Add(source.Warning, "PROPERTY_OXIDES_LEFT_OUT", source.Cell{},
			"%.1f wt%% of the melt are oxides for which %s has no value; they are left out", share, p.Source)
	}
}
