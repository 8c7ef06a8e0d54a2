package chem

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// Oxygen counted too much, from the atomic weights (stoichiometry; the same
// factors are tabulated in handbooks of rock analysis).
func TestOxygenEquivalents(t *testing.T) {
	for _, c := range []struct {
		mineral, statedAs string
		want              float64
	}{
		{"FeS", "FeO", 0.49903}, {"CaS", "CaO", 0.49903}, {"Cu2S", "Cu2O", 0.49903}, // S for O
		{"FeS2", "FeO", 0.24952}, {"FeS2", "Fe2O3", 0.37427}, {"FeS", "Fe2O3", 0.74855}, {"Cu2S", "CuO", 0.99807},
		{"Cu2S", "Cu", 0},
	} {
		f, err := OxygenPerSulphur(c.mineral, c.statedAs)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "S in "+c.mineral+" with "+c.statedAs, f, c.want, 0.000006)
	}
	checkdata.Near(t, "F", OxygenPerHalogen("F"), 0.42107, 0.000006)
	checkdata.Near(t, "Cl", OxygenPerHalogen("Cl"), 0.22566, 0.000006)
	if _, err := OxygenPerSulphur("FeS", "CuO"); err == nil {
		t.Error("sulphur of FeS is taken off copper oxide")
	}
}

// F 0.35 and Cl 0.12 wt%: 0.147 and 0.027, together 0.174 wt% to take off
// (constructed numbers, arithmetic by hand).
func TestHalogens(t *testing.T) {
	c := parse(t, "SiO2=50 FeO=49.5 F=0.35 Cl=0.12 O=FCl=-9").WithSulphur(Sulphide)
	checkdata.Near(t, "O=FCl", c.Wt("O=FCl"), -0.174, 0.0005)
	checkdata.Near(t, "total", c.Total().Measured, 99.97-0.174, 0.0005)
	if c := c.Without("F", "Cl"); c.has("O=FCl") {
		t.Error("the correction stays without what it corrects")
	}
}

// A slag worked apart (constructed numbers): with FeO 97.62, less the oxygen
// for sulphur 97.42, with copper as the element 97.20; normalised by that sum,
// the correction kept as a negative part.
func TestSlagStepByStep(t *testing.T) {
	c := parse(t, constructedSlag).AsOxides(AsFeO)
	checkdata.Near(t, "with FeO", c.Total().Measured, 97.62, 0.01)
	c = c.WithSulphur(Sulphide)
	checkdata.Near(t, "less oxygen", c.Total().Measured, 97.42, 0.01)
	for i, p := range c.Parts {
		if p.ID == "CuO" {
			c.Parts[i] = convert(p, "Cu")
		}
	}
	c.sort()
	checkdata.Near(t, "copper as the element", c.Total().Measured, 97.20, 0.01)
	n, err := c.On(Normalised)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]float64{"SiO2": 33.025, "FeO": 51.471, "CaO": 4.835, "Al2O3": 5.967, "Cu": 0.904} {
		checkdata.Near(t, id, n.Wt(id), want, 0.005)
	}
	checkdata.Near(t, "sum", n.Total().Measured, 100, 1e-9)
}

func TestSulphurForms(t *testing.T) {
	for _, c := range []struct {
		in      string
		form    SulphurForm
		s, less float64 // S or SO3 as stated, oxygen taken off
	}{
		{"SiO2=30 FeO=60 SO3=1", Sulphide, 0.40047, 0.40047 * 0.49903}, // printed as SO3 though it is sulphide
		{"SiO2=30 Fe2O3=60 S=1", Sulphide, 1, 0.74855},
		{"SiO2=30 Fe2O3=60 S=1", Pyrite, 1, 0.37427},
		{"SiO2=30 FeO=60 S=1", Pyrite, 1, 0.24952},
		{"SiO2=30 FeO=60 CuO=3 S=1", Chalcocite, 1, 0.99807},
		{"SiO2=30 FeO=60 Cu=3 S=1", Chalcocite, 1, 0},
		{"SiO2=30 FeO=60 S=1", Sulphate, 2.49710, 0},
		{"SiO2=30 FeO=60 S=1 O=S=-0.3", SulphurReported, 1, 0},
		{"SiO2=30 FeO=60 S=0.4 SO3=1", Sulphide, 0.40047, 0.40047 * 0.49903}, // one sulphur in two forms
	} {
		out := parse(t, c.in).WithSulphur(c.form)
		id := "S"
		if c.form == Sulphate {
			id = "SO3"
		}
		checkdata.Near(t, c.in+" "+string(c.form), out.Wt(id), c.s, 0.0001)
		checkdata.Near(t, c.in+" "+string(c.form)+" oxygen", -out.Wt("O=S"), c.less, 0.0001)
		checkdata.Near(t, c.in+" sum", out.Total().Measured, out.Without("S", "SO3").Total().Measured+c.s-c.less, 0.0001)
	}
}

