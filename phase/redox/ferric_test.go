package redox

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/source/checkdata"
	"smeltbook/phase/internal/worked"
	"smeltbook/phase/slag"
)

// Twelve compositions at 1250 °C and log fO2 −10, worked apart from this
// program; see testdata/slag/README.md. The last one holds no iron.
func TestFerricShareOfWorkedSlags(t *testing.T) {
	n := 0
	for _, s := range worked.Slags(t) {
		want := s.Want["ferric_share"]
		iron, err := SplitIron(s.Melt.Wt, 1250, -10)
		if want == "" {
			if err == nil {
				t.Errorf("%s holds no iron but has a ferric share", s.ID)
			}
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		worked.Printed(t, s.ID, iron.FerricShare, want)
		n++
	}
	if n != 11 {
		t.Errorf("%d values checked, want 11", n)
	}
	iron, err := SplitIron(worked.Melt(t, worked.PB31).Wt, 1250, -10)
	if err != nil {
		t.Fatal(err)
	}
	worked.Printed(t, "ratio of PB-31", iron.R, "0.011399")
	if got := strings.Join(iron.Notices.Codes(), " "); got != "IRON_BALANCE_RANGE" {
		t.Errorf("notices %q", got)
	}
}

// Splitting keeps all iron and everything else, and is undone by its inverses.
func TestIronBothWays(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	for range 500 {
		w := slag.Wt{slag.SiO2: 30 + 20*r.Float64(), slag.FeO: 1 + 50*r.Float64(), slag.CaO: 20 * r.Float64(), slag.K2O: 3 * r.Float64(), slag.Al2O3: 12 * r.Float64()}.Normalise()
		tc, log := 1100+300*r.Float64(), -14+10*r.Float64()
		iron, err := SplitIron(w, tc, log)
		if err != nil {
			t.Fatal(err)
		}
		back := iron.Wt.AllFeO()
		for o := range w {
			checkdata.Near(t, slag.Oxide(o).String(), back[o], w[o], 1e-9)
		}
		x := iron.Wt.Mol()
		checkdata.Near(t, "ratio", x[slag.Fe2O3]/x[slag.FeO]/iron.R, 1, 1e-9)
		got, ns, err := FromIron(iron.Wt, tc)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "log fO2 from both", got, log, 1e-9)
		if !strings.Contains(strings.Join(ns.Codes(), " "), "IRON_AFTER_COOLING") {
			t.Errorf("no word of cooling: %v", ns)
		}
		got, _, err = FromFerricShare(w, tc, iron.FerricShare)
		if err != nil {
			t.Fatal(err)
		}
		checkdata.Near(t, "log fO2 from the share", got, log, 1e-9)
	}
}

// A basalt of about 10 wt% iron at its liquidus near the buffer of quartz,
// fayalite and magnetite has about a tenth of its iron ferric (common practice
// of petrology); there the model is at home and does not warn.
func TestBasaltNearQFM(t *testing.T) {
	w := worked.Melt(t, "SiO2=50.5 TiO2=1.5 Al2O3=15 FeO=10 MgO=7.8 CaO=11.5 Na2O=2.8 K2O=0.1").Wt
	qfm, _ := FayaliteMagnetite().LogFO2(1200)
	iron, err := SplitIron(w, 1200, qfm)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "ferric share", iron.FerricShare, 0.12, 0.04)
	if len(iron.Notices) != 0 {
		t.Errorf("%v", iron.Notices)
	}
}

func TestIronRefuses(t *testing.T) {
	w := worked.Melt(t, worked.PB31).Wt
	negative := w
	negative[slag.CaO] = -1
	for what, call := range map[string]func() error{
		"no iron":           func() error { _, err := SplitIron(slag.Wt{slag.SiO2: 1}, 1250, -10); return err },
		"negative share":    func() error { _, err := SplitIron(negative, 1250, -10); return err },
		"no temperature":    func() error { _, err := SplitIron(w, math.NaN(), -10); return err },
		"no oxygen":         func() error { _, err := SplitIron(w, 1250, math.Inf(-1)); return err },
		"no ferric iron":    func() error { _, _, err := FromIron(w, 1250); return err },
		"a share of nought": func() error { _, _, err := FromFerricShare(w, 1250, 0); return err },
		"a share of all":    func() error { _, _, err := FromFerricShare(w, 1250, 1); return err },
	} {
		if call() == nil {
			t.Errorf("%s is accepted", what)
		}
	}
	iron, err := SplitIron(w, 1100, -10)
	if err != nil || strings.Join(iron.Notices.Codes(), " ") != "IRON_BALANCE_RANGE IRON_BALANCE_TEMPERATURE" {
		t.Errorf("%v, %v", iron.Notices, err)
	}
}
