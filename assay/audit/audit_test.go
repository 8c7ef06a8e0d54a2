package audit

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/assay/quality"
	"smeltbook/assay/source"
)

// load writes the files of a campaign and reads it.
func load(t *testing.T, cfg assay.Config, files map[string]string) *assay.Campaign {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, cfg, nil)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

func sound(t *testing.T, c *assay.Campaign) *assay.Campaign {
	t.Helper()
	if c.Notices.Failed() {
		t.Fatal(c.Notices.Of(source.Error))
	}
	return c
}

func has(ns source.Notices, code string, words ...string) bool {
	for _, n := range ns {
		all := n.Code == code
		for _, w := range words {
			all = all && strings.Contains(n.Error(), w)
		}
		if all {
			return true
		}
	}
	return false
}

const field = "id,kind,origin\nS-1,slag,excavated\nS-2,slag,excavated\nS-3,slag,excavated\n"

// controls is a table by WD-XRF with two reference materials, a control of the
// house, blanks and a duplicate.
const controls = `WD-XRF on fused beads; ± is one standard uncertainty (k = 1)
Sample,Date,SiO2,±,CaO,±,K2O,±
,,wt%,wt%,wt%,wt%,wt%,wt%
S-1,,34.0,0.1,4.00,0.02,0.50,0.01
S-1 dup,,34.9,0.1,4.01,0.02,0.51,0.01
S-2,,31.0,0.1,5.00,0.02,0.010,0.01
S-2 dup,,30.2,0.1,5.00,0.02,0.012,0.01
S-3,,33.0,0.1,6.00,0.02,0.40,0.01
S-3 dup,,33.7,0.1,6.02,0.02,0.40,0.01
USGS BHVO2,2026-05-03,49.8,0.1,11.38,0.03,0.610,0.01
BHVO-2,2026-05-01,50.0,0.1,11.42,0.03,0.611,0.01
BHVO-2 (2),2026-05-02,49.9,0.1,11.40,0.03,0.613,0.01
House slag,2026-05-01,34.0,0.1,4.30,0.03,0.60,0.01
House slag,2026-05-02,34.1,0.1,4.34,0.03,0.61,0.01
House slag,2026-05-03,33.9,0.1,4.37,0.03,0.61,0.01
House slag,2026-05-04,34.0,0.1,4.42,0.03,0.60,0.01
House slag,2026-05-05,34.1,0.1,4.46,0.03,0.62,0.01
Blank,2026-05-01,0.004,,0.001,,0.010,
Blank,2026-05-02,0.001,,0.003,,0.012,
Blank,2026-05-03,0.003,,0.002,,0.011,
Blank,2026-05-04,0.002,,0.001,,0.009,
`

const house = `material,analyte,value,unit,±,kind of ±,laboratories,basis
House slag,SiO2,34.0,wt%,0.4,sd of laboratories,4,dry
House slag,CaO,4.36,wt%,0.04,ci95,,dry
House slag,K2O,6050,ppm,200,expanded,,dry
`

