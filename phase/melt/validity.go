package melt

import "smeltbook/phase/slag"

// basis returns the modelled part of w: oxides of the model only, sum 100; with
// the share of the whole that was left out, in wt%.
func basis(w slag.Wt) (kept slag.Wt, leftOut float64) {
	w = restated(w).Normalise()
	var sum float64
	for _, m := range modelled {
		kept[m.oxide] = w[m.oxide]
		sum += w[m.oxide]
	}
	return kept.Normalise(), 100 - sum
}

// presence is the amount from which an oxide counts as a component when the
// model's error is chosen, in wt%.
const presence = 1.0

// ModelSD returns the standard deviation to attach to a liquidus of w, in °C:
// the root mean square difference between the model and the points it was
// fitted to, in the set that w belongs to, or the largest where w belongs to
// several. An oxide counts from 1 wt%.
//
//	CaO–FeO–SiO2                       31   (29 points)
//	with Al2O3                         29   (27 points), taken as 31
//	with MgO                           41   (13 points)
//	with MnO, K2O or Na2O              43   (7 points)
//	five oxides or more                40   (scatter between equally good fits)
//	Al2O3 above 20, or out of range    80   (judgement)
//
// The points are the calibration points, so the figures are in-sample; a fresh
// composition may do worse.
func ModelSD(w slag.Wt) float64 {
	b, leftOut := basis(w)
	sd, n := 31.0, 0
	for _, m := range modelled {
		if b[m.oxide] >= presence {
			n++
		}
	}
	if n >= 5 {
		sd = 40
	}
	if b[slag.MgO] >= presence {
		sd = 41
	}
	if b[slag.MnO] >= presence || b[slag.K2O]+b[slag.Na2O] >= presence {
		sd = 43
	}
	if len(beyond(b, leftOut)) > 0 {
		sd = 80
	}
	return sd
}

// limit is one edge of the range in which the model may be trusted within its
// stated error. The calibration points reach further along some binary edges;
// between those edges nothing holds the model.
type limit struct {
	name string
	of   func(b slag.Wt) float64
	max  float64 // wt% of the modelled oxides
}

var limits = []limit{
	{"SiO2", func(b slag.Wt) float64 { return b[slag.SiO2] }, 75},
	{"CaO", func(b slag.Wt) float64 { return b[slag.CaO] }, 65},
	{"Al2O3", func(b slag.Wt) float64 { return b[slag.Al2O3] }, 20},
	{"MgO", func(b slag.Wt) float64 { return b[slag.MgO] }, 15},
	{"MnO beside other bases", func(b slag.Wt) float64 {
		if b[slag.FeO]+b[slag.CaO]+b[slag.MgO] < presence {
			return 0
		}
		return b[slag.MnO]
	}, 36},
	{"K2O and Na2O together", func(b slag.Wt) float64 { return b[slag.K2O] + b[slag.Na2O] }, 8.5},
	{"Fe2O3", func(b slag.Wt) float64 { return b[slag.Fe2O3] }, 20},
	{"ZnO", func(b slag.Wt) float64 { return b[slag.ZnO] }, 10},
	{"TiO2 and P2O5 together", func(b slag.Wt) float64 { return b[slag.TiO2] + b[slag.P2O5] }, 4},
}

const (
	maxLeftOut    = 5.0 // wt% of oxides that the model does not know
	leastSilica   = 8.0 // wt% below which lime and FeO together are uncalibrated
	limeWithoutSi = 2.0 // wt% of CaO from which that matters
)

// beyond lists in words the limits that a melt oversteps.
func beyond(b slag.Wt, leftOut float64) []string {
	var list []string
	for _, l := range limits {
		if l.of(b) > l.max {
			list = append(list, l.name)
		}
	}
	if b[slag.SiO2] < leastSilica && b[slag.CaO] > limeWithoutSi && b[slag.FeO] > limeWithoutSi {
		list = append(list, "lime and FeO with less than 8 wt% SiO2")
	}
	if leftOut > maxLeftOut {
		list = append(list, "oxides unknown to the model")
	}
	return list
}
