package lining

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func parse(t testing.TB, text string) chem.Composition {
	t.Helper()
	c, err := chem.ParseComposition(text)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// The crucible fabric PB-13 of Wątroba 2012 (MSc dissertation, UCL).
const pb13 = "MgO=0.5 Al2O3=25.5 SiO2=67.3 K2O=2.8 TiO2=0.6 FeO=1.8"

func table(t testing.TB, text string) map[string]Value {
	t.Helper()
	vs, err := Table(parse(t, text))
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]Value{}
	for _, v := range vs {
		if v.Label == "" || v.Source == "" || v.Quantity.Unit == "" || v.Quantity.UNote == "" {
			t.Errorf("incomplete: %+v", v)
		}
		m[v.Key] = v
	}
	return m
}

// Fluxes 5.1, Al2O3 over them 5.0, Schuen 1673 °C and Bischof 3.74, worked
// apart; the ratios by hand.
func TestPublishedClay(t *testing.T) {
	m := table(t, pb13)
	for key, want := range map[string][2]float64{
		"flux_sum": {5.1, 1e-9}, "alkali_sum": {2.8, 1e-9}, "alkali_flux": {2.8 / 5.1, 1e-9}, "al2o3_flux": {5.0, 0.005},
		"sio2_al2o3": {67.3 / 25.5, 1e-9}, "k2o_al2o3": {2.8 / 25.5, 1e-9}, "tio2_al2o3": {0.6 / 25.5, 1e-9},
		"schuen_c": {1673, 0.5}, "bischof_quotient": {3.74, 0.005},
	} {
		checkdata.Near(t, key, m[key].Quantity.Value, want[0], want[1])
	}
	if len(m) != 9 || strings.Join(m["schuen_c"].Notices.Codes(), " ") != "SCHUEN_RANGE" { // R is 6.1
		t.Errorf("%v", m["schuen_c"])
	}
	if !strings.Contains(m["flux_sum"].Notices[0].Message, "CaO") {
		t.Errorf("%v", m["flux_sum"].Notices)
	}
}

// Kaolinite, Al2O3·2SiO2 without its water, gives 1780 °C, worked apart; it
// has no fluxes, so what divides by them cannot be formed.
func TestKaolinite(t *testing.T) {
	m := table(t, "Al2O3=45.9 SiO2=54.1")
	checkdata.Near(t, "Schuen", m["schuen_c"].Quantity.Value, 1780, 0.5)
	if len(m["schuen_c"].Notices) != 0 || m["bischof_quotient"].Quantity.Known() || strings.Join(m["al2o3_flux"].Notices.Codes(), " ") != "LINING_UNDEFINED" {
		t.Errorf("%+v", m)
	}
	if _, err := Table(parse(t, "SiO2=90 CaO=10")); err == nil {
		t.Error("a clay without alumina")
	}
}

// Iron counts the same however it is stated, and barium as element too.
func TestFormsOfIron(t *testing.T) {
	a := table(t, "SiO2=60 Al2O3=20 Fe2O3=8 BaO=0.1")["flux_sum"].Quantity.Value
	checkdata.Near(t, "Fe2O3", a, 8*0.8998+0.1, 0.0005)
	b := table(t, "SiO2=60 Al2O3=20 Fe2O3T=8 Ba=0.08957")["flux_sum"].Quantity.Value
	checkdata.Near(t, "Fe2O3T and Ba", b, a, 1e-4)
}

func TestFluxRichClayWarns(t *testing.T) {
	v := table(t, "SiO2=55 Al2O3=14 FeO=7 CaO=4 K2O=3 MgO=2")["schuen_c"]
	if strings.Join(v.Notices.Codes(), " ") != "SCHUEN_RANGE SCHUEN_CHARCOAL" {
		t.Errorf("%v", v.Notices)
	}
}