func TestControlsOfATable(t *testing.T) {
	c := sound(t, load(t, assay.Config{Recipe: assay.Recipe{AcceptTotals: []string{"all"}}, Quality: assay.Demands{Targets: map[string]float64{"CaO": 0.01}}},
		map[string]string{"xrf.csv": controls, "certificates.csv": house, "samples.csv": field}))
	a := Of(c)
	find := func(material, analyte string) Reference {
		for _, r := range a.References {
			if r.Material == material && r.Analyte == analyte {
				return r
			}
		}
		t.Fatalf("no %s in %s", analyte, material)
		return Reference{}
	}
	silica := find("BHVO-2", "SiO2")
	if silica.Mean.N != 3 || math.Abs(silica.Mean.Value-49.9) > 1e-9 || silica.UCertified != 0.6 || silica.Mark() != quality.MarkFine {
		t.Errorf("silica of BHVO-2: %+v", silica)
	}
	potash := find("BHVO-2", "K2O")
	if potash.Mark() != quality.MarkAct || !potash.Bias.Significant || math.Abs(potash.Bias.Recovery-117.6) > 0.2 {
		t.Errorf("potash of BHVO-2: %+v", potash)
	}
	own := find("House slag", "K2O")
	if !own.Own || math.Abs(own.Certified.Value-0.605) > 1e-12 || math.Abs(own.UCertified-0.01) > 1e-12 {
		t.Errorf("potash of the house slag: %+v", own)
	}
	if u := find("House slag", "SiO2").UCertified; math.Abs(u-0.2) > 1e-12 {
		t.Errorf("0.4 between 4 laboratories is u = %g", u)
	}
	if r := find("House slag", "CaO"); math.Abs(r.Sigma-0.0436) > 1e-9 || r.Target != "as the notebook asks" {
		t.Errorf("a target of 1 %% is %g, %s", r.Sigma, r.Target)
	}
	for _, r := range a.Repeats {
		if r.Method == assay.WDXRF && r.Control == "" && r.Analyte == "SiO2" {
			// √((0.9² + 0.8² + 0.7²)/6)
			if math.Abs(r.SD-0.5686) > 1e-3 || !r.Beyond || r.DoF != 3 {
				t.Errorf("duplicates of silica: %+v", r)
			}
		}
		if r.Analyte == "CaO" && r.Control == "" && r.Beyond {
			t.Errorf("duplicates of lime: %+v", r)
		}
	}
	for _, b := range a.Blanks {
		if b.N != 4 || !b.HasLimits() {
			t.Errorf("blank of %s: %+v", b.Analyte, b)
		}
		if want := b.Analyte == "K2O"; a.Matters(b) != want {
			t.Errorf("blank of %s matters: %v", b.Analyte, !want)
		}
	}
	ns := a.Notices()
	for _, w := range [][]string{
		{"BIAS", "cell G10", "K2O in BHVO-2", "ask the laboratory"},
		{"SCATTER", "SiO2", "duplicates"},
		{"BLANK", "K2O", "more than a tenth of 2 results"},
		{"CONTROL_CHART", "CaO in House slag", "drift"},
	} {
		if !has(ns, w[0], w[1:]...) {
			t.Errorf("%q is not told", w)
		}
	}
	if has(ns, "NO_CONTROLS") {
		t.Error("something is said to be missing")
	}
	for _, s := range a.Verdicts() {
		for _, v := range s.Values {
			want := quality.Care                            // silica scatters, lime drifts
			if v.Analyte == "K2O" && s.Sample.ID != "S-2" { // which has too little for BHVO-2 to tell of it
				want = quality.Reject
			}
			if got := v.Verdict(); got != want {
				t.Errorf("%s of %s: %s, %v", v.Analyte, s.Sample.ID, got, v.Findings)
			}
		}
	}
	for _, s := range a.Series {
		if s.Material == "BHVO-2" && s.Analyte == "SiO2" && (!s.Dated || s.Dates[0] != "2026-05-01" || s.Readings[0] != 50.0) {
			t.Errorf("the chart is not in the order of days: %+v", s)
		}
	}
}

func TestCertificatesThatCannotBeRead(t *testing.T) {
	for row, want := range map[string][]string{
		"House,SiO3,34,wt%,0.4,1s":                     {"cell B2", "SiO3"},
		"House,SiO2,34,lumps,0.4,1s":                   {"cell D2", "lumps"},
		"House,SiO2,much,wt%,0.4,1s":                   {"cell C2", "much"},
		"House,SiO2,34,wt%,little,1s":                  {"cell E2", "little"},
		"House,SiO2,34,wt%,0.4,":                       {"what the ± of SiO2 is must be said", "ci95"},
		"House,SiO2,34,wt%,0.4,tolerance":              {"cell F2", "tolerance", "sd of laboratories"},
		"House,SiO2,34,wt%,0.4,sd of laboratories,few": {"cell G2", "few"},
	} {
		c := load(t, assay.Config{}, map[string]string{"xrf.csv": controls, "samples.csv": field,
			"c.csv": "material,analyte,value,unit,±,kind of ±,laboratories\n" + row + "\n"})
		if !has(c.Notices.Of(source.Error), "CERTIFICATE", want...) {
			t.Errorf("%s: %v", row, c.Notices.Of(source.Error))
		}
	}
}

// The published slags of testdata/laos were normalised before they were
// printed (Wątroba 2012, Table 15).
func TestNormalisedTables(t *testing.T) {
	text, err := os.ReadFile("../../testdata/laos/lab/sem-eds.csv")
	if err != nil {
		t.Fatal(err)
	}
	a := Of(sound(t, load(t, assay.Config{}, map[string]string{"sem-eds.csv": string(text)})))
	if len(a.Normalised) != 1 || !a.Normalised[0].Said || !has(a.Notices(), "ALREADY_NORMALISED", "raw totals") {
		t.Errorf("%+v", a.Normalised)
	}
	forcedRows := "SEM-EDS area scans\nSample,SiO2,Al2O3,FeO,CaO\n,wt%,wt%,wt%,wt%\nS-1,40.1,9.9,45.0,5.0\nS-2,38.0,12.0,46.5,3.5\nS-3,41.3,8.7,44.9,5.1\n"
	a = Of(sound(t, load(t, assay.Config{}, map[string]string{"x.csv": forcedRows, "samples.csv": field})))
	if len(a.Normalised) != 1 || a.Normalised[0].Said || a.Totals[0].Sums[0].Verdict != quality.TotalNormalised {
		t.Errorf("%+v %+v", a.Normalised, a.Totals)
	}
	a = Of(sound(t, load(t, assay.Config{}, map[string]string{"x.csv": strings.Replace(forcedRows, "5.1\n", "5.9\n", 1), "samples.csv": field})))
	if len(a.Normalised) != 0 || a.Totals[0].Sums[2].Verdict != quality.TotalGood {
		t.Errorf("sums of 100, 100 and 100.8 are called forced: %+v", a.Totals)
	}
}

