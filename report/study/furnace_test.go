package study

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/phase/flow"
)

func variable(t *testing.T, s *Study, key string) Variable {
	t.Helper()
	v, err := s.Variable(key)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestFurnaceVariables(t *testing.T) {
	s := ironCampaign(t)
	s1, _ := s.Campaign.Sample("S1")
	s2, _ := s.Campaign.Sample("S2")
	e, _, _ := s.Estimate("S1")

	eta := variable(t, s, "viscosity@1300").Of(s1)
	f, err := flow.New(e.Melt.Wt, flow.Settings{Crystals: s.Crystals("S1")})
	if err != nil {
		t.Fatal(err)
	}
	at, err := f.At(1300)
	if err != nil {
		t.Fatal(err)
	}
	if eta.Value != at.Eta || eta.Unit != "Pa·s" || !(eta.U >= eta.Value*math.Ln2) || !strings.Contains(eta.UNote, "20 draws") {
		t.Errorf("viscosity %s (%s), want %g", eta.WithUnit(), eta.UNote, at.Eta)
	}
	if v := variable(t, s, "viscosity"); v.Label != "viscosity at 1200 °C" || v.Of(s1).Value <= eta.Value {
		t.Errorf("%s is %s, not stiffer than at 1300 °C", v.Label, v.Of(s1).WithUnit())
	}
	both := []*assay.Sample{s1, s2}
	if m := variable(t, s, "viscosity").ModelU(both); !(m > 0.3*variable(t, s, "viscosity").Of(s1).Value) {
		t.Errorf("the models' shared error is %g", m)
	}
	if rho := variable(t, s, "density").Of(s1); !(rho.Value > 3 && rho.Value < 4.5) || !rho.HasU() {
		t.Errorf("density %s", rho.WithUnit())
	}

	lo, hi := variable(t, s, "log_fo2_low").Of(s1), variable(t, s, "log_fo2_high").Of(s1)
	w := s.Window(s1, 1200, AssumedSeen())
	if lo.Value != w.Low || hi.Value != w.High || !(lo.Value < hi.Value) || !strings.Contains(hi.UNote, w.Bounds[w.FromHigh].Reason) {
		t.Errorf("window %s to %s, want %g to %g", lo.Text(), hi.Text(), w.Low, w.High)
	}
	if q := variable(t, s, "ferric_share").Of(s1); math.Abs(q.Value-0.1) > 1e-9 || !q.HasU() {
		t.Errorf("ferric share %s", q.Text())
	}
	if q := variable(t, s, "ferric_share").Of(s2); q.Known() || !strings.Contains(q.UNote, "not titrated") {
		t.Errorf("ferric share of S2: %s %q", q.Text(), q.UNote)
	}

	// Cu 0.9 ± 1 % and S 0.1 ± 1 %: Cu2S binds at most 0.1·1.02·3.964 wt%, the
	// dissolved copper leaves less, and no form exceeds the total.
	oxide, most := variable(t, s, "cu_as_oxide_low").Of(s1), variable(t, s, "cu_as_sulphide_high").Of(s1)
	if want := math.Min(0.1*1.02*3.964, 0.9*1.02-oxide.Value); math.Abs(most.Value-want) > 1e-4 {
		t.Errorf("at most %s as sulphide, want %g", most.WithUnit(), want)
	}
	for _, form := range []string{"cu_as_oxide", "cu_as_sulphide", "cu_as_metal", "cu_unreduced"} {
		a, b := variable(t, s, form+"_low").Of(s1), variable(t, s, form+"_high").Of(s1)
		if !(a.Value >= 0 && a.Value <= b.Value && b.Value <= 0.9*1.02+1e-9) || a.UNote == "" {
			t.Errorf("%s from %s to %s", form, a.Text(), b.Text())
		}
	}
	if q := variable(t, s, "cu_as_metal_high").Of(s2); q.Known() || q.UNote != "copper was not determined" {
		t.Errorf("S2 without copper: %s %q", q.Text(), q.UNote)
	}
	if q := variable(t, s, "flux_sum").Of(s1); q.Known() || !strings.Contains(q.UNote, "lining") {
		t.Errorf("a slag has a flux sum as of a wall: %s", q.Text())
	}
	for key, want := range map[string]string{
		"viscosity@hot": "from 900 to 1700", "viscosity@400": "from 900 to 1700", "flux_sum@1200": `write "flux_sum"`, "viscosty": `did you mean "viscosity"?`,
	} {
		if _, err := s.Variable(key); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", key, err, want)
		}
	}
}

// A ratio does not change when all is brought to 100, nor does its uncertainty:
// for independent parts it is that of the ratio as reported.
func TestRatioKeepsItsUncertainty(t *testing.T) {
	s := published(t)
	sample, _ := s.Campaign.Sample("PB-24a")
	q := variable(t, s, "CaO/SiO2").Of(sample)
	// Table 15: CaO 4.1 ± 1.2, SiO2 29.4 ± 2.4.
	if want := 4.1 / 29.4 * math.Hypot(1.2/4.1, 2.4/29.4); math.Abs(q.U-want) > 1e-9 {
		t.Errorf("u of CaO/SiO2 is %g, want %g", q.U, want)
	}
	e, _, _ := s.Estimate("PB-24a")
	index, _ := e.Index("cao_sio2")
	if math.Abs(index.Quantity.U/q.U-1) > 0.15 { // 200 draws give 5 %, and the spread is not small
		t.Errorf("drawn it is %g, by the formula %g", index.Quantity.U, q.U)
	}
}
