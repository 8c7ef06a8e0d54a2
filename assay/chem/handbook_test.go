package chem

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

// mass weighs a formula, with one atomic weight replaced where then > 0.
func mass(t *testing.T, formula, element string, then float64) float64 {
	t.Helper()
	f, err := ParseFormula(formula)
	if err != nil {
		t.Fatal(err)
	}
	m := f.Mass()
	if then > 0 {
		w, _, _ := AtomicWeight(element)
		m += f[element] * (then - w)
	}
	return m
}

// Public element-oxide conversion tables; addresses in the file.
func TestFactorsAgainstPrintedTables(t *testing.T) {
	for _, r := range checkdata.Table(t, "chem/conversion_factors.csv") {
		from, to, printed := r["from"], r["to"], checkdata.Number(t, r["check_value"])
		then := 0.0
		if r["weight_then"] != "" {
			then = checkdata.Number(t, r["weight_then"])
		}
		atoms := func(formula string) float64 {
			f, err := ParseFormula(formula)
			if err != nil {
				t.Fatal(err)
			}
			for _, e := range []string{"Si", "Ti", "Al", "Fe", "Mn", "Mg", "Ca", "Na", "K", "P"} {
				if f[e] > 0 {
					return f[e]
				}
			}
			t.Fatalf("%s: no element to convert by", formula)
			return 0
		}
		got := mass(t, to, from, then) / atoms(to) / (mass(t, from, from, then) / atoms(from))
		if then == 0 && to != "CaCO3" {
			f, err := Factor(from, to)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(f-got) > 1e-12 {
				t.Errorf("Factor(%s, %s) = %v, formulas give %v", from, to, f, got)
			}
		}
		if r["direction"] == "divide" {
			got = 1 / got
		}
		_, decimals, _ := strings.Cut(r["check_value"], ".")
		if tol := 0.5*math.Pow(10, -float64(len(decimals))) + 1e-9; math.Abs(got-printed) > tol {
			t.Errorf("%s to %s: %.5f, printed %s", from, to, got, r["check_value"])
		}
	}
}

func certificate(t *testing.T, material string) map[string]quantity.Quantity {
	t.Helper()
	out := map[string]quantity.Quantity{}
	for _, r := range checkdata.Table(t, "chem/certificates.csv") {
		if r["material"] == material {
			out[r["analyte"]] = quantity.WithU(checkdata.Number(t, r["value"]), checkdata.Number(t, r["uncertainty"]), r["unit"], "certificate")
		}
	}
	return out
}

// USGS certificate BHVO-2 prints nine elements both as element and as oxide.
// The two printed values must agree within their rounding.
func TestBHVO2ElementsGiveItsOxides(t *testing.T) {
	cert := certificate(t, "BHVO-2")
	halfDigit := map[string]float64{"Al": 0.005, "Ca": 0.005, "Fe": 0.005, "K": 0.005, "Mg": 0.005, "Na": 0.005, "P": 0.005, "Si": 0.05, "Ti": 0.005,
		"Al2O3": 0.05, "CaO": 0.05, "Fe2O3": 0.05, "K2O": 0.005, "MgO": 0.005, "Na2O": 0.005, "P2O5": 0.005, "SiO2": 0.05, "TiO2": 0.005}
	var parts []Part
	for e := range map[string]bool{"Al": true, "Ca": true, "Fe": true, "K": true, "Mg": true, "Na": true, "P": true, "Si": true, "Ti": true} {
		parts = append(parts, Part{e, cert[e]})
	}
	c, err := NewComposition(parts...)
	if err != nil {
		t.Fatal(err)
	}
	oxides := c.AsOxides(AsFe2O3)
	if len(oxides.Parts) != 9 {
		t.Fatalf("%d oxides, want 9", len(oxides.Parts))
	}
	// The same conversion done once more from the printed elements, rounded as
	// a worked table rounds.
	worked := map[string]float64{"Al2O3": 13.53, "CaO": 11.43, "Fe2O3": 12.34, "K2O": 0.52, "MgO": 7.23, "Na2O": 2.21, "P2O5": 0.27, "SiO2": 49.85, "TiO2": 2.72}
	for _, p := range oxides.Parts {
		if math.Abs(p.Value-worked[p.ID]) > 0.0051 {
			t.Errorf("%s = %.3f, worked value %.2f", p.ID, p.Value, worked[p.ID])
		}
		a, _ := LookupAnalyte(p.ID)
		printed := cert[p.ID]
		if p.ID == "Fe2O3" {
			printed = cert["Fe2O3T"]
		}
		f, _ := Factor(a.Element, p.ID)
		if tol := halfDigit[p.ID] + f*halfDigit[a.Element] + 1e-9; math.Abs(p.Value-printed.Value) > tol {
			t.Errorf("%s = %.3f, certificate %.2f, rounding explains %.3f", p.ID, p.Value, printed.Value, tol)
		}
		back, _ := Factor(p.ID, a.Element)
		if math.Abs(p.Value*back-cert[a.Element].Value) > 1e-12 {
			t.Errorf("%s does not come back from %s", a.Element, p.ID)
		}
	}
}

