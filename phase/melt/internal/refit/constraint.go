package refit

import (
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
}

const constraintScale = 0.15

// abovePoints keeps everything molten at 100, 400 and 1000 °C above the points.
func abovePoints(points []Point) (list []constraint) {
	for _, p := range points {
		for _, above := range []float64{100, 400, 1000} {
			if tc := p.TC + above; tc < 2900 {
				list = append(list, constraint{w: p.W, tc: tc, scale: constraintScale})
			}
		}
	}
	return list
}

// constraints returns the constraints of a stage, our own judgement of how
// smooth the surface is between the published points.
func constraints(stage int) []constraint {
	switch stage {
	case 0:
		return coreConstraints()
	case 4:
		return ferricConstraints()
	case 1, 2, 3:
		return slagConstraints(stage)
	}
	return nil
}

func ceiling(tc float64, w slag.Wt) constraint {
	return constraint{w: w.Normalise(), tc: tc, scale: constraintScale}
}

func coreConstraints() (list []constraint) {
	for s := 0.0; s <= 100; s += 10 {
		for c := 0.0; c+s <= 100; c += 10 {
			w := slag.Wt{slag.SiO2: s, slag.CaO: c, slag.FeO: 100 - s - c}
			if s >= 25 && s <= 45 && c <= 25 && w[slag.FeO] > 0 {
				list = append(list, ceiling(1500, w))
			} else if w[slag.FeO] >= 20 {
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
	// The side of CaO and FeO holds no pocket colder than this.
	for _, s := range []float64{0, 4, 8} {
		for _, c := range []float64{10, 18, 26} {
			list = append(list, constraint{w: slag.Wt{slag.SiO2: s, slag.CaO: c, slag.FeO: 100 - s - c}, tc: 1180 - 5*s, floor: true, scale: constraintScale})
		}
		list = append(list, constraint{w: slag.Wt{slag.SiO2: s, slag.CaO: 34, slag.FeO: 66 - s}, tc: 1150, floor: true, scale: constraintScale})
	}
	return list
}

// slagConstraints draws smelting slags, always the same, and keeps their
// liquidus between 1000 and 1480 °C.
func slagConstraints(stage int) (list []constraint) {
	r := rand.New(rand.NewPCG(2, uint64(stage)))
	for range 80 {
		w := slag.Wt{slag.SiO2: 25 + 17*r.Float64(), slag.CaO: 20 * r.Float64()}
		if stage == 1 || r.IntN(2) == 0 {
			w[slag.Al2O3] = 15 * r.Float64()
		}
		if stage == 2 || (stage == 3 && r.IntN(2) == 0) {
			w[slag.MgO] = 7 * r.Float64()
		}
		if stage == 3 {
			w[slag.MnO] = 6 * r.Float64()
			w[slag.K2O] = 3 * r.Float64()
			w[slag.Na2O] = 2 * r.Float64() * float64(r.IntN(2))
		}
		var sum float64
		for _, x := range w {
			sum += x
		}
		w[slag.FeO] = 100 - sum
		if w[slag.FeO] < 25 {
			continue
		}
		list = append(list, ceiling(1480, w),
			constraint{w: w, tc: 1010, floor: true, scale: constraintScale})
		if w[slag.CaO] < 12 && w[slag.SiO2] < 38 && w[slag.MgO] < 1 && w[slag.Al2O3] < 8 && w[slag.MnO] < 2 {
			list = append(list, ceiling(1300, w))
		}
	}
	return list
}

func ferricConstraints() (list []constraint) {
	for _, ferric := range []float64{2, 5, 10} {
		for _, s := range []float64{25, 30, 35} {
			for _, c := range []float64{0, 8, 16} {
				w := slag.Wt{slag.SiO2: s, slag.CaO: c, slag.Fe2O3: ferric, slag.FeO: 100 - s - c - ferric}
				list = append(list, ceiling(1200+15*ferric, w), constraint{w: w, tc: 1020, floor: true, scale: constraintScale})
			}
		}
	}
	return list
}
