package dressing

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

// onlyStage is one stage with copper alone.
func onlyStage(mf, mc, mt, f, c, tl quantity.Quantity) Circuit {
	stream := func(role Role, m, g quantity.Quantity) Stream {
		return Stream{Role: role, Mass: m, Grades: []Grade{{Copper, g}}, At: source.Cell{File: "x", Ref: string(role)}}
	}
	return Circuit{Name: "X", Components: []string{Copper}, Stages: []Stage{{Name: "X1", Feed: stream(Feed, mf, f),
		Products: []Stream{stream(Concentrate, mc, c), stream(Tailings, mt, tl)}}}}
}

func reconciled(t *testing.T, c Circuit) *Reconciled {
	t.Helper()
	r, err := Reconcile(c)
	if err != nil {
		t.Fatal(err)
	}
	return &r
}

// Weights and assays by hand, for a stage that balances as it stands: figures
// and their first-order uncertainties.
func TestStageByHand(t *testing.T) {
	c := onlyStage(kg(60, 0.2), kg(24, 0.1), kg(36, 0.2), wt(9, 0.2), wt(17.5, 0.3), wt(10.0/3, 0.1))
	r := reconciled(t, c)
	checkdata.Near(t, "chi-square", r.Chi2, 0, 1e-18)
	p := r.Stage(0, Weighed, 57.48)[0]
	checkdata.Near(t, "yield", p.Yield.Value, 0.4, 1e-12)
	checkdata.Near(t, "u", p.Yield.U, 0.4*math.Hypot(0.2/60, 0.1/24), 1e-9)
	checkdata.Near(t, "ratio of concentration", p.Ratio.Value, 2.5, 1e-12)
	cu, _ := p.Of(Copper)
	want := 24 * 17.5 / (60 * 9.0)
	checkdata.Near(t, "recovery", cu.Recovery.Value, want, 1e-12)
	checkdata.Near(t, "u of it", cu.Recovery.U, want*math.Sqrt(sq(0.2/60)+sq(0.1/24)+sq(0.2/9)+sq(0.3/17.5)), 1e-9)
	checkdata.Near(t, "enrichment", cu.Enrichment.Value, 17.5/9, 1e-12)
	checkdata.Near(t, "efficiency", p.Efficiency.Value, 0.4*57.48*(17.5-9)/((57.48-9)*9), 1e-12)
	b := r.Stage(0, Balanced, 57.48)[0]
	if cb, _ := b.Of(Copper); cb.Recovery.U >= cu.Recovery.U {
		t.Errorf("balancing leaves the recovery as uncertain as before: %g, %g", cb.Recovery.U, cu.Recovery.U)
	}
	// Recoveries of all products of a balanced stage sum to one.
	other, _ := r.Stage(0, Balanced, 0)[1].Of(Copper)
	cb, _ := b.Of(Copper)
	checkdata.Near(t, "all recoveries", cb.Recovery.Value+other.Recovery.Value, 1, 1e-12)
	checkdata.Near(t, "with one uncertainty", cb.Recovery.U, other.Recovery.U, 1e-6)
}

// random is a circuit of two stages with two components whose truth balances,
// read with errors of the stated size times scale.
func random(rnd *rand.Rand, scale float64) (read Circuit, recovery float64) {
	share := func() float64 { return 0.2 + 0.5*rnd.Float64() }
	noise := func(x, rel float64) float64 { return x * (1 + scale*rel*rnd.NormFloat64()) }
	read = Circuit{Name: "R", Components: []string{Copper, "SiO2"}}
	mass, grade, recovery := 60.0, map[string]float64{Copper: 9, "SiO2": 48}, 1.0
	for k := range 2 {
		y, up := share(), 1.3+0.3*rnd.Float64()
		if up*y > 0.95 {
			up = 0.95 / y
		}
		conc := map[string]float64{Copper: grade[Copper] * up, "SiO2": grade["SiO2"] * 0.6}
		tail := map[string]float64{}
		for id := range conc {
			tail[id] = (grade[id] - y*conc[id]) / (1 - y)
		}
		stream := func(role Role, product string, m float64, g map[string]float64) Stream {
			s := Stream{Role: role, Product: product, Mass: kg(noise(m, 0.005), 0.005*m), At: source.Cell{Ref: "A1"}}
			for _, id := range read.Components {
				s.Grades = append(s.Grades, Grade{id, wt(noise(g[id], 0.02), 0.02*g[id])})
			}
			return s
		}
		names := []string{"ore", "picked", "washed"}
		read.Stages = append(read.Stages, Stage{Name: names[k], Feed: stream(Feed, names[k], mass, grade),
			Products: []Stream{stream(Concentrate, names[k+1], y*mass, conc), stream(Tailings, "", (1-y)*mass, tail)}})
		recovery *= y * conc[Copper] / grade[Copper]
		mass, grade = y*mass, conc
	}
	return read, recovery
}

