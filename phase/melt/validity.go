package melt

import (
	"math"

	"smeltbook/phase/slag"
)

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

// The standard deviations of the sets, in °C: two thirds of the calibration
// points of the set up to 1600 °C are nearer, each predicted from a fit without
// its tenth of the points (TestModelSDFromCrossValidation). Points with
// manganese, alkalis, ferric iron or zinc mostly hold far more of them than a
// slag does, so for those it is the error per wt% that counts.
const (
	sdCore       = 29.0
	sdAlumina    = 56.0
	sdMagnesia   = 16.0  // no less than sdCore is stated
	perAlkali    = 7.2   // °C per wt% of K2O and Na2O
	perManganese = 2.0   // °C per wt% of MnO: a judgement, as four points are too few
	perFerric    = 3.1   // °C per wt% of Fe2O3 and ZnO
	sdOutside    = 100.0 // out of range: a judgement
)

// ModelSD returns the standard deviation to attach to a liquidus of w, in °C:
// that of CaO–FeO–SiO2, or of melts with Al2O3, or with MgO and no Al2O3, where
// either is there from 1 wt%, the largest that applies; to which add, as squares,
// what alkalis, MnO, Fe2O3 with ZnO, and TiO2 with P2O5 bring by their amounts. Out
// of the calibrated range it is 100 °C at least. It is the error of the model
// alone: that of the assay comes on top (Spread).
func ModelSD(w slag.Wt) float64 {
	b, leftOut := basis(w)
	sd := sdCore
	if b[slag.MgO] >= presence {
		sd = max(sd, sdMagnesia)
	}
	if b[slag.Al2O3] >= presence {
		sd = max(sd, sdAlumina)
	}
	sd = math.Hypot(sd, perAlkali*(b[slag.K2O]+b[slag.Na2O]))
	sd = math.Hypot(sd, perManganese*b[slag.MnO])
	sd = math.Hypot(sd, perFerric*(b[slag.Fe2O3]+b[slag.ZnO]))
	sd = math.Hypot(sd, diluentError*(b[slag.TiO2]+b[slag.P2O5]))
	if len(beyond(b, leftOut)) > 0 {
		sd = max(sd, sdOutside)
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
