// Package published reads the check data of testdata/logratio and the slags of
// testdata/slag for the tests of this room.
package published

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/logratio"
	"smeltbook/assay/source/checkdata"
)

// Reference returns the reference statistics of a set by quantity and key.
func Reference(tb testing.TB, set string) map[[2]string]float64 {
	tb.Helper()
	out := map[[2]string]float64{}
	for _, r := range checkdata.Rows(tb, "logratio/reference.csv")[1:] {
		if r[0] == set {
			out[[2]string{r[1], r[2]}] = checkdata.Number(tb, r[3])
		}
	}
	if len(out) == 0 {
		tb.Fatalf("no reference for %s", set)
	}
	return out
}

// Rows returns single rows of a textbook set, with their numbers.
func Rows(tb testing.TB, set string) (logratio.Matrix, []int) {
	tb.Helper()
	var m logratio.Matrix
	var numbers []int
	last := ""
	for _, r := range checkdata.Rows(tb, "logratio/rows.csv")[1:] {
		if r[0] != set {
			continue
		}
		if r[1] != last {
			last = r[1]
			numbers = append(numbers, int(checkdata.Number(tb, r[1])))
			m.X = append(m.X, nil)
		}
		if len(m.X) == 1 {
			m.Parts = append(m.Parts, r[2])
		}
		m.X[len(m.X)-1] = append(m.X[len(m.X)-1], checkdata.Number(tb, r[3]))
	}
	return m, numbers
}

// Kilns returns the pots of two kilns and the kiln of each.
func Kilns(tb testing.TB) (logratio.Matrix, []int) {
	tb.Helper()
	rows := checkdata.Rows(tb, "logratio/kilns.csv")
	m := logratio.Matrix{Parts: rows[0][2:]}
	var kiln []int
	for _, r := range rows[1:] {
		var x []float64
		for _, text := range r[2:] {
			x = append(x, checkdata.Number(tb, text))
		}
		m.Samples, m.X = append(m.Samples, r[0]), append(m.X, x)
		kiln = append(kiln, map[string]int{"Islands Thorns": 0, "Ashley Rails": 1}[r[1]])
	}
	return m, kiln
}

// Laos returns the separate slags of Wątroba 2012, table 15, with group 0 for
// Thong Na Nguak and 1 for Peun Baolo. Measured parts are closed to 100; what
// was not detected is below 0.2 wt%. Uncertainties are the printed standard
// deviations of the areas over the root of their number.
func Laos(tb testing.TB, parts ...string) (logratio.Table, []int) {
	tb.Helper()
	rows := checkdata.Rows(tb, "slag/laos_separate.csv")
	column := map[string]int{}
	for j, h := range rows[0] {
		column[h] = j
	}
	var values [][]logratio.Value
	var names []string
	var site []int
	for _, r := range rows[1:] {
		x, sum := make([]float64, len(parts)), 0.0
		for j, p := range parts {
			x[j] = math.NaN()
			if text := r[column[p]]; text != "nd" {
				x[j] = checkdata.Number(tb, text)
				sum += x[j]
			}
		}
		row := make([]logratio.Value, len(parts))
		for j, p := range parts {
			if math.IsNaN(x[j]) {
				row[j] = logratio.Under(0.2)
				continue
			}
			u := checkdata.Number(tb, r[column["sd_"+p]]) / math.Sqrt(checkdata.Number(tb, r[column["n_areas"]]))
			row[j] = logratio.Measured(x[j]*100/sum, u*100/sum)
		}
		values, names = append(values, row), append(names, r[column["sample"]])
		group := 0
		if strings.HasPrefix(r[column["sample"]], "PB") {
			group = 1
		}
		site = append(site, group)
	}
	t, err := logratio.NewTable(parts, names, values)
	if err != nil {
		tb.Fatal(err)
	}
	return t, site
}

// FourParts and NineParts are those that the reference counts.
var (
	FourParts = []string{"SiO2", "Al2O3", "FeO", "K2O"}
	NineParts = []string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "K2O", "CuO"}
)

// Near fails the test when got is not want to six digits.
func Near(tb testing.TB, what string, got, want float64) {
	tb.Helper()
	if !(math.Abs(got-want) <= 1e-6*math.Max(math.Abs(want), 1e-3)) {
		tb.Errorf("%s = %.10g, want %.10g", what, got, want)
	}
}
