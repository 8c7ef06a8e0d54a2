package flow

import (
	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// tensionBand is the accuracy of the additive scheme.
const tensionBand = 0.20

// tensionLimit is the mole fraction up to which the terms of surface-active
// oxides were meant.
const tensionLimit = 0.12

// tensionAdditive holds surface tensions of the oxides in mN/m at 1773 K.
var tensionAdditive = [slag.NumOxides]float64{slag.SiO2: 260, slag.TiO2: 360, slag.CaO: 625, slag.MgO: 635, slag.FeO: 645, slag.MnO: 645, slag.Al2O3: 655}

// tensionActive holds the terms a + b·x + c·x² of surface-active oxides.
var tensionActive = [...]struct {
	o       slag.Oxide
	a, b, c float64
}{
	{slag.Na2O, 0.8, -1388, -6723},
	{slag.K2O, 0.8, -1388, -6723},
	{slag.P2O5, -5.2, -3454, 22178},
	{slag.Fe2O3, -3.7, -2972, 14312},
}

// SurfaceTension returns the surface tension of the liquid w (wt%) in mN/m at
// a temperature in °C after the additive scheme of Mills & Keene 1987 (from
// memory, less sure):
//
//	σ = Σ x σ_i + Σ_active (a + b x + c x²) − 0.15 (T − 1773)
//
// with x the mole fractions of the whole melt; other oxides add nothing. The
// band is ±20 %: no decision should rest on it. No figure for the tension
// between copper and slag was found that can be trusted, so there is none here.
func SurfaceTension(w slag.Wt, tc float64) Property {
	x := w.Mol()
	s := weighted(&tensionAdditive, &x) - 0.15*(tc+zeroCelsius-1773)
	far := -1
	for i, t := range tensionActive {
		if n := x[t.o]; n > 0 {
			s += t.a + n*(t.b+n*t.c)
			if n > tensionLimit {
				far = i
			}
		}
	}
	p := property(s, tensionBand, "mN/m", millsKeeneSource)
	p.refuse(w, tc)
	if far >= 0 {
		p.Notices.Add(source.Warning, "TENSION_RANGE", source.Cell{},
			"the melt holds %.0f mol%% %s; its term holds to about %.0f mol%%", 100*x[tensionActive[far].o], tensionActive[far].o, 100*tensionLimit)
	}
	if x[slag.Fe2O3] > 0 {
		p.Notices.Add(source.Note, "TENSION_FERRIC", source.Cell{},
			"ferric iron is counted as surface-active, which not all measurements bear out")
	}
	known := tensionAdditive
	for _, t := range tensionActive {
		known[t.o] = 1
	}
	p.leftOut(&w, &known)
	return p
}
