package flow

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

func TestModelsAreNamed(t *testing.T) {
	want := "urbain_1981 urbain_1987 riboud_1981 mills_sridhar_1999 utigard_warczok_1995 giordano_2008"
	var keys []string
	for _, m := range Models() {
		keys = append(keys, m.Key())
		if m.Name() == "" || !strings.Contains(m.Source(), m.Key()[len(m.Key())-4:]) {
			t.Errorf("%s: %q, %q", m.Key(), m.Name(), m.Source())
		}
		if got, err := ByKey(m.Key()); err != nil || got != m {
			t.Errorf("ByKey(%s) = %v, %v", m.Key(), got, err)
		}
	}
	if got := strings.Join(keys, " "); got != want {
		t.Errorf("keys %q", got)
	}
	if _, err := ByKey("guess"); err == nil || !strings.Contains(err.Error(), "giordano_2008") {
		t.Errorf("an unknown model: %v", err)
	}
}

// Outside its range a model still gives a number, with a notice that names it.
func TestRanges(t *testing.T) {
	const bof = "SiO2=38 CaO=35 Al2O3=10 MgO=8 Na2O=5 FeO=4"
	for _, tt := range []struct {
		model Model
		melt  string
		tc    float64
		codes string
		says  string
	}{
		{Urbain1981{}, bof, 1250, "", ""},
		{Urbain1981{}, worked.PB31, 1250, "VISCOSITY_RANGE", "up to about 15 wt% FeO"},
		{Urbain1987{}, bof, 1250, "", ""},
		{Urbain1987{}, worked.PB31, 1250, "VISCOSITY_IRON_AS_MANGANESE", "49.2 wt% FeO"},
		{Riboud1981{}, bof, 1250, "", ""},
		{Riboud1981{}, "SiO2=60 CaO=40", 1250, "VISCOSITY_RANGE", "28 to 48 wt% SiO2"},
		{Riboud1981{}, "SiO2=40 CaO=5 Al2O3=20 Na2O=35", 1250, "VISCOSITY_RANGE VISCOSITY_RANGE VISCOSITY_RANGE", "13 to 52 wt% CaO"},
		{Riboud1981{}, worked.PB31, 1250, "VISCOSITY_RANGE VISCOSITY_RANGE", "Riboud"},
		{MillsSridhar1999{}, bof, 1250, "", ""},
		{MillsSridhar1999{}, "SiO2=90 CaO=10", 1250, "VISCOSITY_RANGE", "optical basicity"},
		{MillsSridhar1999{}, "FeO=80 SiO2=20", 1250, "VISCOSITY_RANGE", "optical basicity"},
		{UtigardWarczok1995{}, worked.PB31, 1250, "", ""},
		{UtigardWarczok1995{}, worked.PB31, 1100, "VISCOSITY_RANGE", "1150 to 1400 °C"},
		{UtigardWarczok1995{}, "SiO2=54.7 Al2O3=11.6 FeO=28.1", 1250, "VISCOSITY_RANGE", "VR"},
		{UtigardWarczok1995{}, "SiO2=45 Al2O3=11 FeO=7.72 MgO=8 CaO=16", 1250, "VISCOSITY_RANGE VISCOSITY_RANGE", "rich in iron"},
		{Giordano2008{}, "SiO2=70 Al2O3=14 K2O=5 Na2O=4 CaO=2 FeO=3", 1250, "", ""},
		{Giordano2008{}, worked.PB31, 1250, "VISCOSITY_RANGE", "natural melts"},
	} {
		a := Ask(tt.model, worked.Melt(t, tt.melt).Wt, tt.tc)
		if a.Err != nil || !(a.Eta > 0) {
			t.Errorf("%s of %s: %v, %v", tt.model.Key(), tt.melt, a.Eta, a.Err)
		}
		all := ""
		for _, n := range a.Notices {
			all += n.Message + "; "
		}
		if strings.Join(a.Notices.Codes(), " ") != tt.codes || !strings.Contains(all, tt.says) {
			t.Errorf("%s of %s at %v °C: %v, want %q saying %q", tt.model.Key(), tt.melt, tt.tc, a.Notices, tt.codes, tt.says)
		}
	}
}

func TestUndefinedIsRefused(t *testing.T) {
	silica := slag.Wt{slag.SiO2: 100}
	for _, tt := range []struct {
		model Model
		w     slag.Wt
		tc    float64
		says  string
	}{
		{Urbain1981{}, silica, 1250, "0/0"},
		{Urbain1987{}, silica, 1250, "0/0"},
		{Urbain1987{}, slag.Wt{slag.SiO2: 60, slag.Al2O3: 40}, 1250, "calcium, magnesium, manganese"},
		{UtigardWarczok1995{}, slag.Wt{slag.SiO2: 60, slag.Al2O3: 40}, 1250, "basic oxides"},
		{Giordano2008{}, slag.Wt{slag.PbO: 100}, 1250, "oxides"},
		{Giordano2008{}, slag.Wt{slag.SiO2: 30, slag.FeO: 70}, 200, "its formula ends at"},
		{Riboud1981{}, slag.Wt{slag.SiO2: 30, slag.CaO: -1}, 1250, "CaO is negative (-1 wt%)"},
		{Riboud1981{}, slag.Wt{slag.SiO2: math.NaN()}, 1250, "not a number"},
		{Riboud1981{}, slag.Wt{}, 1250, "holds no oxide"},
		{MillsSridhar1999{}, silica, math.NaN(), "no temperature"},
		{MillsSridhar1999{}, silica, -300, "no temperature"},
	} {
		a := Ask(tt.model, tt.w, tt.tc)
		if a.Err == nil || !strings.Contains(a.Err.Error(), tt.says) || !math.IsNaN(a.Eta) {
			t.Errorf("%s of %v at %v: %v, %v; want an error saying %q", tt.model.Key(), tt.w, tt.tc, a.Eta, a.Err, tt.says)
		}
	}
	if as := Compare(silica, 1600); len(as) != 6 || as[0].Err == nil || as[2].Err != nil {
		t.Errorf("comparison: %+v", as)
	}
}

func TestChoice(t *testing.T) {
	for text, want := range map[string]string{
		worked.PB31:                            "utigard_warczok_1995",
		"SiO2=75 FeO=25":                       "utigard_warczok_1995",
		"SiO2=72.5 Fe2O3=27.5":                 "urbain_1987", // 24.7 wt% FeO
		"SiO2=45 Al2O3=11 FeO=20 CaO=24":       "urbain_1987",
		"SiO2=45 Al2O3=11 FeO=7.72 CaO=24":     "urbain_1981",
		"SiO2=45 Al2O3=11 FeO=15 CaO=24 MgO=5": "urbain_1981",
	} {
		c := Choose(worked.Melt(t, text).Wt)
		if c.Model.Key() != want || !strings.Contains(c.Reason, "wt% FeO") {
			t.Errorf("%s: %s, %q; want %s", text, c.Model.Key(), c.Reason, want)
		}
	}
}

// Unused MnO and ZnO weights are the only difference to the published ratio.
func TestUtigardAsPublished(t *testing.T) {
	w := worked.Melt(t, "SiO2=30 FeO=60 CaO=10").Wt
	ours, theirs := UtigardWarczok1995{}, UtigardWarczok1995{AsPublished: true}
	checkdata.Near(t, "ratio without MnO and ZnO", ours.Ratio(w), theirs.Ratio(w), 0)
	if ours.Name() == theirs.Name() {
		t.Error("the two forms bear one name")
	}
}
