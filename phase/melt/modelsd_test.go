package melt

import (
	"math"
	"slices"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/slag"
)

// TestModelSDFromCrossValidation recomputes what ModelSD states from the errors
// at the calibration points up to 1600 °C, each predicted from a fit without
// its tenth of the points: two thirds of them are smaller.
func TestModelSDFromCrossValidation(t *testing.T) {
	predicted := map[string]float64{}
	for _, r := range checkdata.Table(t, "liquidus/crossvalidation.csv") {
		predicted[r["id"]] = checkdata.Number(t, r["tenth_T_C"])
	}
	errors := map[string][]float64{}
	for _, r := range checkdata.Table(t, "liquidus/calibration.csv") {
		tc := checkdata.Number(t, r["T_C"])
		if tc > 1600 {
			continue
		}
		d := math.Abs(predicted[r["id"]] - tc)
		if math.IsNaN(d) {
			d = 1000
		}
		w := pointMelt(t, r)
		set := "core"
		ferric, alkali, manganese := w[slag.Fe2O3]+w[slag.ZnO], w[slag.K2O]+w[slag.Na2O], w[slag.MnO]
		switch {
		case ferric > 0:
			set, d = "ferric iron and zinc, per wt%", d/ferric
		case alkali > 0:
			set, d = "alkalis, per wt%", d/alkali
		case manganese > 0:
			set, d = "manganese, per wt%", d/manganese
		case w[slag.Al2O3] > 0:
			set = "alumina"
		case w[slag.MgO] > 0:
			set = "magnesia"
		}
		errors[set] = append(errors[set], d)
	}
	for set, want := range map[string]float64{"core": sdCore, "alumina": sdAlumina, "magnesia": sdMagnesia,
		"alkalis, per wt%": perAlkali, "ferric iron and zinc, per wt%": perFerric} {
		d := errors[set]
		slices.Sort(d)
		got := d[int(0.68*float64(len(d)))]
		t.Logf("%s: %d points, 68th percentile %.1f °C", set, len(d), got)
		if math.Abs(got-want) > max(0.02*want, 0.05) {
			t.Errorf("%s: two thirds of %d points within %.1f °C, the model states %g", set, len(d), got, want)
		}
	}
}
