package copper

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/redox"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize/convex/lp"
)

func exactWt(x float64) quantity.Quantity { return wt(x, 0) }

// The formula by hand: 1 % of the area, slag of 3.6 g/cm³.
func TestMetalFromArea(t *testing.T) {
	got, err := MetalFromArea(0.01, 3.6)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "metal", got, 100*0.01*8.96/(0.01*8.96+0.99*3.6), 1e-12)
	checkdata.Near(t, "metal", got, 2.452, 0.0005)
	for phi, want := range map[float64]float64{0: 0, 1: 100} {
		if got, err := MetalFromArea(phi, 3.6); err != nil || got != want {
			t.Errorf("%v of the area: %v, %v", phi, got, err)
		}
	}
	for _, bad := range [][2]float64{{-0.1, 3.6}, {1.1, 3.6}, {0.1, 0}, {math.NaN(), 3.6}} {
		if got, err := MetalFromArea(bad[0], bad[1]); err == nil {
			t.Errorf("%v: %v", bad, got)
		}
	}
	percent := Prills{Area: quantity.WithU(1, 0.1, "vol%", "points counted")}
	i, err := percent.interval()
	if err != nil {
		t.Fatal(err)
	}
	lo, _ := MetalFromArea(0.008, 3.87)
	hi, _ := MetalFromArea(0.012, 3.16)
	checkdata.Near(t, "from", i.Lo, lo, 1e-12)
	checkdata.Near(t, "to", i.Hi, hi, 1e-12)
	if _, err := (Prills{Area: quantity.New(1, "wt%", "")}).interval(); err == nil {
		t.Error("an area in wt%")
	}
}

// With nothing but the total every form may be all or nothing, and that is said.
func TestNothingKnown(t *testing.T) {
	f, err := SplitForms(Finds{Total: exactWt(2)})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range f.All() {
		if p.Wt != (Interval{0, 2}) || p.Share != (Interval{0, 1}) || !strings.Contains(p.Because, "not bounded") {
			t.Errorf("%+v", p)
		}
	}
	if len(f.Unseparated) != 4 || len(f.Help) != 4 || f.Together != (Interval{2, 2}) || !math.IsNaN(f.SulphideEstimate.Lo) {
		t.Errorf("%+v", f)
	}
}

// A slag with everything measured, reckoned by hand: 2.00 wt% Cu; metal from 1.5
// wt% (exact densities); sulphur 0.01 wt% binds 0.0396; acid takes 0.40. Then
// dissolved + unreduced = 0.4604 to 0.5, unreduced at most 0.40.
func TestAllMeasured(t *testing.T) {
	rho := 3.5
	phi := 1.5 * rho / (1.5*rho + 98.5*copperSolid) // gives 1.5 wt%
	f, err := SplitForms(Finds{Total: exactWt(2), AcidSoluble: exactWt(0.4), Sulphur: exactWt(0.01),
		Prills: &Prills{Area: quantity.New(phi, "1", ""), SlagDensity: Interval{rho, rho}}})
	if err != nil {
		t.Fatal(err)
	}
	const most = 0.01 * 2 * 63.546 / 32.06
	checkdata.Near(t, "metal from", f.Metal.Wt.Lo, 1.5, 1e-9)
	checkdata.Near(t, "metal to", f.Metal.Wt.Hi, 1.5, 1e-9)
	checkdata.Near(t, "sulphide to", f.Sulphide.Wt.Hi, most, 1e-4)
	checkdata.Near(t, "unreduced to", f.Unreduced.Wt.Hi, 0.4, 1e-9)
	checkdata.Near(t, "dissolved from", f.Dissolved.Wt.Lo, 0.5-most-0.4, 1e-4)
	checkdata.Near(t, "dissolved to", f.Dissolved.Wt.Hi, 0.5, 1e-9)
	checkdata.Near(t, "share of metal", f.Metal.Share.Lo, 0.75, 1e-9)
	checkdata.Near(t, "Nagamori's estimate", f.SulphideEstimate.Hi, 0.00495*0.01*79.85, 1e-6)
	if !strings.Contains(strings.Join(f.Unseparated, ","), "dissolved as oxide") || len(f.Unseparated) != 2 {
		t.Errorf("unseparated %v", f.Unseparated)
	}
	checkdata.Near(t, "together from", f.Together.Lo, 0.5-most, 1e-4)
	checkdata.Near(t, "together to", f.Together.Hi, 0.5, 1e-9)
	kg := f.Metal.Kg(20)
	checkdata.Near(t, "kg of metal in 20 kg", kg.Lo, 0.3, 1e-9)
}

