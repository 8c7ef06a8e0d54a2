package slag

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func melt(t *testing.T, text string) Melt {
	t.Helper()
	c, err := chem.ParseComposition(text)
	if err != nil {
		t.Fatal(err)
	}
	m, err := FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// PB-31 of Wątroba 2012 (MSc dissertation, UCL, table 15), worked apart to the
// melt basis: CuO as Cu2O, SO3 left out, the rest to 100.
func TestMeltBasisOfPublishedSlag(t *testing.T) {
	m := melt(t, "SiO2=34.4 TiO2=0.5 Al2O3=6.8 FeO=49.0 MnO=2.2 MgO=1.2 CaO=1.6 K2O=1.2 SO3=0.3 CuO=3.0")
	for o, want := range map[Oxide]float64{SiO2: 34.539, TiO2: 0.502, Al2O3: 6.827, FeO: 49.198, MnO: 2.209, MgO: 1.205, CaO: 1.606, K2O: 1.205, Cu2O: 2.709} {
		checkdata.Near(t, o.String()+" wt%", m.Wt[o], want, 0.0006)
	}
	x := m.Wt.Mol()
	for o, want := range map[Oxide]float64{SiO2: 0.39528, TiO2: 0.00432, Al2O3: 0.04604, FeO: 0.47087, MnO: 0.02141, MgO: 0.02056, CaO: 0.01970, K2O: 0.00880, Cu2O: 0.01302} {
		checkdata.Near(t, o.String()+" mole fraction", x[o], want, 0.000006)
	}
	if len(m.LeftOut) != 1 || m.LeftOut[0].ID != "SO3" {
		t.Errorf("left out %v", m.LeftOut)
	}
	checkdata.Near(t, "covers", m.Covers, (100.2-0.3-3+3*0.8994)/100.2, 1e-4)
	if len(m.NoU) != 9 || m.HasU() {
		t.Errorf("parts without uncertainty %v", m.NoU)
	}
}

func TestIronInTheMelt(t *testing.T) {
	m := melt(t, "SiO2=30 FeO=40 Fe2O3=10")
	checkdata.Near(t, "ferric iron stays apart", m.Wt[Fe2O3]/m.Wt[FeO], 0.25, 1e-12)
	all := m.Wt.AllFeO()
	checkdata.Near(t, "all as FeO over SiO2", all[FeO]/all[SiO2], (40+10*0.89981)/30, 1e-5)
	var sum float64
	for _, x := range all {
		sum += x
	}
	checkdata.Near(t, "sum", sum, 100, 1e-10)

	total := melt(t, "SiO2=30 Fe2O3T=50")
	checkdata.Near(t, "a total counts as FeO", total.Wt[FeO]/total.Wt[SiO2], 50*0.89981/30, 1e-5)
	titrated := melt(t, "SiO2=30 FeO=40 Fe2O3T=50")
	checkdata.Near(t, "titrated FeO beside a total is not added", titrated.Wt[FeO], total.Wt[FeO], 1e-12)
}

func TestLeftOut(t *testing.T) {
	m := melt(t, "SiO2=30 FeO=60 S=1 Cl=0.1 LOI=2 Sn=0.5 Cu=2 Cu_met=1 Total=99")
	ids := ""
	for _, p := range m.LeftOut {
		ids += p.ID + " "
	}
	if ids != "S LOI Cl Sn " {
		t.Errorf("left out %q", ids)
	}
	checkdata.Near(t, "copper as Cu2O over SiO2", m.Wt[Cu2O]/m.Wt[SiO2], 2*1.12589/30, 1e-6)
	c, err := chem.ParseComposition("S=3 LOI=4")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := FromComposition(c); err == nil {
		t.Error("sulphur and LOI make no melt")
	}
	if c, err := chem.ParseComposition("SiO2=1e308 FeO=1e308"); err == nil {
		if _, err := FromComposition(c); err == nil || !strings.Contains(err.Error(), "too large") {
			t.Errorf("amounts beyond all numbers: %v", err)
		}
	}
	if _, err := FromComposition(chem.Composition{}); err == nil {
		t.Error("nothing makes no melt")
	}
}

// Drawing reproduces the uncertainty that the closed formula for normalised
// parts gives (package chem tests it by itself) and stays inside limits.
func TestDraw(t *testing.T) {
	c, err := chem.NewComposition(
		chem.Part{ID: "SiO2", Quantity: quantity.WithU(34, 0.6, "wt%", "")},
		chem.Part{ID: "FeO", Quantity: quantity.WithU(48, 1.1, "wt%", "")},
		chem.Part{ID: "CaO", Quantity: quantity.WithU(9, 0.4, "wt%", "")})
	if err != nil {
		t.Fatal(err)
	}
	m, err := FromComposition(c)
	if err != nil {
		t.Fatal(err)
	}
	n, err := c.On(chem.Normalised)
	if err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(1, 1))
	const draws = 50_000 // the standard deviation to 0.3 %
	var sum, sum2 float64
	for range draws {
		d := m.Draw(r)[SiO2] - m.Wt[SiO2]
		sum += d
		sum2 += d * d
	}
	q, _ := n.Get("SiO2")
	checkdata.Near(t, "sd of SiO2", math.Sqrt(sum2/draws-sum*sum/draws/draws), q.U, 0.015*q.U)

	c.Parts = append(c.Parts, chem.Part{ID: "MgO", Quantity: quantity.None(quantity.Below, 2, "wt%")})
	if m, err = FromComposition(c); err != nil {
		t.Fatal(err)
	}
	if m.Wt[MgO] != 0 || !m.HasU() {
		t.Errorf("MgO below its limit enters as %v", m.Wt[MgO])
	}
	var seen, top float64
	for range draws {
		w := m.Draw(r)
		share := w[MgO] / (100 - w[MgO])
		seen += w[MgO]
		top = math.Max(top, share)
	}
	checkdata.Near(t, "mean MgO below a limit of 2 wt%", seen/draws, 100*1.0/92, 0.02)
	if top > 2.0/80 {
		t.Errorf("MgO drawn above its limit: %v", top)
	}
}

// The molar masses of the package against the published slags' own sum: every
// analysis of Wątroba 2012, table 15, has a melt that covers nearly all of it.
func TestPublishedSlagsAreMelts(t *testing.T) {
	rows := checkdata.Rows(t, "slag/laos_separate.csv")
	for _, r := range rows[1:] {
		var parts []chem.Part
		for i, h := range rows[0][:23] {
			x, err := strconv.ParseFloat(r[i], 64)
			if _, ok := chem.LookupAnalyte(h); !ok || err != nil {
				continue
			}
			parts = append(parts, chem.Part{ID: h, Quantity: quantity.New(x, "wt%", "")})
		}
		c, err := chem.NewComposition(parts...)
		if err != nil {
			t.Fatalf("%s: %v", r[3], err)
		}
		m, err := FromComposition(c)
		if err != nil {
			t.Fatalf("%s: %v", r[3], err)
		}
		if m.Covers < 0.96 || m.Wt[FeO] < 40 {
			t.Errorf("%s: covers %.3f, FeO %.1f", r[3], m.Covers, m.Wt[FeO])
		}
	}
	if len(rows) != 15 {
		t.Errorf("%d rows", len(rows))
	}
}
