package phase

import (
	"context"
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

func estimator(t testing.TB) *Estimator {
	t.Helper()
	e, err := New()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func parse(t testing.TB, text string) chem.Composition {
	t.Helper()
	c, err := chem.ParseComposition(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// laos reads the slags of Wątroba 2012 (MSc dissertation, UCL, table 15) with
// their printed standard deviations over several areas as uncertainty.
func laos(t testing.TB) []chem.Composition {
	t.Helper()
	rows := checkdata.Rows(t, "slag/laos_separate.csv")
	column := map[string]int{}
	for i, h := range rows[0] {
		column[h] = i
	}
	var out []chem.Composition
	for n, r := range rows[1:] {
		var parts []chem.Part
		for _, id := range []string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "K2O", "P2O5", "SO3", "CuO", "ZnO"} {
			x, err := strconv.ParseFloat(r[column[id]], 64)
			if err != nil {
				continue
			}
			cell := source.Cell{File: "laos_separate.csv", Ref: id + strconv.Itoa(n+2)}
			q := quantity.New(x, "wt%", "not printed", cell)
			if u, err := strconv.ParseFloat(r[column["sd_"+id]], 64); err == nil && u > 0 {
				q = quantity.WithU(x, u, "wt%", "standard deviation over areas", cell)
			}
			parts = append(parts, chem.Part{ID: id, Quantity: q})
		}
		c, err := chem.NewComposition(parts...)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, c)
	}
	return out
}

// Fayalite melts at 1205 °C (Bowen & Schairer 1932, Am. J. Sci. 24:177) and
// olivine comes first; the model must reach it within twice its own error.
func TestFayalite(t *testing.T) {
	est, err := estimator(t).Estimate(context.Background(), parse(t, "SiO2=29.486 FeO=70.514"), Conditions{})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "liquidus", est.Liquidus.Value, 1205, 2*est.ModelSD)
	if est.FirstPhase != melt.Olivine {
		t.Errorf("first phase %s", est.FirstPhase)
	}
	if est.Liquidus.U != est.ModelSD || !math.IsNaN(est.AssaySD) || !strings.Contains(est.Liquidus.UNote, "no uncertainty") {
		t.Errorf("u of an analysis without uncertainty: %+v", est.Liquidus)
	}
	if v, ok := est.Index("nbo_t"); !ok || math.Abs(v.Quantity.Value-4) > 1e-3 {
		t.Errorf("NBO/T of fayalite %+v", v)
	}
	if est.Copper != nil || !has(est.Notices, "NO_COPPER") {
		t.Errorf("copper of a slag without: %+v", est.Copper)
	}
}

func has(ns source.Notices, code string) bool {
	for _, n := range ns {
		if n.Code == code {
			return true
		}
	}
	return false
}

func TestEstimateOfPublishedSlag(t *testing.T) {
	c := laos(t)[7] // PB-31
	est, err := estimator(t).Estimate(context.Background(), c, Conditions{TC: 1250, LogPO2: [2]float64{-10, -9}, Seed: 5})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "u of the liquidus", est.Liquidus.U, math.Hypot(est.AssaySD, est.ModelSD), 1e-12)
	if !(est.AssaySD > 0) || !(est.ModelSD > 0) {
		t.Errorf("errors of analysis and model: %v, %v", est.AssaySD, est.ModelSD)
	}
	if est.Copper == nil {
		t.Fatal("no copper")
	}
	// CuO 3.0 wt% is 2.397 wt% Cu; at 1250 °C and log pO2 −10 … −9 a slag of
	// capacity 27 to 35 dissolves 0.77 to 1.79 wt%.
	checkdata.Near(t, "total copper", est.Copper.Total.Value, 2.397, 0.001)
	checkdata.Near(t, "least rest", est.Copper.Rest.Lo, 2.397-1.79, 0.01)
	checkdata.Near(t, "greatest rest", est.Copper.Rest.Hi, 2.397-0.77, 0.01)
	if len(est.Liquidus.From) != 9 || est.Liquidus.From[0].File != "laos_separate.csv" {
		t.Errorf("cells behind the liquidus: %v", est.Liquidus.From)
	}
	for _, v := range est.Indices {
		if !v.Quantity.HasU() || len(v.Quantity.From) != 9 {
			t.Errorf("%s: %+v", v.Key, v.Quantity)
		}
	}
	all := strings.Join(est.Assumptions, "\n")
	for _, want := range []string{"CuO", "left out of the melt: SO3", "balance with copper metal"} {
		if !strings.Contains(all, want) {
			t.Errorf("no assumption mentions %q:\n%s", want, all)
		}
	}
	if est.Conditions.Draws != DefaultDraws {
		t.Errorf("draws %d", est.Conditions.Draws)
	}
}

