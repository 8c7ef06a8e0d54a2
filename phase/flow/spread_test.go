package flow

import (
	"math"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/slag"
)

// The drawn spread of log η by Utigard & Warczok against the law of
// propagation for two independent parts: VR = s/(1.2 f), so that
// u(ln VR)² = (u_s/s)² + (u_f/f)², and ln η goes with the root of VR.
func TestSpreadAgainstPropagation(t *testing.T) {
	c, err := chem.NewComposition(
		chem.Part{ID: "SiO2", Quantity: quantity.WithU(35, 0.7, "wt%", "")},
		chem.Part{ID: "FeO", Quantity: quantity.WithU(65, 1.3, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	s, err := SpreadOf(m, nil, 1250, 20000, 1)
	if err != nil {
		t.Fatal(err)
	}
	root := math.Sqrt(35 / (1.2 * 65))
	slope := math.Ln10 * (-5.1 + 12080/(1250+zeroCelsius)) * root / 2
	want := slope * math.Hypot(0.02, 0.02)
	checkdata.Near(t, "u(ln η)", math.Log(s.EtaFactor), want, 0.03*want)
	if !(s.DensitySD > 0.005 && s.DensitySD < 0.05) || s.Draws != 20000 {
		t.Errorf("%+v", s)
	}
	again, err := SpreadOf(m, UtigardWarczok1995{}, 1250, 20000, 1)
	if err != nil || again != s {
		t.Errorf("one seed, two answers: %+v, %+v, %v", s, again, err)
	}
	exact := slag.FromWt(m.Wt)
	for what, call := range map[string]func() error{
		"no uncertainty": func() error { _, err := SpreadOf(exact, nil, 1250, 100, 1); return err },
		"one draw":       func() error { _, err := SpreadOf(m, nil, 1250, 1, 1); return err },
		"no temperature": func() error { _, err := SpreadOf(m, nil, math.NaN(), 100, 1); return err },
		"below the end":  func() error { _, err := SpreadOf(m, Giordano2008{}, 200, 100, 1); return err },
	} {
		if call() == nil {
			t.Errorf("%s is accepted", what)
		}
	}
}
