package chem

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func TestCounts(t *testing.T) {
	tests := []struct {
		name, in string
		counted  string // IDs in conventional order
	}{
		{"total beside ferrous and ferric", "SiO2=30 FeO=40 Fe2O3=10 Fe2O3T=54.5", "SiO2 Fe2O3T"},
		{"titrated FeO beside a total", "FeO=40 Fe2O3T=54.5", "Fe2O3T"},
		{"two totals", "FeOT=50 Fe2O3T=55.6", "Fe2O3T"},
		{"shares add up", "FeO=40 Fe2O3=10", "Fe2O3 FeO"},
		{"element and its oxide", "MnO=0.4 Mn=0.31", "MnO"},
		{"element that only repeats FeO", "FeO=50.03 Fe=38.89", "FeO"},
		{"element that is total iron beside titrated FeO", "FeO=40 Fe=45", "Fe"},
		{"three manganese oxides", "MnO=1 Mn3O4=1.1 MnO2=1.2", "MnO"},
		{"two copper oxides", "CuO=1 Cu2O=2", "CuO Cu2O"},
		{"metal and species are shares", "Fe_met=2 Fe2+=20 FeOT=40 Cu_met=1 Cu=2", "FeOT Cu"},
		{"volatiles are in the LOI", "SiO2=50 LOI=5 H2O+=2 CO2=3 C=1", "SiO2 LOI"},
		{"water once", "SiO2=50 H2O=5 H2O+=3 H2O-=2", "SiO2 H2O"},
		{"bound water and moisture", "SiO2=50 H2O+=3 H2O-=2", "SiO2 H2O+ H2O-"},
		{"carbon beside carbon dioxide", "SiO2=50 C=1 CO2=3.7", "SiO2 CO2"},
		{"never a total, balance or residue", "SiO2=50 Total=99 LE=3 IR=4 R2O3=9", "SiO2"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c := parse(t, tt.in)
			var got []string
			var sum float64
			for _, p := range c.Parts {
				if c.Counts(p.ID) {
					got = append(got, p.ID)
					sum += p.Value
				}
			}
			if s := strings.Join(got, " "); s != tt.counted {
				t.Errorf("counted %q, want %q", s, tt.counted)
			}
			checkdata.Near(t, "total", c.Total().Measured, sum, 1e-12)
		})
	}
	if parse(t, "SiO2=1").Counts("CaO") {
		t.Error("an absent part cannot count")
	}
	checkdata.Near(t, "total with a gain", parse(t, "SiO2=60 FeO=44 GOI=4").Total().Measured, 100, 1e-12)
}

// An empty column must not hide a filled one that states the same element.
func TestEmptyPartsDoNotHideNumbers(t *testing.T) {
	missing := quantity.None(quantity.Missing, math.NaN(), "wt%")
	below := quantity.None(quantity.Below, 0.5, "wt%")
	num := func(x float64) quantity.Quantity { return quantity.New(x, "wt%", "none stated") }
	tests := []struct {
		name  string
		parts []Part
		want  map[string]float64 // after AsOxides(AsFeO)
	}{
		{"total not analysed, FeO titrated", []Part{{"Fe2O3T", missing}, {"FeO", num(40)}}, map[string]float64{"FeO": 40}},
		{"oxide empty, element filled", []Part{{"MnO", missing}, {"Mn", num(1)}}, map[string]float64{"MnO": 1.29122}},
		{"oxide below its limit, element filled", []Part{{"CaO", below}, {"Ca", num(1)}}, map[string]float64{"CaO": 1.39920}},
		{"FeO empty, Fe filled", []Part{{"FeO", missing}, {"Fe", num(40)}}, map[string]float64{"FeO": 51.4596}},
		{"FeO measured, Fe2O3 below its limit", []Part{{"FeO", num(40)}, {"Fe2O3", below}}, map[string]float64{"FeO": 40}},
		{"MnO empty, Mn3O4 filled", []Part{{"MnO", missing}, {"Mn3O4", num(1)}}, map[string]float64{"MnO": 0.93008}},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			c, err := NewComposition(tt.parts...)
			if err != nil {
				t.Fatal(err)
			}
			o := c.AsOxides(AsFeO)
			for id, x := range tt.want {
				checkdata.Near(t, id, o.Wt(id), x, 2e-4*x)
			}
			if len(o.Parts) != len(tt.want) {
				t.Errorf("parts %v", o.Parts)
			}
		})
	}
	c, err := NewComposition(Part{"FeO", quantity.None(quantity.Below, 0.3, "wt%")}, Part{"Fe2O3", missing})
	if err != nil {
		t.Fatal(err)
	}
	if q, ok := c.TotalIron(AsFeO); !ok || q.Class != quantity.Below || q.Limit != 0.3 {
		t.Errorf("a limit on iron is lost: %+v", q)
	}
	if q, ok := parse(t, "SiO2=1").TotalIron(AsFeO); ok {
		t.Errorf("iron from nowhere: %+v", q)
	}
}

func TestTotalIron(t *testing.T) {
	tests := []struct {
		in   string
		as   Iron
		want float64
	}{
		{"FeO=40 Fe2O3T=54.5", AsFe2O3, 54.5},
		{"FeO=40 Fe2O3T=55.6", AsFeO, 50.029},
		{"FeO=40 Fe=45", AsFeO, 45 * 1.28649},
		{"FeO=40 Fe2O3=10 Fe=60", AsFeO, 40 + 8.9981},
		{"Fe=10", AsFe2O3, 14.2973},
	}
	for _, tt := range tests {
		q, ok := parse(t, tt.in).TotalIron(tt.as)
		if !ok {
			t.Errorf("%s: no iron", tt.in)
		}
		checkdata.Near(t, tt.in, q.Value, tt.want, 0.002)
	}
}

func TestFerricByDifference(t *testing.T) {
	q, ok := parse(t, "FeO=45 Fe2O3T=48").FerricByDifference()
	if !ok || q.Value > -2 || q.HasU() {
		t.Errorf("a difference below zero is told, not cut off: %+v", q)
	}
	if q, ok := parse(t, "FeO=40 Fe=45").FerricByDifference(); !ok || math.Abs(q.Value-(64.338-44.454)) > 0.002 {
		t.Errorf("from the element: %+v", q)
	}
	for _, s := range []string{"FeO=40", "Fe2O3T=48", "FeO=40 Fe2O3=5 Fe2O3T=50", "FeO=50.03 Fe=38.89", "SiO2=40"} {
		if q, ok := parse(t, s).FerricByDifference(); ok {
			t.Errorf("%s: %+v from nothing", s, q)
		}
	}
}