// What is not given is assumed and said, and the filled conditions give the
// same numbers.
func TestAssumedConditions(t *testing.T) {
	e, c := estimator(t), laos(t)[1]
	est, err := e.Estimate(context.Background(), c, Conditions{Seed: 3, Draws: 50})
	if err != nil {
		t.Fatal(err)
	}
	if est.Conditions.TC != est.Liquidus.Value {
		t.Errorf("temperature %v, liquidus %v", est.Conditions.TC, est.Liquidus.Value)
	}
	if lo, hi := est.Conditions.LogPO2[0], est.Conditions.LogPO2[1]; !(lo < hi && hi < 0) {
		t.Errorf("log pO2 %v to %v", lo, hi)
	}
	all := strings.Join(est.Assumptions, "\n")
	for _, want := range []string{"no working temperature was given", "no oxygen potential was given"} {
		if !strings.Contains(all, want) {
			t.Errorf("no assumption says %q", want)
		}
	}
	again, err := e.Estimate(context.Background(), c, est.Conditions)
	if err != nil {
		t.Fatal(err)
	}
	if again.Liquidus.U != est.Liquidus.U || again.Copper.Rest != est.Copper.Rest || again.Indices[3].Quantity.U != est.Indices[3].Quantity.U {
		t.Error("the conditions of a result do not give its numbers again")
	}
}

func TestNoticesOfConditions(t *testing.T) {
	e := estimator(t)
	for code, cond := range map[string]Conditions{
		"BELOW_IRON_WUSTITE": {TC: 1250, LogPO2: [2]float64{-14, -10}},
		"BELOW_LIQUIDUS":     {TC: 900, LogPO2: [2]float64{-12, -10}},
	} {
		cond.Draws = 10
		est, err := e.Estimate(context.Background(), laos(t)[7], cond)
		if err != nil {
			t.Fatal(err)
		}
		if !has(est.Notices, code) {
			t.Errorf("no %s: %v", code, est.Notices)
		}
	}
	for _, bad := range []Conditions{{TC: -1}, {TC: math.NaN()}, {LogPO2: [2]float64{-9, -10}}, {LogPO2: [2]float64{math.NaN(), -9}}, {Draws: 1}, {Draws: -5}} {
		if _, err := e.Estimate(context.Background(), laos(t)[7], bad); err == nil {
			t.Errorf("%+v is accepted", bad)
		}
		if _, err := e.EstimateAll(context.Background(), nil, bad, nil); err == nil {
			t.Errorf("%+v is accepted for all", bad)
		}
	}
	if _, err := e.Estimate(context.Background(), parse(t, "S=3 LOI=4"), Conditions{}); err == nil {
		t.Error("no melt and no error")
	}
}

// broken is a model that cannot answer, or cannot spread.
type broken struct{ liquidus, spread error }

func (b broken) Liquidus(slag.Wt) (melt.Liquidus, error) {
	return melt.Liquidus{TC: 1180, First: melt.Olivine, ModelSD: 30, InRange: true}, b.liquidus
}

func (b broken) Spread(context.Context, slag.Melt, int, uint64) (melt.Spread, error) {
	return melt.Spread{SD: 40, Draws: 10}, b.spread
}

func TestModelThatCannotAnswer(t *testing.T) {
	c := laos(t)[7]
	est, err := NewWith(broken{liquidus: melt.ErrNoSolid}).Estimate(context.Background(), c, Conditions{Draws: 10})
	if err != nil {
		t.Fatal(err)
	}
	if est.Liquidus.Known() || !has(est.Notices, "NO_LIQUIDUS") || est.Copper != nil || !has(est.Notices, "NO_COPPER") {
		t.Errorf("liquidus %+v, notices %v", est.Liquidus, est.Notices)
	}
	if v, ok := est.Index("bachmann_index"); !ok || math.Abs(v.Quantity.Value-1.34) > 0.005 {
		t.Errorf("the indices need no liquidus: %+v", v)
	}
	est, err = NewWith(broken{liquidus: melt.ErrNoSolid}).Estimate(context.Background(), c, Conditions{TC: 1250, Draws: 10})
	if err != nil || est.Copper == nil {
		t.Errorf("with a temperature the copper needs no liquidus: %v, %+v", err, est.Copper)
	}
	est, err = NewWith(broken{spread: errors.New("out of luck")}).Estimate(context.Background(), c, Conditions{Draws: 10})
	if err != nil || est.Liquidus.U != 30 || !math.IsNaN(est.AssaySD) || !has(est.Notices, "NO_LIQUIDUS_SPREAD") {
		t.Errorf("%v, %+v", err, est.Liquidus)
	}
	est, err = NewWith(broken{}).Estimate(context.Background(), c, Conditions{Draws: 10})
	if err != nil || est.Liquidus.U != 50 || est.AssaySD != 40 {
		t.Errorf("30 and 40 make 50: %v, %+v", err, est.Liquidus)
	}
}
