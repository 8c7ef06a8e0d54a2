package dressing

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func num(t *testing.T, s string) float64 {
	t.Helper()
	if s == "" {
		return math.NaN()
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

// last is half a unit of the last place printed.
func last(s string) float64 {
	_, decimals, _ := strings.Cut(s, ".")
	return 0.5000001 * math.Pow(10, -float64(len(decimals)))
}

func wt(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "wt%", "test") }
func kg(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "kg", "test") }

// The worked examples of testdata/dressing/worked.csv, each to the last place
// printed.
func TestWorkedExamples(t *testing.T) {
	for _, row := range checkdata.Table(t, "dressing/worked.csv") {
		t.Run(row["id"], func(t *testing.T) {
			f, c := num(t, row["f"]), num(t, row["c"])
			check := func(what string, got float64) {
				t.Helper()
				if row[what] != "" {
					checkdata.Near(t, what, got, num(t, row[what]), last(row[what]))
				}
			}
			switch row["kind"] {
			case "assays":
				p, err := FromAssays(wt(f, 0.01), wt(c, 0.1), wt(num(t, row["t"]), 0.005))
				if err != nil {
					t.Fatal(err)
				}
				check("yield", p.Yield.Value)
				check("recovery", p.Recovery.Value)
				check("ratio", p.Ratio.Value)
				check("enrichment", p.Enrichment.Value)
			case "weights":
				r := reconciled(t, onlyStage(kg(100, 0.1), kg(4.5, 0.01), missing("kg"), wt(f, 0.01), wt(c, 0.1), missing("wt%")))
				p := r.Stage(0, Balanced, 0)[0]
				cu, _ := p.Of(Copper)
				check("yield", p.Yield.Value)
				check("recovery", cu.Recovery.Value)
				checkdata.Near(t, "tailings by difference", r.Stage(0, Balanced, 0)[1].Components[0].Product.Value, 0.10471, 5e-6)
				check("ratio", p.Ratio.Value)
				check("enrichment", cu.Enrichment.Value)
			case "recovery":
				y := num(t, row["recovery"]) * f / c
				check("yield", y)
				check("efficiency", SeparationEfficiency(y, f, c, num(t, row["mineral"])))
				check("enrichment", c/f)
			case "enrichment":
				p, err := FromAssays(wt(f, 0.1), wt(c, 0.1), wt(1, 0.1))
				if err != nil {
					t.Fatal(err)
				}
				check("enrichment", p.Enrichment.Value)
			default:
				t.Fatalf("kind %q", row["kind"])
			}
		})
	}
}

// With one relative error ε for all three assays that of the recovery is
// ε(1 − R)/|R − Y|·√(1 + Y² + (1 − Y)²): it grows without bound as feed and
// tailings come together, and for a small yield as √2(1 − R)/|R − Y|, as a
// preprint on the two-product formula states (abstract seen).
func TestErrorOfTwoProduct(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 5))
	for range 500 {
		tl := 0.1 + 5*rnd.Float64()
		c := 10 + 20*rnd.Float64()
		y := 0.02 + 0.9*rnd.Float64()
		f := y*c + (1-y)*tl
		const e = 0.01
		p, err := FromAssays(wt(f, e*f), wt(c, e*c), wt(tl, e*tl))
		if err != nil {
			t.Fatal(err)
		}
		r := p.Recovery.Value
		checkdata.Near(t, "yield", p.Yield.Value, y, 1e-12)
		checkdata.Near(t, "relative error", p.Recovery.U/r, e*(1-r)/math.Abs(r-y)*math.Sqrt(1+y*y+(1-y)*(1-y)), 1e-10)
	}
}

// First-order uncertainties against drawing, by the range that holds the middle
// 95 % of the draws: they hold even where feed and tailings nearly meet and the
// figure itself is worth nothing.
func TestTwoProductAgainstDrawing(t *testing.T) {
	ratio := func(tailings float64) (apart, got float64) {
		rnd := rand.New(rand.NewPCG(2, 9))
		f, c, tl := wt(9.3, 0.2), wt(16.6, 0.3), wt(tailings, 0.2)
		p, err := FromAssays(f, c, tl)
		if err != nil {
			t.Fatal(err)
		}
		var rs []float64
		for range 40000 {
			x, y, z := f.Value+f.U*rnd.NormFloat64(), c.Value+c.U*rnd.NormFloat64(), tl.Value+tl.U*rnd.NormFloat64()
			rs = append(rs, y*(x-z)/(x*(y-z)))
		}
		slices.Sort(rs)
		return p.Apart, (rs[39000] - rs[1000]) / (2 * 1.96 * p.Recovery.U)
	}
	for _, tailings := range []float64{2, 4, 6, 7.5, 8.15, 8.9, 9.1} {
		apart, r := ratio(tailings)
		checkdata.Near(t, fmt.Sprintf("scatter over u, %.1f apart", apart), r, 1, 0.03)
	}
}

