package chem

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// A slag whose iron was stated as Fe2O3T, worked apart by stoichiometry
// (constructed numbers, atomic weights of the CIAAW table).
const constructedSlag = "SiO2=32.1 TiO2=0.35 Al2O3=5.8 Fe2O3T=55.6 MnO=0.42 MgO=1.15 CaO=4.7 Na2O=0.3 K2O=1.05 P2O5=0.22 CuO=1.1 S=0.4"

func TestSlagTotalWithIronAsFeO(t *testing.T) {
	c := parse(t, constructedSlag)
	checkdata.Near(t, "total as reported", c.Total().Measured, 103.19, 0.005)
	f := c.AsOxides(AsFeO)
	checkdata.Near(t, "FeO", f.Wt("FeO"), 50.029, 0.002)
	checkdata.Near(t, "total with FeO", f.Total().Measured, 97.62, 0.01)
	copper, err := Factor("CuO", "Cu")
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "copper", f.Wt("CuO")*copper, 0.879, 0.0005)
	iron, err := Factor("Fe2O3T", "Fe")
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "iron", c.Wt("Fe2O3T")*iron, 38.888, 0.002)
}

func TestThreeComponentShare(t *testing.T) {
	f := parse(t, constructedSlag).AsOxides(AsFeO)
	var three Composition
	for _, p := range f.Parts {
		if slices.Contains([]string{"FeO", "SiO2", "CaO"}, p.ID) {
			three.Parts = append(three.Parts, p)
		}
	}
	checkdata.Near(t, "share of the analysis", three.Total().Measured, 86.83, 0.02)
	n, err := three.On(Normalised)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "FeO", n.Wt("FeO"), 57.62, 0.02)
	checkdata.Near(t, "SiO2", n.Wt("SiO2"), 36.97, 0.02)
	checkdata.Near(t, "CaO", n.Wt("CaO"), 5.41, 0.02)
}

// as received -> dry -> ignited, worked apart: dry SiO2 53.524, ignited 58.400.
func TestIgnitedBasis(t *testing.T) {
	c := parse(t, "SiO2=53.524 LOI=8.35")
	f, err := c.On(LOIFree)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "SiO2 free of LOI", f.Wt("SiO2"), 58.400, 0.002)
	if _, ok := f.Get("LOI"); ok {
		t.Error("LOI stays in a composition free of it")
	}
}

func TestLOIFree(t *testing.T) {
	tests := []struct {
		name, in string
		id       string
		want     float64
	}{
		{"a gain says nothing about volatiles", "SiO2=30 FeO=70 LOI=-4", "SiO2", 30},
		{"no LOI", "SiO2=30 FeO=70", "SiO2", 30},
		{"water and carbon dioxide stand for it", "SiO2=45 FeO=45 H2O+=4 CO2=6", "SiO2", 50},
		{"LOI already holds them", "SiO2=45 FeO=45 LOI=10 CO2=6", "SiO2", 50},
		{"GOI is a gain", "SiO2=30 FeO=70 GOI=4", "SiO2", 30},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, err := parse(t, tt.in).On(LOIFree)
			if err != nil {
				t.Fatal(err)
			}
			checkdata.Near(t, tt.id, f.Wt(tt.id), tt.want, 1e-12)
		})
	}
	if _, err := parse(t, "SiO2=1 LOI=100").On(LOIFree); err == nil {
		t.Error("a sample that is all volatile has no LOI-free basis")
	}
	if _, err := parse(t, "SiO2=1").On("dry-ish"); err == nil || !strings.Contains(err.Error(), "loi_free") {
		t.Errorf("unknown basis: %v", err)
	}
}