func TestConditionsBoundDissolved(t *testing.T) {
	cond := UnderCopper(1250, -10, -10)
	f, err := SplitForms(Finds{Total: exactWt(3), Conditions: &cond})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "dissolved to", f.Dissolved.Wt.Hi, 1.00, 0.005)
	checkdata.Near(t, "dissolved from", f.Dissolved.Wt.Lo, 0.77, 0.005)
	// Metal that leaves no room for it: the conditions yield.
	f, err = SplitForms(Finds{Total: exactWt(3), Conditions: &cond, Sieved: exactWt(2.8)})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "metal from", f.Metal.Wt.Lo, 2.8, 1e-12)
	checkdata.Near(t, "dissolved from", f.Dissolved.Wt.Lo, 0, 1e-12)
	checkdata.Near(t, "dissolved to", f.Dissolved.Wt.Hi, 0.2, 1e-12)
	if !hasCode(f, "COPPER_DISSOLVED_BELOW_EQUILIBRIUM") {
		t.Errorf("%v", f.Notices)
	}
}

func hasCode(f Forms, code string) bool {
	for _, n := range f.Notices {
		if n.Code == code {
			return true
		}
	}
	return false
}

func TestSievedAboveArea(t *testing.T) {
	f, err := SplitForms(Finds{Total: exactWt(5), Sieved: exactWt(2), Prills: &Prills{Area: quantity.New(0.001, "1", "")}})
	if err != nil {
		t.Fatal(err)
	}
	if f.Metal.Wt != (Interval{2, 5}) || !hasCode(f, "COPPER_SIEVED_ABOVE_AREA") {
		t.Errorf("%+v", f)
	}
}

func TestFormsRefuse(t *testing.T) {
	cold := UnderCopper(1250, -14, -14)
	for says, f := range map[string]Finds{
		"total copper of the slag is not known": {Total: quantity.None(quantity.NotRun, math.NaN(), "wt%")},
		"no copper to split":                    {Total: exactWt(0)},
		"prills seen hold at least":             {Total: exactWt(0.5), Prills: &Prills{Area: quantity.New(0.05, "1", "")}},
		"sieving won at least":                  {Total: exactWt(0.5), Sieved: exactWt(0.8)},
		"acid-soluble copper is at least":       {Total: exactWt(0.5), AcidSoluble: exactWt(0.8)},
		"together, more than":                   {Total: exactWt(1), AcidSoluble: exactWt(0.6), Sieved: exactWt(0.6)},
		"together, less than": {Total: exactWt(1), AcidSoluble: exactWt(0), Sulphur: exactWt(0), Conditions: &cold,
			Prills: &Prills{Area: quantity.New(0.001, "1", "")}},
		"matte with":    {Total: exactWt(1), Sulphur: exactWt(1), MatteCopper: Interval{30, 20}},
		"density":       {Total: exactWt(1), Prills: &Prills{Area: quantity.New(0.001, "1", ""), SlagDensity: Interval{4, 3}}},
		"no unit of a":  {Total: exactWt(1), Prills: &Prills{Area: quantity.New(0.001, "mm", "")}},
		"is not known ": {Total: exactWt(1), Prills: &Prills{Area: quantity.None(quantity.NotRun, math.NaN(), "1")}},
	} {
		if got, err := SplitForms(f); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v, %v; want an error saying %q", got, err, says)
		}
	}
}