// Numerical propagation against the law for a sum and a quotient (JCGM
// 100:2008, 5.1), and below the limit as a spread about zero.
func TestUncertainty(t *testing.T) {
	c, err := chem.NewComposition(
		chem.Part{ID: "SiO2", Quantity: quantity.WithU(60, 0.6, "wt%", "")},
		chem.Part{ID: "Al2O3", Quantity: quantity.WithU(20, 0.4, "wt%", "")},
		chem.Part{ID: "FeO", Quantity: quantity.WithU(5, 0.1, "wt%", "")},
		chem.Part{ID: "K2O", Quantity: quantity.New(3, "wt%", "none")},
		chem.Part{ID: "MgO", Quantity: quantity.None(quantity.Below, 0.3, "wt%")})
	if err != nil {
		t.Fatal(err)
	}
	vs, err := Table(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, v := range vs {
		switch v.Key {
		case "flux_sum":
			checkdata.Near(t, "u of the sum", v.Quantity.U, math.Hypot(0.1, 0.3/math.Sqrt(3)), 1e-9)
			if !strings.Contains(v.Quantity.UNote, "K2O") || !strings.Contains(v.Notices[0].Message, "MgO") {
				t.Errorf("%+v", v)
			}
		case "sio2_al2o3":
			checkdata.Near(t, "u of the quotient", v.Quantity.U, 3*math.Hypot(0.01, 0.02), 1e-4)
		}
	}
}

func TestCalcareous(t *testing.T) {
	for _, tt := range []struct {
		cao   quantity.Quantity
		limit float64
		yes   bool
		codes string
	}{
		{quantity.WithU(10, 0.2, "wt%", ""), 0, true, ""},
		{quantity.WithU(2, 0.2, "wt%", ""), 0, false, ""},
		{quantity.WithU(5.5, 0.1, "wt%", ""), 0, false, "CALCAREOUS_LIMIT"},
		{quantity.WithU(5.5, 0.1, "wt%", ""), 5, true, "CALCAREOUS_LIMIT"},
		{quantity.WithU(6.2, 0.2, "wt%", ""), 0, true, "CALCAREOUS_UNSURE"},
		{quantity.None(quantity.Below, 0.1, "wt%"), 0, false, ""},
	} {
		c, err := chem.NewComposition(chem.Part{ID: "CaO", Quantity: tt.cao})
		if err != nil {
			t.Fatal(err)
		}
		yes, ns, err := Calcareous(c, Settings{tt.limit})
		if err != nil || yes != tt.yes || strings.Join(ns.Codes(), " ") != tt.codes {
			t.Errorf("%s, limit %v: %v %v %v", tt.cao.Text(), tt.limit, yes, ns, err)
		}
	}
	if _, _, err := Calcareous(parse(t, "SiO2=60"), Settings{}); err == nil {
		t.Error("without CaO nothing is calcareous or not")
	}
}

// The table of Maniatis & Tite 1981 as it is remembered, and its inverse.
func TestVitrification(t *testing.T) {
	inf := math.Inf(1)
	for _, tt := range []struct {
		calcareous bool
		in         Atmosphere
		ends       [6]float64
	}{
		{false, Oxidising, [6]float64{-inf, 800, 850, 950, 1050, inf}},
		{false, Reducing, [6]float64{-inf, 750, 800, 900, 1000, inf}},
		{true, Oxidising, [6]float64{-inf, 800, 850, 1050, 1100, inf}},
	} {
		for i, s := range Stages() {
			b, err := FiredAt(s, tt.calcareous, tt.in)
			if err != nil || b.Lo != tt.ends[i] || b.Hi != tt.ends[i+1] || b.Blur != 50 {
				t.Errorf("%s, %v, %s: %+v, %v", s, tt.calcareous, tt.in, b, err)
			}
			mid := (max(b.Lo, 600) + min(b.Hi, 1300)) / 2
			if got, err := StageAt(mid, tt.calcareous, tt.in); err != nil || got != s {
				t.Errorf("at %v °C %s, %v; want %s", mid, got, err, s)
			}
		}
	}
	if b, err := FiredAt(Extensive, true, Oxidising); err != nil || strings.Join(b.Notices.Codes(), " ") != "VITRIFICATION_STABLE" {
		t.Errorf("%+v, %v", b, err)
	}
	for _, call := range []func() error{
		func() error { _, err := FiredAt(Initial, true, Reducing); return err },
		func() error { _, err := FiredAt("glassy", false, Oxidising); return err },
		func() error { _, err := FiredAt(Initial, false, "smoky"); return err },
		func() error { _, err := StageAt(math.NaN(), false, Oxidising); return err },
		func() error { _, err := StageAt(900, true, Reducing); return err },
	} {
		if call() == nil {
			t.Error("accepted")
		}
	}
}
