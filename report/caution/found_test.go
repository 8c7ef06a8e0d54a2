package caution

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
)

func campaign(t *testing.T, lab string) *assay.Campaign {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{"lab.csv": lab,
		"samples.csv": "id,kind,origin\nA-1,ore,natural\nA-2,ore,natural\nF-1,flux,natural\nS-1,slag,experimental\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func TestFumesAreFoundWithNumberAndCell(t *testing.T) {
	c := campaign(t, "Sample,SiO2,Fe2O3,CaO,As,Pb,SO3\n,wt%,wt%,wt%,wt%,wt%,wt%\n"+
		"A-1,40,30,5,0.02,<0.01,1.0\nA-2,42,28,5,0.31,<0.01,\nF-1,20,60,5,,<0.01,0.5\nS-1,30,40,10,0.9,0.2,0.1\n")
	found := map[string]Found{}
	for _, f := range InCharge(c) {
		found[f.Element] = f
	}
	// The slag holds more of everything, but nobody charges it.
	as := found["As"]
	if as.Most == nil || as.Most.ID != "A-2" || as.Value.Value != 0.31 || as.Value.From[0].Ref != "E4" || as.Holds != 2 || as.Asked != 2 || as.Of != 3 {
		t.Errorf("arsenic: %+v", as)
	}
	if pb := found["Pb"]; pb.Most != nil || pb.Asked != 3 || pb.Holds != 0 {
		t.Errorf("lead, which was looked for and not found: %+v", pb)
	}
	if sb := found["Sb"]; sb.Most != nil || sb.Asked != 0 || sb.Of != 3 {
		t.Errorf("antimony, which nobody looked for: %+v", sb)
	}
	// 1.0 wt% SO3 is 0.4005 wt% S, with the atomic weights S 32.06 and O 15.999
	// (IUPAC, abridged standard atomic weights 2021).
	if s := found["S"]; s.Most == nil || s.Most.ID != "A-1" || s.Value.Value < 0.4004 || s.Value.Value > 0.4006 {
		t.Errorf("sulphur: %+v", s)
	}
}

func TestEverySentenceSaysWhatToDo(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range Always() {
		if seen[c.Code] || c.Name == "" || !strings.HasSuffix(c.Text, ".") || !strings.Contains(c.Text, ":") {
			t.Errorf("%+v", c)
		}
		seen[c.Code] = true
	}
	for _, f := range Fumes() {
		if !strings.HasPrefix(f.Text, f.Name+", ") || !strings.HasSuffix(f.Text, ".") || f.Least <= 0 {
			t.Errorf("%+v", f)
		}
	}
}
