package balance

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/source"
	"smeltbook/assay/source/checkdata"
)

// campaign writes sheets into a folder and loads them.
func campaign(t testing.TB, files map[string]string) *assay.Campaign {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if c.Notices.Failed() {
		t.Fatal(c.Notices.Of(2))
	}
	return c
}

const (
	samplesSheet = `Sample,Kind,Origin,Site,Run
ORE-A-1,ore,natural,,
ORE-A-2,ore,natural,,
FLX-1,flux,natural,,
CLAY-1,lining,experimental,K,F1
ASH-1,ash,experimental,K,
S-1,slag,experimental,K,F1
S-2,slag,experimental,K,F1
P-1,prill,experimental,K,F1
I-1,metal,experimental,K,F1
`
	oxideSheet = `"WD-XRF, ± is one standard uncertainty",,,,,,,,,
Sample,SiO2,±,Al2O3,±,Fe2O3,±,CuO,±,LOI
,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%
ORE-A-1,30,0.2,3,0.1,30,0.2,22,0.2,15
ORE-A-2,31,0.2,3,0.1,29,0.2,22,0.2,15
FLX-1,10,0.2,2,0.1,76,0.2,0.1,0.1,12
CLAY-1,70,0.3,22,0.1,6,0.1,0.1,0.1,2
ASH-1,60,0.2,20,0.1,15,0.1,0.1,0.1,5
S-1,41,0.2,5.5,0.1,58,0.2,1.5,0.1,0
S-2,42,0.2,5.5,0.1,57,0.2,1.7,0.1,0
`
	metalSheet = `"AAS",,,,
Sample,Cu,±,Fe,±
,wt%,wt%,wt%,wt%
P-1,98,0.1,1,0.1
I-1,98.5,0.1,1,0.1
`
	runHead = "Run,Ore stock,Ore (kg),Ore ± (kg),Flux stock,Flux (kg),Flux ± (kg),Charcoal (kg),Charcoal ± (kg),Charcoal ash (%),Charcoal ash ± (%),Lining before (kg),± (kg),Lining after (kg),± (kg),Lining lost (kg),± (kg),Slag (kg),Slag ± (kg),Ingot (g),Ingot ± (g),Prills >2 mm (g),Prills >2 mm ± (g),Matte (g)\n"
	goodRun = "F1,ORE-A,5,0.02,FLX-1,2,0.02,10,0.1,2.5,0.2,20,0.05,19.5,0.05,0.5,0.07,4.45,0.03,700,1,120,1,0\n"
)

func sheets(run string) map[string]string {
	return map[string]string{"samples.csv": samplesSheet, "xrf.csv": oxideSheet, "metal.csv": metalSheet, "runs.csv": runHead + run}
}

func TestFiringFromTheFieldSheet(t *testing.T) {
	c := campaign(t, sheets(goodRun))
	f, ns, ok := FromRun(c, c.Runs[0])
	if !ok {
		t.Fatal(ns)
	}
	var names []string
	for _, s := range f.Streams {
		names = append(names, s.Name)
	}
	if want := []string{"ore ORE-A", "flux FLX-1", "ash of the charcoal", "lining lost", "ingot", "prills >2 mm", "slag"}; !slices.Equal(names, want) {
		t.Errorf("streams %q", names)
	}
	if got := strings.Join(ns.Codes(), " "); got != "MOISTURE_UNKNOWN MOISTURE_UNKNOWN CHARCOAL_LEFT" {
		t.Errorf("told %s", got)
	}
	checkdata.Near(t, "ash", f.Streams[2].Mass.Value, 0.25, 1e-12)
	b, err := f.Settle(f.Elements())
	if err != nil {
		t.Fatal(err)
	}
	// By hand: 5 kg with 22 % CuO and 2 kg with 0.1 %, 0.25 and 0.5 kg with 0.1 %.
	checkdata.Near(t, "copper charged", b.Elements[1].In.Value, (5*0.22+2.75*0.001)*63.546/79.545, 1e-9)
	if b.Elements[1].Element != "Cu" {
		t.Errorf("elements %v", f.Elements())
	}
	f2, err := Predict(f.Materials(c), Usual())
	if err != nil || len(f2.Sources) != 4 {
		t.Fatalf("%+v, %v", f2, err)
	}
}