// Two linked stages, drawn many times: the recovery of the circuit scatters
// about the truth as its stated uncertainty says, and Chi2 as a chi-square of
// nine degrees of freedom (two stages of three balances, one link of three).
func TestCircuitByDrawing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(4, 2))
	var z2, chi float64
	named, total := 0, 0
	for range 600 {
		c, truth := random(rnd, 1)
		r := reconciled(t, c)
		if !c.wholeOf(1) {
			continue // one in some hundred: the second stage seems fed with a part
		}
		total++
		if r.DoF != 9 {
			t.Fatalf("%d degrees of freedom", r.DoF)
		}
		chi += r.Chi2
		if r.Suspect != nil {
			named++
		}
		for _, p := range r.Ends(Balanced, 0) {
			if p.Product.Role == Concentrate {
				cu, _ := p.Of(Copper)
				z2 += sq((cu.Recovery.Value - truth) / cu.Recovery.U)
			}
		}
	}
	n := float64(total)
	checkdata.Near(t, "mean square of standardised error", z2/n, 1, 4*math.Sqrt(2.0/n))
	checkdata.Near(t, "mean chi-square", chi/n, 9, 4*math.Sqrt(18.0/n))
	if rate := float64(named) / n; rate > 0.07 {
		t.Errorf("a suspect named in %.3f of sound circuits", rate)
	}
}

// Whatever the errors: reconciled products sum to the feed in mass and in both
// components, end products to the first feed, and the curve ends at all of it.
func TestBalancesHold(t *testing.T) {
	rnd := rand.New(rand.NewPCG(8, 1))
	for range 200 {
		c, _ := random(rnd, 2)
		r := reconciled(t, c)
		var mass, cu, si float64
		for _, p := range r.Ends(Balanced, 0) {
			mass += p.Yield.Value
			x, _ := p.Of(Copper)
			y, _ := p.Of("SiO2")
			cu += x.Recovery.Value
			si += y.Recovery.Value
		}
		checkdata.Near(t, "mass", mass, 1, 1e-9)
		checkdata.Near(t, "copper", cu, 1, 1e-9)
		checkdata.Near(t, "silica", si, 1, 1e-9)
		curve := r.Curve()
		for i := 1; i < len(curve); i++ {
			if curve[i].Grade.Value > curve[i-1].Grade.Value+1e-9 || curve[i].Recovery.Value < curve[i-1].Recovery.Value {
				t.Fatalf("the curve turns back: %+v", curve)
			}
		}
		end := curve[len(curve)-1]
		checkdata.Near(t, "all copper", end.Recovery.Value, 1, 1e-9)
		checkdata.Near(t, "at the grade of the feed", end.Grade.Value, r.Stage(0, Balanced, 0)[0].Components[0].Feed.Value, 1e-9)
		checkdata.Near(t, "without uncertainty", end.Recovery.U, 0, 1e-6)
	}
}

// A slip of the pen: tailings of 3.4 % written as 4.3 in a stage with three
// components; the suspect is named with its cell and what the others say.
func TestSuspectIsNamed(t *testing.T) {
	rnd := rand.New(rand.NewPCG(6, 6))
	c, _ := random(rnd, 0)
	g := &c.Stages[0].Products[1].Grades[1].Content
	sound := g.Value
	g.Value *= 1.25
	g.From = []source.Cell{{File: "field/d.xlsx", Sheet: "Dressing", Ref: "K8"}}
	r := reconciled(t, c)
	if r.Suspect == nil || r.Suspect.What != "SiO2" || r.Suspect.Stage != "ore" {
		t.Fatalf("%+v", r.Suspect)
	}
	if r.P > 0.01 {
		t.Errorf("the global test passes at %g", r.P)
	}
	i := slices.Index(r.Notices.Codes(), "DRESSING_SUSPECT")
	if i < 0 || r.Notices[i].At.Ref != "K8" && len(r.Suspect.Like) == 0 {
		t.Errorf("%v", r.Notices)
	}
	for _, x := range r.Items {
		if len(x.Read.From) > 0 {
			checkdata.Near(t, "what the others say, in its u", (x.Others.Value-sound)/x.Others.U, 0, 0.3)
		}
	}
}