// Normalising: sums to 100, changes nothing the second time, keeps ratios and
// does not depend on the order in which parts are given.
func TestNormalisedProperties(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	ids := []string{"SiO2", "Al2O3", "FeO", "CaO", "MgO", "K2O", "Cu", "S", "MnO", "LOI"}
	for range 300 {
		var parts []Part
		for _, id := range ids {
			if x := r.ExpFloat64() * 10; r.IntN(5) > 0 || id == "SiO2" {
				parts = append(parts, Part{id, quantity.WithU(x, 0.05*x, "wt%", "assumed")})
			}
		}
		c, err := NewComposition(parts...)
		if err != nil {
			t.Fatal(err)
		}
		n, err := c.On(Normalised)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "sum", n.Total().Measured, 100, 1e-10)
		again, err := n.On(Normalised)
		if err != nil {
			t.Fatal(err)
		}
		slices.Reverse(parts)
		reversed, err := NewComposition(parts...)
		if err != nil {
			t.Fatal(err)
		}
		m, err := reversed.On(Normalised)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range n.Parts {
			checkdata.Near(t, p.ID+" normalised twice", again.Parts[i].Value, p.Value, 1e-10)
			checkdata.Near(t, p.ID+" in reversed order", m.Parts[i].Value, p.Value, 0)
			checkdata.Near(t, p.ID+" over SiO2", p.Value/n.Wt("SiO2"), c.Wt(p.ID)/c.Wt("SiO2"), 1e-10*p.Value)
			if p.ID == "LOI" {
				t.Error("LOI in a normalised composition")
			}
		}
	}
	if _, err := parse(t, "LOI=4").On(Normalised); err == nil {
		t.Error("a composition of LOI alone cannot be normalised")
	}
}

// The closed formula for the uncertainty of a normalised part against drawing
// from the raw parts (JCGM 101:2008). 2·10⁵ draws give the standard deviation
// to 0.16 %, and the first-order formula is off by the square of the relative
// uncertainties, below 0.5 % here.
func TestNormalisedUncertaintyAgainstMonteCarlo(t *testing.T) {
	raw := []Part{
		{"SiO2", quantity.WithU(34, 0.6, "wt%", "")},
		{"FeO", quantity.WithU(48, 1.1, "wt%", "")},
		{"CaO", quantity.WithU(9, 0.4, "wt%", "")},
		{"Al2O3", quantity.WithU(6, 0.3, "wt%", "")}}
	c, err := NewComposition(raw...)
	if err != nil {
		t.Fatal(err)
	}
	n, err := c.On(Normalised)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 7))
	const draws = 200_000
	var sum, sum2 [4]float64
	for range draws {
		var x [4]float64
		var total float64
		for i, p := range c.Parts {
			x[i] = p.Value + p.U*r.NormFloat64()
			total += x[i]
		}
		for i := range x {
			d := 100*x[i]/total - n.Parts[i].Value
			sum[i] += d
			sum2[i] += d * d
		}
	}
	for i, p := range n.Parts {
		mean := sum[i] / draws
		sd := math.Sqrt(sum2[i]/draws - mean*mean)
		checkdata.Near(t, "u of "+p.ID, p.U, sd, 0.01*sd)
	}
}

func TestLOIFreeUncertaintyAgainstMonteCarlo(t *testing.T) {
	c, err := NewComposition(Part{"SiO2", quantity.WithU(50, 0.3, "wt%", "")}, Part{"LOI", quantity.WithU(20, 0.8, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	f, err := c.On(LOIFree)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 8))
	var sum, sum2 float64
	const draws = 200_000
	for range draws {
		d := 100*(50+0.3*r.NormFloat64())/(80-0.8*r.NormFloat64()) - f.Wt("SiO2")
		sum += d
		sum2 += d * d
	}
	sd := math.Sqrt(sum2/draws - sum*sum/draws/draws)
	q, _ := f.Get("SiO2")
	checkdata.Near(t, "u", q.U, sd, 0.01*sd)
}

func TestNormalisingSaysWhatCountedAsExact(t *testing.T) {
	c, err := NewComposition(Part{"SiO2", quantity.WithU(40, 0.3, "wt%", "laboratory")}, Part{"FeO", quantity.New(50, "wt%", "none")})
	if err != nil {
		t.Fatal(err)
	}
	n, err := c.On(Normalised)
	if err != nil {
		t.Fatal(err)
	}
	if q, _ := n.Get("SiO2"); !strings.Contains(q.UNote, "FeO") || !strings.Contains(q.UNote, "laboratory") {
		t.Errorf("note %q", q.UNote)
	}
	if q, _ := n.Get("FeO"); q.HasU() {
		t.Errorf("an uncertainty from nowhere: %v", q.U)
	}
	if q, _ := c.Get("SiO2"); q.UNote != "laboratory" || q.Value != 40 {
		t.Error("the original was changed")
	}
}