// Whatever is wrong is told with its cell and what would mend it.
func TestBadFieldSheets(t *testing.T) {
	for _, tt := range []struct {
		code, cell, says string
		from, to         string
	}{
		{"STOCK_WITHOUT_ASSAYS", "B2", "send a split of it", "ORE-A,5", "ORE-B,5"},
		{"WEIGHTS_DO_NOT_ADD", "P2", "correct one of the three (L2, N2)", ",0.5,0.07", ",0.9,0.07"},
		{"PRODUCT_NOT_WEIGHED", "R2", "weigh it, or enter 0", "4.45,0.03", ","},
		{"PRODUCT_NOT_WEIGHED", "T2", "the ingot has no weight", "700,1", ","},
		{"PRODUCT_WITHOUT_ASSAYS", "X2", "kind matte", ",120,1,0\n", ",120,1,5\n"},
		{"NEGATIVE_WEIGHT", "R2", "correct the cell", "4.45,0.03", "-4.45,0.03"},
		{"LINING_GREW", "N2", "slag on the wall", "19.5,0.05,0.5,0.07", "20.5,0.05,-0.5,0.07"},
		{"ORE_NOT_WEIGHED", "C2", "with its unit", "ORE-A,5,0.02", "ORE-A,,"},
	} {
		c := campaign(t, sheets(strings.Replace(goodRun, tt.from, tt.to, 1)))
		_, ns, ok := FromRun(c, c.Runs[0])
		i := slices.IndexFunc(ns, func(n source.Notice) bool { return n.Code == tt.code })
		if ok || i < 0 {
			t.Errorf("%s: %v", tt.code, ns)
			continue
		}
		if n := ns[i]; n.At.Ref != tt.cell || n.At.File != "runs.csv" || !strings.Contains(n.Message, tt.says) || !strings.HasPrefix(n.Message, "F1: ") {
			t.Errorf("%s: %s", tt.code, n.Error())
		}
	}
	// More copper out than in: told with the row, the balance stays.
	c := campaign(t, sheets(strings.Replace(goodRun, ",700,1", ",900,1", 1)))
	f, _, ok := FromRun(c, c.Runs[0])
	if !ok {
		t.Fatal("refused")
	}
	b, err := f.Close("Cu")
	if err != nil {
		t.Fatal(err)
	}
	n, more := b.MoreOut(c.Runs[0])
	if !more || !strings.Contains(n.Error(), "runs.csv, cell A2") || !strings.Contains(n.Message, "came out but only") {
		t.Errorf("%v %v", n, more)
	}
	if b.Z > -3 {
		t.Errorf("z %v", b.Z)
	}
}

// What two sheets say of one firing is one record; a log with many rows a
// firing is none.
func TestRunsOverSheets(t *testing.T) {
	files := sheets(goodRun)
	files["zweighed.csv"] = "Run,Charcoal left (kg),Charcoal left ± (kg)\nF1,2,0.1\nF9,1,0.1\n"
	files["zzlog.csv"] = "Run,Minute,Note\nF1,10,lit\nF1,20,blown\n"
	c := campaign(t, files)
	if len(c.Runs) != 2 || len(c.Runs[0].Fields) != len(c.Runs[1].Fields) || c.Runs[1].ID != "F9" {
		t.Fatalf("%d runs", len(c.Runs))
	}
	f, ns, _ := FromRun(c, c.Runs[0])
	if slices.Contains(ns.Codes(), "CHARCOAL_LEFT") {
		t.Error(ns)
	}
	checkdata.Near(t, "ash of what burnt", f.Streams[2].Mass.Value, 0.2, 1e-12)
}