func TestUnstable(t *testing.T) {
	p, err := FromAssays(wt(9.3, 0.2), wt(16.6, 0.3), wt(8.8, 0.2))
	if err != nil {
		t.Fatal(err)
	}
	if p.Usable() || len(p.Notices) != 1 || p.Notices[0].Code != "DRESSING_UNSTABLE" || !strings.Contains(p.Notices[0].Message, "0.50 ± 0.28") {
		t.Errorf("%+v", p)
	}
	for name, bad := range map[string][3]quantity.Quantity{
		"feed above both":  {wt(20, 1), wt(16, 1), wt(4, 1)},
		"feed below both":  {wt(2, 1), wt(16, 1), wt(4, 1)},
		"no tailing":       {wt(9, 1), wt(16, 1), missing("wt%")},
		"equal products":   {wt(9, 1), wt(9, 1), wt(9, 1)},
		"feed without any": {wt(0, 1), wt(1, 1), wt(0, 1)},
	} {
		if p, err := FromAssays(bad[0], bad[1], bad[2]); err == nil {
			t.Errorf("%s: %+v", name, p)
		}
	}
}

// The worked masses of testdata/dressing/sampling.csv.
func TestGyMasses(t *testing.T) {
	for _, row := range checkdata.Table(t, "dressing/sampling.csv") {
		m, ok := LookupMineral("malachite")
		if !ok {
			t.Fatal("no malachite")
		}
		checkdata.Near(t, "copper of malachite", m.Copper, 57.5, 0.05)
		m.Copper = 57.5 // as the example rounds it
		s := DefaultSampling(m)
		s.Liberation = num(t, row["liberation_mm"])
		grade, top := num(t, row["grade_wt_pct"]), num(t, row["top_mm"])
		c, err := s.Constant(grade, top)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "C", c, num(t, row["constant"]), last(row["constant"]))
		rel := num(t, row["relative_95"]) / 1.96
		want := num(t, row["mass_g"])
		mass, err := s.MinimumMass(grade, top, rel)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "mass", mass, want, 5e-4*want)
		sd, err := s.FundamentalSD(grade, top, mass)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "and back", sd, rel, 1e-12)
	}
}

// Densities and copper of pure minerals against handbook values (wt% Cu of
// Dana's System of Mineralogy; from memory).
func TestMinerals(t *testing.T) {
	for name, cu := range map[string]float64{"malachite": 57.5, "azurite": 55.3, "cuprite": 88.8, "tenorite": 79.9, "chalcocite": 79.8, "covellite": 66.4, "bornite": 63.3, "chalcopyrite": 34.6} {
		m, ok := LookupMineral(name)
		if !ok {
			t.Fatal(name)
		}
		checkdata.Near(t, name, m.Copper, cu, 0.07)
	}
	if len(Minerals()) != 8 {
		t.Errorf("%v: check each", Minerals())
	}
	if _, ok := LookupMineral("quartz"); ok {
		t.Error("quartz holds copper")
	}
}

// Agglomerated grains: at the top size of liberation and below the mineral is
// free and the liberation factor stays at 1.
func TestGyProperties(t *testing.T) {
	m, _ := LookupMineral("malachite")
	s := DefaultSampling(m)
	fine, err := s.Constant(8, 0.1)
	if err != nil {
		t.Fatal(err)
	}
	at, _ := s.Constant(8, 0.2)
	checkdata.Near(t, "free grains", fine, at, 1e-12)
	for top, before := 0.1, 0.0; top < 50; top *= 1.5 {
		mass, err := s.MinimumMass(8, top, 0.05)
		if err != nil || mass <= before {
			t.Fatalf("%g mm: %g g after %g, %v", top, mass, before, err)
		}
		before = mass
	}
	for _, bad := range []func() (float64, error){
		func() (float64, error) { return s.Constant(0, 1) },
		func() (float64, error) { return s.Constant(60, 1) },
		func() (float64, error) { return s.Constant(5, 0) },
		func() (float64, error) { return s.FundamentalSD(5, 1, 0) },
		func() (float64, error) { return s.MinimumMass(5, 1, 0) },
	} {
		if x, err := bad(); err == nil {
			t.Errorf("%g without an error", x)
		}
	}
}
