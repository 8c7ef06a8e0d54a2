package refit

import (
	"math"
	"math/rand/v2"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// constraint is a place where nothing may be solid (ceiling), or where
// something must be (floor): it keeps false domes and pockets out of the
// regions where no point is published. Only is empty for any phase.
type constraint struct {
	w     slag.Wt
	tc    float64
	floor bool
	only  melt.Phase
	scale float64 // of S; the width of the penalty

	// behind holds S of the phase, by a margin, below the greatest of the
	// phases that come first in such a slag, in place of a ceiling or a floor.
	behind melt.Phase

	// tie holds S of the first of two minerals to that of the second and
	// beyond, in place of a ceiling or a floor.
	tie    [2]string
	beyond float64
}

const (
	constraintScale = 0.15
	slagScale       = 0.05  // for drawn slags: some 10 °C
	silicaScale     = 0.008 // for silica, whose S changes little with temperature: some 20 °C
)

// abovePoints keeps everything molten at 100, 400 and 1000 °C above the points.
func abovePoints(points []Point) (list []constraint) {
	for _, p := range points {
		for _, above := range []float64{100, 400, 1000} {
			if tc := rounded(p.TC + above); tc < 2900 {
				list = append(list, constraint{w: p.W, tc: tc, scale: constraintScale})
			}
		}
	}
	return list
}

// rounded brings temperatures together, as much is computed once for each.
func rounded(tc float64) float64 { return 20 * math.Round(tc/20) }

// constraints returns the constraints of a stage, our own judgement of how
// smooth the surface is between the published points.
func constraints(stage int, m *melt.Model) []constraint {
	if stage == 0 {
		return coreConstraints()
	}
	if stage == 1 {
		return append(slagConstraints(stage, m), fayaliticConstraints()...)
	}
	return slagConstraints(stage, m)
}

func ceiling(tc float64, w slag.Wt) constraint {
	return constraint{w: w.Normalise(), tc: tc, scale: constraintScale}
}

// The two forms of CaSiO3 change into each other at 1125 °C with about 6 kJ/mol
// (Robie & Hemingway 1995 and others: 1120 to 1130 °C, 5 to 7; from memory).
const (
	wollastoniteChange = 1125 + 273.15 // K
	wollastoniteHeat   = 6000.0        // J/mol
	tieScale           = 0.01
)

func wollastoniteTies() (list []constraint) {
	for _, tc := range []float64{900, 1000, 1125, 1250} {
		T := tc + 273.15
		list = append(list, constraint{
			w: slag.Wt{slag.SiO2: 51.72, slag.CaO: 48.28}, tc: tc, scale: tieScale,
			tie:    [2]string{"wollastonite", "pseudowollastonite"},
			beyond: wollastoniteHeat / 8.314462618 * (1/T - 1/wollastoniteChange),
		})
	}
	return list
}

// firstInFayalitic are the minerals of which one comes first in slags rich in
// iron and poor in silica: common practice, as olivine, wüstite and hercynite
// are the coarse crystals of such slags and feldspar is late, if there at all.
var firstInFayalitic = []melt.Phase{melt.Olivine, melt.Wustite, melt.Spinel}

const (
	fayaliticTC     = 1130.0 // °C, near their liquidus
	fayaliticMargin = 0.05   // of S, some 10 °C
)

// fayaliticConstraints draws slags with more than 40 wt% FeO, less than 36 SiO2
// and some alumina, always the same, and keeps anorthite and melilite behind.
func fayaliticConstraints() (list []constraint) {
	r := rand.New(rand.NewPCG(3, 1))
	for len(list) < 120 {
		w := slag.Wt{slag.SiO2: 25 + 11*r.Float64(), slag.CaO: 14 * r.Float64(), slag.Al2O3: 10 * r.Float64()}
		w[slag.FeO] = 100 - w[slag.SiO2] - w[slag.CaO] - w[slag.Al2O3]
		if w[slag.FeO] <= 40 {
			continue
		}
		for _, late := range []melt.Phase{melt.Anorthite, melt.Melilite} {
			list = append(list, constraint{w: w, tc: fayaliticTC, behind: late, scale: slagScale})
		}
	}
	return list
}

func coreConstraints() (list []constraint) {
	list = wollastoniteTies()
	for s := 0.0; s <= 100; s += 10 {
		for c := 0.0; c+s <= 100; c += 10 {
			w := slag.Wt{slag.SiO2: s, slag.CaO: c, slag.FeO: 100 - s - c}
			if s >= 25 && s <= 45 && c <= 25 && w[slag.FeO] > 0 {
				list = append(list, ceiling(1500, w))
			} else if w[slag.FeO] >= 20 && c <= 50 {
				list = append(list, ceiling(2000, w))
			}
		}
	}
	// Along dicalcium silicate and FeO the liquidus falls steadily.
	for _, j := range [][2]float64{{10, 2090}, {20, 2000}, {30, 1880}, {40, 1720}, {50, 1540}, {60, 1430}, {70, 1330}, {80, 1300}} {
		rest := 100 - j[0]
		list = append(list, ceiling(j[1], slag.Wt{slag.FeO: j[0], slag.SiO2: rest * 0.3488, slag.CaO: rest * 0.6512}))
	}
	// Rankinite is not stable beyond about 30 wt% FeO.
	for _, f := range []float64{33, 38, 45} {
		rest := 100 - f
		list = append(list, constraint{w: slag.Wt{slag.FeO: f, slag.SiO2: rest * 0.4166, slag.CaO: rest * 0.5834}, tc: 1240 - 2*(f-33), only: melt.Rankinite, scale: constraintScale})
	}
	// The side of CaO and FeO holds no pocket much colder than its eutectic.
	for _, s := range []float64{0, 4, 8} {
		for _, c := range []float64{10, 18, 26} {
			list = append(list, constraint{w: slag.Wt{slag.SiO2: s, slag.CaO: c, slag.FeO: 100 - s - c}, tc: 1100, floor: true, scale: constraintScale})
		}
		list = append(list, constraint{w: slag.Wt{slag.SiO2: s, slag.CaO: 34, slag.FeO: 66 - s}, tc: 1100, floor: true, scale: constraintScale})
	}
	return append(list, silicaBesideLime()...)
}

// silicaBesideLime keeps silica saturated not far below the temperature at
// which it coexists with two liquids, 1698 °C, across the gap with CaO (Greig
// 1927, Am. J. Sci. 13:1–44, 133–154; from memory, high), and between the gap
// and the eutectic with CaSiO3 not more than 50 °C above the straight line (our
// own judgement).
func silicaBesideLime() (list []constraint) {
	at := func(share, tc float64) constraint {
		return constraint{w: slag.Wt{slag.SiO2: share, slag.CaO: 100 - share}, tc: tc, only: melt.Cristobalite, scale: silicaScale}
	}
	for share := 76.0; share <= 92; share += 4 {
		c := at(share, 1660)
		c.floor = true
		list = append(list, c)
	}
	for share := 65.0; share <= 71; share++ {
		list = append(list, at(share, 1436+50+(share-63)*(1698-1436)/(72.5-63)))
	}
	return list
}

// effect says by how much the oxides of a stage may move the liquidus of an
// ordinary slag: °C per wt% downwards and upwards, beside slack.
var effect = [Stages]struct{ down, up float64 }{1: {20, 30}, 2: {5, 26}, 3: {25, 8}, 4: {15, 25}, 5: {15, 15}}

const effectSlack = 20.0 // °C

// slagConstraints draws smelting slags, always the same, and keeps their
// liquidus between 1000 and 1480 °C, and near to that of the same slag without
// the oxides of the stage, as m has it.
func slagConstraints(stage int, m *melt.Model) (list []constraint) {
	r := rand.New(rand.NewPCG(2, uint64(stage)))
	draws := 120
	if stage == 3 {
		draws = 200 // more oxides come in
	}
	for range draws {
		w := slag.Wt{slag.SiO2: 25 + 18*r.Float64(), slag.CaO: 20 * r.Float64()}
		if stage == 1 || r.IntN(3) > 0 {
			w[slag.Al2O3] = 15 * r.Float64() * r.Float64()
		}
		if stage == 2 || (stage >= 3 && r.IntN(2) == 0) {
			w[slag.MgO] = 7 * r.Float64()
		}
		if stage == 3 {
			w[slag.MnO] = 6 * r.Float64() * float64(r.IntN(2))
			w[slag.K2O] = 3.5 * r.Float64()
			w[slag.Na2O] = 2.5 * r.Float64() * float64(r.IntN(2))
			if r.IntN(3) == 0 {
				w[slag.Al2O3] = 4 * r.Float64() // less than the alkalis can bind
			}
		}
		if stage == 4 {
			w[slag.Fe2O3] = 12 * r.Float64()
		}
		if stage == 5 {
			w[slag.ZnO] = 6 * r.Float64()
		}
		var sum, own float64
		base := w
		for o, x := range w {
			sum += x
			if stageOf[slag.Oxide(o)] == stage {
				own += x
				base[o] = 0
			}
		}
		w[slag.FeO] = 100 - sum
		if w[slag.FeO] < 25 {
			continue
		}
		base[slag.FeO] = w[slag.FeO]
		low, high := 1010.0, 1480.0
		if l, err := m.Liquidus(base); err == nil {
			low = max(low, l.TC-effect[stage].down*own-effectSlack)
			high = min(high, l.TC+effect[stage].up*own+effectSlack)
		}
		list = append(list, constraint{w: w, tc: rounded(max(high, 1150)), scale: slagScale},
			constraint{w: w, tc: rounded(min(low, 1250)), floor: true, scale: slagScale})
	}
	return list
}
