package assay

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

// twoMethods is a campaign of slags by bead and by handheld, which reads a
// tenth too much copper and 0.05 on top, and three slags by handheld alone.
func twoMethods() map[string]string {
	rng := rand.New(rand.NewPCG(11, 12))
	bead := "WD-XRF on fused beads; ± is one standard uncertainty (k = 1)\nSample,SiO2,CuO,±\n,wt%,wt%,wt%\n"
	held := "handheld XRF; error is one standard uncertainty\nSample,Cu,Cu Error,Zn,Zn Error\n,ppm,ppm,ppm,ppm\n"
	list := "id,kind,origin\n"
	for i := range 16 {
		cu := 0.5 + 0.2*float64(i)
		id := fmt.Sprintf("S-%d", i+1)
		list += id + ",slag,excavated\n"
		y := (0.05 + 1.1*cu) * (1 + 0.03*rng.NormFloat64())
		held += fmt.Sprintf("%s,%.0f,%.0f,400,20\n", id, 1e4*y, 1e4*0.01*y)
		if i < 13 {
			bead += fmt.Sprintf("%s,98,%.4f,%.4f\n", id, cu*1.25177, 0.01*cu)
		}
	}
	return map[string]string{"bead.csv": bead, "held.csv": held, "samples.csv": list}
}

func TestNothingIsCorrectedSilently(t *testing.T) {
	c := load(t, twoMethods(), Config{})
	b, ok := c.Bridge(HandheldXRF, Slag, "CuO")
	if !ok || b.Why != "" || len(b.Points) != 13 || b.Analyte != "Cu" {
		t.Fatalf("%+v", b)
	}
	// CuO by the bead is compared as copper: factor 0.79887 (CIAAW weights).
	if got := b.Points[0].Lab.Value; math.Abs(got-0.5) > 2e-4 {
		t.Errorf("0.5 %% copper stated as CuO is compared as %g", got)
	}
	if s := b.Line.Scaled(); math.Abs(s.B-1.1) > 3*s.UB || math.Abs(s.A-0.05) > 3*s.UA {
		t.Errorf("line %.3f ± %.3f + %.3f ± %.3f x, true 0.05 + 1.1 x", s.A, s.UA, s.B, s.UB)
	}
	for _, s := range c.Samples {
		for _, a := range s.Assays {
			for _, v := range a.Values {
				if len(v.Flags) > 0 || strings.Contains(v.UNote, "corrected") {
					t.Fatalf("%s of %s: %v %q", v.Analyte, s.ID, v.Flags, v.UNote)
				}
			}
		}
	}
}

func TestDeclaredCorrection(t *testing.T) {
	plain := load(t, twoMethods(), Config{})
	c := load(t, twoMethods(), Config{Recipe: Recipe{Correct: []Correction{{Method: HandheldXRF, Analytes: []string{"CuO"}, Kinds: []string{Slag}, Line: 9}}}})
	wantNotice(t, c.Notices, source.Note, "CORRECTED", "notebook.md, line 9", "readings of CuO", "handheld XRF")
	wantNotice(t, c.Notices, source.Warning, "BEYOND_BRIDGE", "S-15 and S-16", "held.csv, cell B")
	value := func(c *Campaign, id, analyte string) (x, u float64, note string) {
		s, _ := c.Sample(id)
		for _, a := range s.Assays {
			if q, ok := a.Value(analyte); ok && a.Method == HandheldXRF {
				return q.Value, q.U, q.UNote
			}
		}
		t.Fatal(id, analyte)
		return
	}
	for i := range 13 {
		id, truth := fmt.Sprintf("S-%d", i+1), 0.5+0.2*float64(i)
		before, _, _ := value(plain, id, "Cu")
		x, u, note := value(c, id, "Cu")
		if x == before || math.Abs(x-truth) > 4*u || u < 0.015*truth || !strings.Contains(note, "corrected from") || !strings.Contains(note, "WD-XRF") {
			t.Errorf("%s: %g became %g ± %g, true %g; %q", id, before, x, u, truth, note)
		}
		if zn, _, note := value(c, id, "Zn"); zn != 0.04 || strings.Contains(note, "corrected") {
			t.Errorf("%s: zinc is %g, %q", id, zn, note)
		}
	}
	if x, _, _ := value(c, "S-16", "Cu"); x < 3.7 {
		t.Errorf("S-16 lies outside the calibrators and became %g", x)
	}
	for _, r := range []struct {
		rule Correction
		code string
		want []string
	}{
		{Correction{Method: HandheldXRF, Analytes: []string{"Zn"}}, "NO_BRIDGE", []string{"Zn in slag", "no slag was analysed by both"}},
		{Correction{Method: AAS, Analytes: []string{"Cu"}}, "NOTHING_CORRECTED", []string{"Cu by AAS"}},
	} {
		c := load(t, twoMethods(), Config{Recipe: Recipe{Correct: []Correction{r.rule}}})
		wantNotice(t, c.Notices, source.Error, r.code, r.want...)
	}
}

func TestFewSamplesMakeNoBridge(t *testing.T) {
	files := twoMethods()
	lines := strings.SplitAfter(files["bead.csv"], "\n")
	files["bead.csv"] = strings.Join(lines[:7], "")
	c := load(t, files, Config{})
	if b, ok := c.Bridge(HandheldXRF, Slag, "Cu"); !ok || !strings.Contains(b.Why, "4 samples") {
		t.Errorf("%+v", b)
	}
}