// The bounds against linear programming over the same constraints (gonum's
// simplex): both ends of every form, for random slags.
func TestBoundsAgainstLinearProgramming(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	feasible := 0
	for range 400 {
		total := 0.2 + 3*r.Float64()
		f := Finds{Total: wt(total, 0.03*total)}
		hi := Interval{total * 0.94, total * 1.06}
		// Variables d, s, m, u and a slack for each inequality.
		dHi, sHi, mLo, mHi, aLo := hi.Hi, hi.Hi, 0.0, hi.Hi, 0.0
		if r.IntN(2) == 0 {
			s := 0.3 * r.Float64() * total
			f.Sulphur = exactWt(s)
			sHi = min(sHi, copperPerSulphur*s)
		}
		if r.IntN(2) == 0 {
			m := 0.7 * r.Float64() * total
			f.Sieved = wt(m, 0.05*m)
			mLo = 0.9 * m
		}
		uHi := hi.Hi
		if r.IntN(2) == 0 {
			a := 0.6 * r.Float64() * total
			f.AcidSoluble = wt(a, 0.05*a)
			aLo = 0.9 * a
			uHi = min(uHi, 1.1*a)
		}
		got, err := SplitForms(f)
		// x = d s m u; G x <= h.
		g := [][]float64{
			{1, 1, 1, 1}, {-1, -1, -1, -1}, {1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, -1, 0}, {0, 0, 0, 1}, {-1, 0, 0, -1}}
		h := []float64{hi.Hi, -hi.Lo, dHi, sHi, mHi, -mLo, uHi, -aLo}
		for form := range 4 {
			for _, sign := range []float64{1, -1} {
				best, ok := solve(g, h, form, sign)
				if !ok {
					if err == nil {
						t.Fatalf("no split exists, but %+v was found for %+v", got, f)
					}
					continue
				}
				if err != nil {
					t.Fatalf("a split exists, but: %v", err)
				}
				feasible++
				i := got.All()[form].Wt
				if sign > 0 {
					checkdata.Near(t, got.All()[form].Key+" from", i.Lo, best, 1e-7)
				} else {
					checkdata.Near(t, got.All()[form].Key+" to", i.Hi, best, 1e-7)
				}
			}
		}
	}
	if feasible < 1000 {
		t.Errorf("only %d bounds compared", feasible)
	}
}

// solve returns the least (sign 1) or greatest (−1) value of one variable.
func solve(g [][]float64, h []float64, variable int, sign float64) (float64, bool) {
	rows, n := len(g), len(g[0])
	a := mat.NewDense(rows, n+rows, nil)
	c := make([]float64, n+rows)
	c[variable] = sign
	for i := range g {
		for j := range g[i] {
			a.Set(i, j, g[i][j])
		}
		a.Set(i, n+i, 1)
	}
	opt, _, err := lp.Simplex(c, a, h, 1e-10, nil)
	return sign * opt, err == nil
}

// What dissolved copper says of oxygen is the law turned round, with the band
// of the capacity at its ends.
func TestOxygenFromDissolved(t *testing.T) {
	b, err := OxygenFromDissolved(1250, Interval{1.0, 1.2}, 1, Fayalitic())
	if err != nil {
		t.Fatal(err)
	}
	lo, _ := LogPO2(1250, 1.0, 1, 35)
	hi, _ := LogPO2(1250, 1.2, 1, 27)
	checkdata.Near(t, "from", b.Low, lo, 1e-12)
	checkdata.Near(t, "to", b.High, hi, 1e-12)
	checkdata.Near(t, "from, worked", b.Low, -10, 0.01) // 1.00 wt% at −10 with capacity 35
	total, err := OxygenFromTotal(1250, wt(1.0, 0.1), 1, Fayalitic())
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "limit of the total", total.High, hi, 1e-12)
	if !math.IsInf(total.Low, -1) || !strings.Contains(total.Reason, "no more than the 1.20 wt%") {
		t.Errorf("%+v", total)
	}
	win := redox.Join(1250, b, total)
	if win.Contradicted || win.Low != b.Low {
		t.Errorf("%+v", win)
	}
	for _, bad := range []Interval{{-1, 1}, {2, 1}, {0, 0}} {
		if _, err := OxygenFromDissolved(1250, bad, 1, Fayalitic()); err == nil {
			t.Errorf("%v is accepted", bad)
		}
	}
	if _, err := OxygenFromDissolved(1250, Interval{1, 2}, 1, Capacity{}); err == nil {
		t.Error("no capacity")
	}
	if _, err := OxygenFromTotal(1250, quantity.None(quantity.NotRun, math.NaN(), "wt%"), 1, Fayalitic()); err == nil {
		t.Error("an unknown total bounds")
	}
}

// A slag with less copper than one under copper metal would dissolve may have
// all of it dissolved: from the least to the most that was found.
func TestAllCopperMayBeDissolved(t *testing.T) {
	cond := UnderCopper(1300, -9, -9) // at least 1.18 wt% dissolve
	f, err := SplitForms(Finds{Total: quantity.WithU(1.03, 0.01, "wt%", ""), Conditions: &cond})
	if err != nil {
		t.Fatal(err)
	}
	if d := f.Dissolved.Wt; math.Abs(d.Lo-1.01) > 1e-9 || math.Abs(d.Hi-1.05) > 1e-9 {
		t.Errorf("dissolved %+v, want the total within twice its uncertainty", d)
	}
}