// USGS certificate W-2 prints Fe2O3, FeO and their total.
func TestW2IronForms(t *testing.T) {
	cert := certificate(t, "W-2")
	c, err := NewComposition(Part{"FeO", cert["FeO"]}, Part{"Fe2O3", cert["Fe2O3"]})
	if err != nil {
		t.Fatal(err)
	}
	got, ok := c.TotalIron(AsFe2O3)
	if !ok || math.Abs(got.Value-10.799) > 0.002 {
		t.Errorf("Fe2O3T = %v, worked value 10.799", got.Value)
	}
	if d := math.Abs(got.Value - cert["Fe2O3T"].Value); d > cert["Fe2O3T"].U {
		t.Errorf("differs from the certified total by %.3f, more than its ± %.2f", d, cert["Fe2O3T"].U)
	}
	withTotal, err := NewComposition(Part{"FeO", cert["FeO"]}, Part{"Fe2O3", cert["Fe2O3"]}, Part{"Fe2O3T", cert["Fe2O3T"]})
	if err != nil {
		t.Fatal(err)
	}
	if q, _ := withTotal.TotalIron(AsFe2O3); q.Value != 10.83 {
		t.Errorf("a stated total must win: %v", q.Value)
	}
}

// Ferric iron of W-2 by difference against the certified one: 10.83 − 1.11134 ·
// 8.34 = 1.561, certificate 1.53.
func TestW2FerricByDifference(t *testing.T) {
	cert := certificate(t, "W-2")
	c, err := NewComposition(Part{"FeO", cert["FeO"]}, Part{"Fe2O3T", cert["Fe2O3T"]})
	if err != nil {
		t.Fatal(err)
	}
	q, ok := c.FerricByDifference()
	if !ok || math.Abs(q.Value-1.561) > 0.0005 {
		t.Fatalf("Fe2O3 by difference = %v, worked value 1.561", q.Value)
	}
	if math.Abs(q.Value-cert["Fe2O3"].Value) > 2*q.U {
		t.Errorf("Fe2O3 by difference = %v ± %v, certificate %v", q.Value, q.U, cert["Fe2O3"].Value)
	}
	if u := math.Sqrt(0.21*0.21 + 1.2351*0.093*0.093); math.Abs(q.U-u) > 1e-4 {
		t.Errorf("u = %v, want √(u²(total) + 1.235 u²(FeO)) = %v", q.U, u)
	}
}

// The whole W-2 certificate sums to 100 only if iron is counted once. Water
// and carbon dioxide are not among the values held, hence the wide window.
func TestW2TotalCountsIronOnce(t *testing.T) {
	var parts []Part
	for id, q := range certificate(t, "W-2") {
		parts = append(parts, Part{id, q})
	}
	c, err := NewComposition(parts...)
	if err != nil {
		t.Fatal(err)
	}
	if s := c.Total(); s.Measured < 99 || s.Measured > 101 {
		t.Errorf("total %.2f", s.Measured)
	}
}

// Wątroba 2012, table 15: fourteen slags with the sum of the printed means.
func TestPublishedSlagTotals(t *testing.T) {
	oxides := []string{"SiO2", "TiO2", "Al2O3", "FeO", "MnO", "MgO", "CaO", "K2O", "P2O5", "SO3", "CuO", "ZnO", "SnO2", "BaO", "ZrO2", "Cl"}
	rows := checkdata.Table(t, "slag/laos_separate.csv")
	if len(rows) != 14 {
		t.Fatalf("%d rows", len(rows))
	}
	for _, r := range rows {
		var parts []Part
		for _, o := range oxides {
			switch r[o] {
			case "":
			case "nd":
				parts = append(parts, Part{o, quantity.None(quantity.NotFound, math.NaN(), "wt%")})
			default:
				parts = append(parts, Part{o, quantity.New(checkdata.Number(t, r[o]), "wt%", "mean as printed")})
			}
		}
		c, err := NewComposition(parts...)
		if err != nil {
			t.Fatalf("%s: %v", r["sample"], err)
		}
		// Tenths add up in binary with a tiny remainder.
		if got, want := c.Total().Measured, checkdata.Number(t, r["sum_of_means"]); math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: sum %.3f, printed means sum to %.1f", r["sample"], got, want)
		}
	}
}