// Gains and losses on ignition per wt%, from the atomic weights.
func TestIgnitionFactors(t *testing.T) {
	for _, c := range []struct {
		substance, product, element string
		gain                        float64
	}{
		{"FeO", "Fe2O3", "Fe", 0.11135}, {"Fe", "Fe2O3", "Fe", 0.42973}, {"Fe3O4", "Fe2O3", "Fe", 0.03455}, {"Cu", "CuO", "Cu", 0.25177},
		{"Cu2O", "CuO", "Cu", 0.11181}, {"MnO", "Mn3O4", "Mn", 0.07518}, {"CaCO3", "CaO", "Ca", -0.43971}, {"Cu2CO3(OH)2", "CuO", "Cu", -0.28051},
		{"Al2Si2O5(OH)4", "Al2Si2O7", "Al", -0.13957}, {"FeS", "Fe2O3", "Fe", -0.09171}, {"FeS2", "Fe2O3", "Fe", -0.33444}, {"Cu2S", "CuO", "Cu", -0.00039},
	} {
		g, err := IgnitionGain(c.substance, c.product, c.element)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, c.substance, g, c.gain, 0.000006)
	}
	if _, err := IgnitionGain("FeO", "CuO", "Cu"); err == nil {
		t.Error("iron oxide is ignited to copper oxide")
	}
}

