package assay

import (
	"math"
	"slices"
	"strings"
	"testing"

	"smeltbook/assay/source"
)

const bench = `Sample,Method,Analyte,Sample mass (g),Volume (mL),Blank (mL),Concentration (mol/L),Precipitate (g),Blank mass (g)
KR-S01,Pratt,FeO,0.5000,35.45,0.05,0.01667,,
KR-S01,Pratt,FeO,0.5000,35.35,0.05,0.01667,,
KR-S01,barium sulphate,S,1.0000,,,,0.0150,0.0005
LS-S01,dichromate,FeOT,0.2000,16.20,0.05,0.01667,,
QC blank,Pratt,FeO,0.5000,35.45,0.05,0.01667,,
`

func TestDeterminationsJoin(t *testing.T) {
	c := load(t, map[string]string{"lab/xrf.csv": xrf, "lab/wet.csv": wet, "lab/bench.csv": bench, "field/samples.csv": field}, Config{})
	if c.Notices.Failed() {
		t.Fatal(c.Notices.Of(source.Error))
	}
	if len(c.Readings) != 1 || len(c.Records) != 1 || len(c.Readings[0].Results) != 5 {
		t.Fatalf("%d sheets of readings, %d field sheets", len(c.Readings), len(c.Records))
	}
	s, _ := c.Sample("KR-S01")
	// By hand: 100·6·0.01667·35.35·10⁻³·71.844/0.5 = 50.804, the mean of two.
	if math.Abs(s.Ferrous.Value-50.804) > 0.01 || len(s.Ferrous.From) != 8 {
		t.Errorf("titrated FeO %s from %v", s.Ferrous.Text(), s.Ferrous.From)
	}
	if !strings.Contains(s.Ferrous.UNote, "mean of 2 determinations") || !strings.Contains(s.Ferrous.UNote, "a maximum") {
		t.Errorf("uncertainty of FeO: %q", s.Ferrous.UNote)
	}
	i := slices.IndexFunc(s.Assays, func(a Assay) bool { return a.Table == NoTable })
	if i < 0 || s.Assays[i].Method != WetChemistry || s.Assays[i].Determination.ID != "Pratt" || s.Assays[i].Values[0].Raw != "35.45" {
		t.Errorf("assays %+v", s.Assays)
	}
	// Sulphur was stated twice and worked out once: 13.737·0.0145 = 0.1992.
	sulphur, _ := s.AsReported.Get("S")
	if want := (0.20 + 0.22 + 0.19919) / 3; math.Abs(sulphur.Value-want) > 1e-4 {
		t.Errorf("S = %g, want the mean of three, %g", sulphur.Value, want)
	}
	ls, _ := c.Sample("LS-S01")
	if ls.Chosen["FeO"] != WetChemistry {
		t.Errorf("total iron of LS-S01 by %s", ls.Chosen["FeO"])
	}
	if ls.Ferrous.Known() {
		t.Errorf("LS-S01 has titrated FeO %s", ls.Ferrous.Text())
	}
	if len(c.Controls) != 1 || c.Controls[0].Base != "QC blank" || !c.Controls[0].Values[0].Known() {
		t.Errorf("controls %+v", c.Controls)
	}
	wantNotice(t, c.Notices, source.Note, "ALSO_STATED", "S in KR-S01", "lab/wet.csv")
	wantNotice(t, c.Notices, source.Warning, "INTERFERENCE", "FeO by Pratt: Cu in KR-S01", "maximum")
	wantNotice(t, c.Notices, source.Warning, "INTERFERENCE", "FeOT by dichromate: Cu in LS-S01", "separate copper")
	wantNotice(t, c.Notices, source.Warning, "OUT_OF_SCOPE", "ISO 9035", "KR-S01")
	wantNotice(t, c.Notices, source.Note, "CAUTION", "Pratt", "Hydrofluoric acid")
}

func TestDeterminationsThatDoNotJoin(t *testing.T) {
	for name, c := range map[string]struct {
		bench, code string
		words       []string
	}{
		"unknown sample": {strings.Replace(bench, "LS-S01", "LS-SO1", 1), "JOINS_NOTHING", []string{"lab/bench.csv", "cell A5", `did you mean "LS-S01"?`}},
		"unknown method": {strings.Replace(bench, "barium sulphate", "barium sulfide", 1), "UNKNOWN_WET_METHOD", []string{"lab/bench.csv", "cell B4", "there are:"}},
	} {
		got := load(t, map[string]string{"lab/xrf.csv": xrf, "lab/bench.csv": c.bench, "field/samples.csv": field}, Config{})
		t.Run(name, func(t *testing.T) { wantNotice(t, got.Notices, source.Error, c.code, c.words...) })
	}
	got := load(t, map[string]string{"lab/xrf.csv": xrf, "lab/wet.csv": wet, "lab/bench.csv": strings.Replace(bench, "0.0150", "0.0250", 1), "field/samples.csv": field}, Config{})
	wantNotice(t, got.Notices, source.Warning, "DETERMINATIONS_DISAGREE", "S in KR-S01", "twice their uncertainty")
	// Without a field sheet the readings make samples, as tables do.
	got = load(t, map[string]string{"bench.csv": bench}, Config{})
	if ids := got.SampleIDs(); !slices.Equal(ids, []string{"KR-S01", "LS-S01"}) {
		t.Errorf("samples %v", ids)
	}
}