// slags makes a table of sound slags with a printed total.
func slags(edit func(row int, cells []string)) (table, list string) {
	rng := rand.New(rand.NewPCG(5, 5))
	table = "WD-XRF on fused beads\nSample,SiO2,Al2O3,FeO,CaO,K2O,Total\n,wt%,wt%,wt%,wt%,wt%,wt%\n"
	list = "id,kind,origin\n"
	for i := range 9 {
		v := []float64{31 + 3*rng.Float64(), 5 + rng.Float64(), 55 + 3*rng.Float64(), 3 + rng.Float64(), 1 + 0.2*rng.Float64()}
		cells := []string{fmt.Sprintf("S-%d", i+1)}
		var sum float64
		for _, x := range v {
			x = math.Round(x*100) / 100
			sum += x
			cells = append(cells, fmt.Sprintf("%.2f", x))
		}
		cells = append(cells, fmt.Sprintf("%.2f", sum))
		if edit != nil {
			edit(i, cells)
		}
		table += strings.Join(cells, ",") + "\n"
		list += cells[0] + ",slag,excavated\n"
	}
	return table, list
}

func TestSlips(t *testing.T) {
	slipsOf := func(edit func(int, []string)) (*Audit, []Slip) {
		table, list := slags(edit)
		a := Of(load(t, assay.Config{Recipe: assay.Recipe{AcceptTotals: []string{"all"}}}, map[string]string{"x.csv": table, "samples.csv": list}))
		return a, a.Slips
	}
	if _, s := slipsOf(nil); len(s) != 0 {
		t.Errorf("sound rows: %+v", s)
	}
	// Exchanged digits in the lime of the fourth row.
	var was string
	a, s := slipsOf(func(row int, cells []string) {
		if row == 3 {
			was = cells[1]
			b := []byte(cells[1])
			b[0], b[1] = b[1], b[0]
			cells[1] = string(b)
		}
	})
	found := false
	for _, x := range s {
		found = found || x.At.Ref == "B7" && x.Instead == was && x.Analyte == "SiO2" && !x.Weak
	}
	if !found || !has(a.Notices(), "SLIP", "cell B7", was, "nothing was changed") {
		t.Errorf("exchanged digits: %+v", s)
	}
	// A decimal point off in alumina: the total and the fellows agree on it.
	_, s = slipsOf(func(row int, cells []string) {
		if row == 5 {
			was, cells[2] = cells[2], strings.Replace(cells[2], ".", "", 1)[:2]+".0"
		}
	})
	if len(s) == 0 {
		t.Error("a decimal point ten times off is not seen")
	}
	_, s = slipsOf(func(row int, cells []string) {
		if row == 5 {
			was, cells[5] = cells[5], fmt.Sprintf("%.3f", 0.1*mustParse(cells[5]))
		}
	})
	if len(s) != 1 || s[0].At.Ref != "F9" || !strings.Contains(s[0].Why, "adds up") || !strings.Contains(s[0].Why, "lies among") {
		t.Errorf("a decimal point off: %+v", s)
	}
	// The same with the total put right: the row adds up, so nothing is said.
	if _, s = slipsOf(func(row int, cells []string) {
		if row == 5 {
			x := mustParse(cells[5])
			cells[5] = fmt.Sprintf("%.3f", 0.1*x)
			cells[6] = fmt.Sprintf("%.2f", mustParse(cells[6])-0.9*x)
		}
	}); len(s) != 0 {
		t.Errorf("a row that adds up: %+v", s)
	}
	// A wrong total.
	_, s = slipsOf(func(row int, cells []string) {
		if row == 0 {
			was = cells[6]
			b := []byte(cells[6])
			b[3], b[4] = b[4], b[3]
			cells[6] = string(b)
		}
	})
	found = false
	for _, x := range s {
		found = found || x.Analyte == "" && x.Instead == was
	}
	if !found {
		t.Errorf("exchanged digits in the total %s: %+v", was, s)
	}
}

func mustParse(s string) float64 {
	var x float64
	if _, err := fmt.Sscanf(s, "%g", &x); err != nil {
		panic(err)
	}
	return x
}

func TestDuplicatesThatOneSlipExplains(t *testing.T) {
	table := "WD-XRF\nSample,SiO2,CaO\n,wt%,wt%\nS-1,34.0,4.10\nS-1 dup,34.1,0.41\n"
	a := Of(load(t, assay.Config{Recipe: assay.Recipe{AcceptTotals: []string{"all"}}}, map[string]string{"x.csv": table, "samples.csv": "id,kind,origin\nS-1,slag,excavated\n"}))
	if len(a.Slips) != 2 || a.Slips[1].At.Ref != "C5" || a.Slips[1].Instead != "4.1" && a.Slips[1].Instead != "4.10" {
		t.Errorf("%+v", a.Slips)
	}
}