// What was neither weighed nor assayed is estimated where the balances fix it,
// and named where they do not.
func TestLostStream(t *testing.T) {
	c := onlyStage(kg(14.1, 0.1), kg(7, 0.1), kg(6.6, 0.1), wt(16.8, 0.3), wt(24.3, 0.3), wt(9.1, 0.3))
	c.Stages[0].Products = append(c.Stages[0].Products, Stream{Role: Lost, Mass: missing("kg"), Grades: []Grade{{Copper, missing("wt%")}}})
	r := reconciled(t, c)
	lost := r.Stage(0, Balanced, 0)[2]
	checkdata.Near(t, "lost mass", lost.Yield.Value, 0.5/14.1, 1e-9)
	cu, _ := lost.Of(Copper)
	checkdata.Near(t, "lost copper", cu.Recovery.Value, (14.1*16.8-7*24.3-6.6*9.1)/(14.1*16.8), 1e-9)
	if !cu.Recovery.HasU() || cu.Recovery.U < 0.02 || cu.Recovery.U > 0.04 {
		t.Errorf("u of the lost copper: %+v", cu.Recovery)
	}
	c.Stages[0].Products[1].Mass = missing("kg")
	r = reconciled(t, c)
	i := slices.Index(r.Notices.Codes(), "DRESSING_OPEN")
	if i < 0 || !strings.Contains(r.Notices[i].Message, "lost: mass") || !strings.Contains(r.Notices[i].Message, "tailings: mass") {
		t.Errorf("%v", r.Notices)
	}
	if p := r.Stage(0, Balanced, 0)[0]; !p.Yield.Known() {
		t.Error("the concentrate was weighed, and its yield is not known")
	}
}

func TestWithSampling(t *testing.T) {
	c := onlyStage(kg(60, 0.2), kg(24, 0.1), kg(36, 0.2), wt(8, 0.1), wt(17.5, 0.3), wt(3, 0.1))
	c.Stages[0].Feed.Sample, c.Stages[0].Feed.Top = quantity.New(100, "g", ""), quantity.New(30, "mm", "")
	m, _ := LookupMineral("malachite")
	s := DefaultSampling(m)
	sd, err := s.FundamentalSD(8, 30, 100)
	if err != nil {
		t.Fatal(err)
	}
	wide, n := c.WithSampling(s)
	if n != 1 {
		t.Fatalf("%d assays widened", n)
	}
	checkdata.Near(t, "u", wide.Stages[0].Feed.Grade(Copper).U, math.Hypot(0.1, 8*sd), 1e-12)
	checkdata.Near(t, "untouched", c.Stages[0].Feed.Grade(Copper).U, 0.1, 0)
	checkdata.Near(t, "others untouched", wide.Stages[0].Products[0].Grade(Copper).U, 0.3, 0)
}

// Sizes of both products of a stage, by hand.
func TestBySize(t *testing.T) {
	c := onlyStage(kg(10, 0.01), kg(4, 0.01), kg(6, 0.01), wt(10, 0.1), wt(19, 0.1), wt(4, 0.1))
	part := func(role Role, size Size, m, g float64) Stream {
		return Stream{Role: role, Size: size, Mass: kg(m, 0.01), Grades: []Grade{{Copper, wt(g, 0.1)}}}
	}
	coarse, fine := Size{1, math.Inf(1)}, Size{0, 1}
	c.Stages[0].Fractions = []Stream{
		part(Concentrate, fine, 1, 16), part(Concentrate, coarse, 3, 20),
		part(Tailings, coarse, 3, 2), part(Tailings, fine, 3, 6)}
	r := reconciled(t, c)
	got := r.BySize(0)
	if len(got) != 2 || got[0].Size != coarse {
		t.Fatalf("%+v", got)
	}
	checkdata.Near(t, "coarse, recovered", got[0].Recovery[0].Value, 60.0/66, 1e-9)
	checkdata.Near(t, "fine, recovered", got[1].Recovery[0].Value, 16.0/34, 1e-9)
	checkdata.Near(t, "share in the fines", got[1].Share.Value, 0.34, 1e-9)
	// By hand: R = a/(a + b) with a = 1·16, b = 3·6 in their shares of 76 and 24.
	if u := got[1].Recovery[0].U; u < 0.003 || u > 0.02 {
		t.Errorf("u of the recovery of fines: %g", u)
	}
	curve := r.Curve()
	if len(curve) != 4 || curve[0].Lot.Size != coarse || curve[0].Lot.Role != Concentrate {
		t.Fatalf("%+v", curve)
	}
	checkdata.Near(t, "richest lot", curve[0].Recovery.Value, 0.6, 1e-9)
	checkdata.Near(t, "its grade", curve[0].Grade.Value, 20, 1e-9)
	checkdata.Near(t, "two lots", curve[1].Grade.Value, 19, 1e-9)
}

func BenchmarkReconcile(b *testing.B) {
	c, _ := random(rand.New(rand.NewPCG(1, 1)), 1)
	b.Run("stages/2", func(b *testing.B) {
		for range b.N {
			if _, err := Reconcile(c); err != nil {
				b.Fatal(err)
			}
		}
	})
}
