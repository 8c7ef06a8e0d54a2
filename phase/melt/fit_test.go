package melt

import (
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/slag"
)

// pointMelt returns the composition of a calibration point.
func pointMelt(t testing.TB, r map[string]string) (w slag.Wt) {
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if s, ok := r["wt_"+o.String()]; ok {
			w[o] = checkdata.Number(t, s)
		}
	}
	return w
}

// prototypeCodes gives the names of the phases in testdata/liquidus.
var prototypeCodes = map[string]Phase{
	"WUS": Wustite, "OLV": Olivine, "C2S": DicalciumSilicate, "RNK": Rankinite, "PWO": Pseudowollastonite,
	"WOL": Wollastonite, "LIM": Lime, "CRI": Cristobalite, "TRI": Tridymite, "COR": Corundum, "MUL": Mullite,
	"COD": Cordierite, "ANO": Anorthite, "GEH": Melilite, "AKE": Melilite, "HER": Spinel, "DIO": Pyroxene,
	"PEN": Pyroxene, "LEU": Leucite, "KSP": KFeldspar, "RHO": Rhodonite,
}

func testModel(t testing.TB) *Model {
	t.Helper()
	m, err := Default()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// prototypeModel returns the model with the parameters of the prototype, which
// holds the equations to an independent implementation however the parameters
// in use are refitted.
func prototypeModel(t testing.TB) *Model {
	t.Helper()
	text, err := os.ReadFile("../../testdata/liquidus/prototype_parameters.csv")
	if err != nil {
		t.Fatal(err)
	}
	m, err := FromParameters(string(text))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// TestPrototype compares the model, with the parameters of the prototype, with the temperatures and first phases of
// an independent implementation in another language, point by point. Those
// were printed as differences rounded to 1 °C, hence 0.5 °C of rounding beside
// 0.5 °C for the model.
func TestPrototype(t *testing.T) {
	m := prototypeModel(t)
	melts := map[string]slag.Wt{}
	for _, r := range checkdata.Table(t, "liquidus/points.csv") {
		melts[r["id"]] = pointMelt(t, r)
	}
	rows := checkdata.Table(t, "liquidus/prototype.csv")
	if len(rows) != 73 || len(melts) != 73 {
		t.Fatalf("%d model temperatures and %d points, want 73 of each", len(rows), len(melts))
	}
	for _, r := range rows {
		l, err := m.Liquidus(melts[r["id"]])
		if err != nil {
			t.Errorf("%s: %v", r["id"], err)
			continue
		}
		if want := checkdata.Number(t, r["model_T_C"]); math.Abs(l.TC-want) > 1 {
			t.Errorf("%s: liquidus %.2f °C, the prototype has %g", r["id"], l.TC, want)
		}
		if want := prototypeCodes[r["first_phase"]]; l.First != want {
			t.Errorf("%s: first phase %s (%.2f °C, near %v), the prototype has %s", r["id"], l.First, l.TC, l.Near, want)
		}
	}
}

// passes is the rule by which points are judged: within 25 °C at the stated composition, or
// equal to the published temperature somewhere within the uncertainty of the
// composition (at least 1 wt%) of one oxide that the point holds, the others
// giving way in proportion.
func passes(t testing.TB, m *Model, r map[string]string, tc float64) bool {
	want := checkdata.Number(t, r["T_C"])
	if math.Abs(tc-want) <= 25 {
		return true
	}
	reach := max(checkdata.Number(t, r["sigma_wt"]), 1)
	w := pointMelt(t, r)
	for o := range w {
		if w[o] == 0 {
			continue
		}
		for _, step := range []float64{-0.05, 0.05} {
			for n := 1.0; n*math.Abs(step) <= reach+1e-9; n++ {
				v := w.Normalise()
				share := min(max(v[o]+n*step, 0), 100)
				v[o] = 0
				v = v.Normalise()
				for p := range v {
					v[p] *= (100 - share) / 100
				}
				v[o] = share
				l, err := m.Liquidus(v)
				if err == nil && (l.TC-want)*(tc-want) <= 0 {
					return true
				}
			}
		}
	}
	return false
}

// TestPrototypeAccuracy recomputes the accuracy that was printed for the
// prototype, to the whole degree and the whole per cent.
func TestPrototypeAccuracy(t *testing.T) {
	m := prototypeModel(t)
	has := func(r map[string]string, oxides ...string) bool {
		for _, o := range oxides {
			if checkdata.Number(t, r["wt_"+o]) > 0 {
				return true
			}
		}
		return false
	}
	for _, set := range []struct {
		name        string
		in          func(r map[string]string) bool
		n           int
		median, rms float64
		pass, first float64 // per cent
	}{
		{"all", func(map[string]string) bool { return true }, 73, 5, 32, 84, 99},
		{"core", func(r map[string]string) bool { return !has(r, "Al2O3", "MgO", "MnO", "K2O") }, 29, 6, 31, 90, 97},
		{"with Al2O3", func(r map[string]string) bool { return has(r, "Al2O3") }, 27, 5, 29, 78, 100},
		{"with MgO, no Al2O3", func(r map[string]string) bool { return has(r, "MgO") && !has(r, "Al2O3") }, 13, 14, 41, 77, 100},
		{"with MnO or K2O", func(r map[string]string) bool { return has(r, "MnO", "K2O") }, 7, 1, 43, 86, 100},
	} {
		var d []float64
		var sum, pass, first float64
		for _, r := range checkdata.Table(t, "liquidus/points.csv") {
			if !set.in(r) {
				continue
			}
			l, err := m.Liquidus(pointMelt(t, r))
			if err != nil {
				t.Fatal(err)
			}
			diff := math.Abs(l.TC - checkdata.Number(t, r["T_C"]))
			d, sum = append(d, diff), sum+diff*diff
			if passes(t, m, r, l.TC) {
				pass++
			}
			for _, code := range strings.Split(r["phases"], "+") {
				if sameMineral(prototypeCodes[code]) == sameMineral(l.First) {
					first++
					break
				}
			}
		}
		slices.Sort(d)
		n := len(d)
		if n != set.n {
			t.Errorf("%s: %d points, want %d", set.name, n, set.n)
			continue
		}
		median, rms := (d[(n-1)/2]+d[n/2])/2, math.Sqrt(sum/float64(n))
		if math.Abs(median-set.median) > 0.6 || math.Abs(rms-set.rms) > 0.6 {
			t.Errorf("%s: median %.2f, rms %.2f °C; printed were %g and %g", set.name, median, rms, set.median, set.rms)
		}
		pass, first = 100*pass/float64(n), 100*first/float64(n)
		if math.Abs(pass-set.pass) > 0.6 || math.Abs(first-set.first) > 0.6 {
			t.Errorf("%s: %.1f %% pass, first phase right in %.1f %%; printed were %g and %g", set.name, pass, first, set.pass, set.first)
		}
	}
}

// sameMineral takes the two forms of silica for one, and those of CaSiO3.
func sameMineral(p Phase) Phase {
	switch p {
	case Tridymite:
		return Cristobalite
	case Wollastonite:
		return Pseudowollastonite
	}
	return p
}