// A gain of 4.10 with 48.00 wt% FeO hides 1.245 wt% of volatiles; a slag with
// FeO 45.00, copper metal 1.20 and FeS 0.80 wt% gains 5.239 (constructed
// numbers, arithmetic by hand).
func TestVolatiles(t *testing.T) {
	ferrous := quantity.WithU(48, 0.4, "wt%", "")
	c, err := NewComposition(Part{"FeO", ferrous}, Part{"LOI", quantity.WithU(-4.10, 0.1, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	out, ok := c.WithVolatiles(c.GainOnIgnition(ferrous, true))
	loi, _ := out.Get("LOI")
	checkdata.Near(t, "volatiles", loi.Value, 1.245, 0.001)
	checkdata.Near(t, "their u", loi.U, math.Hypot(0.1, 0.11135*0.4), 1e-5)
	if before, _ := c.Get("LOI"); !ok || before.Value != -4.10 {
		t.Errorf("ok %v; the loss observed is now %v", ok, before.Value)
	}
	if _, ok := parse(t, "FeO=48").WithVolatiles(ferrous); ok {
		t.Error("volatiles without an ignition loss")
	}
	// FeS 0.80 wt% is S 0.2918 with its iron, which an analysis states as FeO too.
	sulphur := 0.80 * weightOf("S") / (weightOf("Fe") + weightOf("S"))
	all := quantity.New(45+sulphur*(weightOf("Fe")+weightOf("O"))/weightOf("S"), "wt%", "")
	slag, err := NewComposition(Part{"Cu_met", quantity.New(1.2, "wt%", "")}, Part{"S", quantity.New(sulphur, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "gain", slag.GainOnIgnition(all, true).Value, 5.239, 0.001)
}

// Ignited powder: SiO2 62.00 with LOI 11.20 is 55.056 of the dry sample
// (constructed numbers, arithmetic by hand).
func TestFromIgnited(t *testing.T) {
	loi := quantity.WithU(11.20, 0.2, "wt%", "")
	q := FromIgnited(quantity.WithU(62, 0.4, "wt%", ""), loi)
	checkdata.Near(t, "SiO2", q.Value, 55.056, 0.002)
	checkdata.Near(t, "u", q.U, math.Hypot(0.888*0.4, 0.62*0.2), 1e-9)
}

// Prills: bulk Cu 2.50, metal 1.40 wt% at 96.0 % Cu and 3.0 % Fe leave Cu 1.1724
// in the slag around it and take the oxides up by 1/0.986. Sieved: 3.20 g at
// 78.0 % Cu beside 246.8 g at 1.08 % have a head grade of 2.0646 % Cu
// (constructed numbers, arithmetic by hand).
func TestPrills(t *testing.T) {
	wt := func(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "wt%", "stated") }
	bulk, err := NewComposition(Part{"SiO2", wt(32, 0.3)}, Part{"FeO", wt(52, 0.5)}, Part{"Cu", wt(2.5, 0.05)}, Part{"Sn", quantity.None(quantity.Below, 0.02, "wt%")})
	if err != nil {
		t.Fatal(err)
	}
	p := Prills{Metal: wt(1.40, 0.2), Copper: wt(96, 0.5), Iron: wt(3, 0.5)}
	m, err := bulk.WithoutPrills(p)
	if err != nil {
		t.Fatal(err)
	}
	cu, _ := m.Get("Cu")
	checkdata.Near(t, "Cu of the matrix", cu.Value, 1.1724, 0.0005)
	checkdata.Near(t, "SiO2", m.Wt("SiO2"), 32*1.01420, 0.0005)
	checkdata.Near(t, "FeO", m.Wt("FeO"), (52-0.014*3*1.28649)/0.986, 0.0005)
	sn, _ := m.Get("Sn")
	checkdata.Near(t, "limit of Sn", sn.Limit, 0.02/0.986, 1e-9)
	// By hand: dCu/df = (Cu(bulk) − Cu(metal))/(1 − f)².
	checkdata.Near(t, "u of Cu", cu.U, math.Sqrt(math.Pow(0.05/0.986, 2)+math.Pow((2.5-96)/100/0.986/0.986*0.2, 2)+math.Pow(0.014/0.986*0.5, 2)), 0.002)
	back, err := m.WithPrills(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range bulk.Parts {
		if x.Known() {
			checkdata.Near(t, x.ID+" there and back", back.Wt(x.ID), x.Value, 1e-9)
		}
	}
	sieved := parse(t, "SiO2=32 Cu=1.08")
	head, err := sieved.WithPrills(Prills{Metal: wt(100*3.20/250, 0), Copper: wt(78, 0)})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "head grade", head.Wt("Cu"), 2.0646, 0.001)
	if q, _ := head.Get("Cu"); q.HasU() {
		t.Errorf("copper without uncertainty has %v", q.U)
	}
	for name, x := range map[string]Prills{
		"too much metal":     {Metal: wt(3, 0), Copper: wt(96, 0)},
		"150 % metal":        {Metal: wt(150, 0), Copper: wt(96, 0)},
		"all of it and more": {Metal: wt(1, 0), Copper: wt(80, 0), Iron: wt(30, 0)},
	} {
		if _, err := bulk.WithoutPrills(x); err == nil {
			t.Errorf("%s: no error", name)
		} else if name == "too much metal" && !strings.Contains(err.Error(), "too large") {
			t.Error(err)
		}
	}
}

// Fe(total) = Fe(metal) + 0.77731 FeO + 0.69943 Fe2O3.
func TestMetallicIron(t *testing.T) {
	c := parse(t, "SiO2=30 FeOT=60 Fe_met=2").AsOxides(AsFeO)
	checkdata.Near(t, "FeO", c.Wt("FeO"), 60-2/0.77731, 0.0005)
	checkdata.Near(t, "sum", c.Total().Measured, 30+60-2/0.77731+2, 0.0005)
	again := c.AsOxides(AsFe2O3)
	checkdata.Near(t, "Fe2O3", again.Wt("Fe2O3"), (60*0.77731-2)/0.69943, 0.002)
	checkdata.Near(t, "shares", parse(t, "FeO=50 Fe2O3=8 Fe_met=2").Total().Measured, 60, 1e-9)
	checkdata.Near(t, "total holds the metal", parse(t, "FeOT=60 Fe_met=2").Total().Measured, 60, 1e-9)
	absurd := parse(t, "SiO2=90 FeOT=2 Fe_met=5")
	if _, _, yes := absurd.MetalAboveTotal(); !yes || absurd.AsOxides(AsFeO).has("Fe_met") {
		t.Error("more metal than total iron is taken")
	}
}

// A part below its limit enters the sum that is brought to 100 as a share of it.
func TestNormalisedCountingLimits(t *testing.T) {
	c, err := NewComposition(Part{"SiO2", quantity.WithU(49, 0.3, "wt%", "")}, Part{"FeO", quantity.WithU(50, 0.4, "wt%", "")}, Part{"MgO", quantity.None(quantity.Below, 1, "wt%")})
	if err != nil {
		t.Fatal(err)
	}
	for share, total := range map[float64]float64{0: 99, 0.5: 99.5, 1: 100} {
		n, err := c.OnCounting(Normalised, share)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "SiO2", n.Wt("SiO2"), 4900/total, 1e-9)
		if q, _ := n.Get("MgO"); q.Class != quantity.Below || math.Abs(q.Limit-100/total) > 1e-9 {
			t.Errorf("MgO is %s", q.Text())
		}
	}
	if s := c.Total(); s.Measured != 99 || s.WithLimits != 100 {
		t.Errorf("the pair of sums is %v", s)
	}
}

// The covariance of a normalised composition, with the correction for sulphur
// hanging on sulphur, against drawing (JCGM 101:2008): 4·10⁵ draws give a
// covariance to 0.3 % of the product of the standard deviations.
func TestCovarianceAgainstMonteCarlo(t *testing.T) {
	raw, err := NewComposition(
		Part{"SiO2", quantity.WithU(33, 0.7, "wt%", "")}, Part{"Al2O3", quantity.WithU(6, 0.3, "wt%", "")},
		Part{"FeO", quantity.WithU(50, 1.0, "wt%", "")}, Part{"CaO", quantity.WithU(8, 0.4, "wt%", "")}, Part{"S", quantity.WithU(2, 0.3, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	c := raw.WithSulphur(Sulphide)
	n, err := c.On(Normalised)
	if err != nil {
		t.Fatal(err)
	}
	k := len(c.Parts)
	r := rand.New(rand.NewPCG(3, 1))
	const draws = 400_000
	got := make([][]float64, k)
	for i := range got {
		got[i] = make([]float64, k)
	}
	var sumSD float64
	for range draws {
		x := make([]float64, k)
		total := 0.0
		for i, p := range c.Parts {
			if p.ID != "O=S" {
				x[i] = p.Value + p.U*r.NormFloat64()
			}
		}
		x[c.place("O=S")] = -0.499033 * x[c.place("S")]
		for _, v := range x {
			total += v
		}
		sumSD += (total - c.Total().Measured) * (total - c.Total().Measured) / draws
		for i := range x {
			for j := range x {
				got[i][j] += (100*x[i]/total - n.Parts[i].Value) * (100*x[j]/total - n.Parts[j].Value) / draws
			}
		}
	}
	checkdata.Near(t, "u of the sum", c.Total().U, math.Sqrt(sumSD), 0.005*math.Sqrt(sumSD))
	cov := n.Covariance()
	for i := range got {
		checkdata.Near(t, "u of "+n.Parts[i].ID, n.Parts[i].U, math.Sqrt(got[i][i]), 0.01*math.Sqrt(got[i][i]))
		var row float64
		for j := range got {
			checkdata.Near(t, "covariance of "+n.Parts[i].ID+" and "+n.Parts[j].ID, cov[i][j], got[i][j], 0.015*math.Sqrt(got[i][i]*got[j][j]))
			row += cov[i][j]
		}
		checkdata.Near(t, "what sums to 100 varies by nothing, "+n.Parts[i].ID, row, 0, 1e-12)
	}
	checkdata.Near(t, "sum of the normalised", n.Total().U, 0, 1e-6)
}
