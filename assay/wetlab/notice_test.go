package wetlab

import (
	"math"
	"os"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

func wantNotice(t *testing.T, ns source.Notices, s source.Severity, code string, words ...string) {
	t.Helper()
	for _, n := range ns {
		all := n.Severity == s && n.Code == code
		for _, w := range words {
			all = all && strings.Contains(n.Error(), w)
		}
		if all {
			return
		}
	}
	t.Errorf("no %v %s with %q in %v", s, code, words, ns)
}

func TestBadReadings(t *testing.T) {
	for _, c := range []struct {
		method, analyte, readings string
		severity                  source.Severity
		code                      string
		words                     []string
	}{
		{"pratt", "FeO", "volume=17.85; concentration=0.01667", source.Error, "MISSING_READING", []string{"sample mass", "Sample mass (g)"}},
		{"pratt", "FeO", "sample mass=0.5; volume=17.85", source.Error, "MISSING_READING", []string{"concentration or titre"}},
		{"pratt", "FeO", "sample mass=0.5; volume=-17.85; concentration=0.01667", source.Error, "NEGATIVE_READING", []string{"volume", "-17.85 mL", "cell C2"}},
		{"pratt", "FeO", "sample mass=0; volume=17.85; concentration=0.01667", source.Error, "ZERO_READING", []string{"sample mass", "cell B2"}},
		{"pratt", "FeO", "sample mass=0.5; volume=17.85; blank=18; concentration=0.01667", source.Error, "BLANK_ABOVE_READING", []string{"blank", "cell D2"}},
		{"pratt", "FeO", "sample mass=0.5; volume=17.85; blank=2; concentration=0.01667", source.Warning, "BLANK_LARGE", []string{"11 %", "cell D2"}},
		{"pratt", "FeO", "sample mass=0.05; volume=17.85; concentration=0.01667", source.Error, "ABOVE_100", []string{"FeO in S1 by Pratt", "256"}},
		{"pratt", "Cu", "sample mass=0.5; volume=17.85; concentration=0.01667", source.Error, "WRONG_ANALYTE", []string{"Pratt does not determine Cu"}},
		{"wilson", "FeO", "sample mass=0.5; volume=17.85; blank=12; concentration=0.05", source.Error, "BLANK_ABOVE_READING", []string{"volume"}},
		{"edta calcium", "CaO", "sample mass=0.5; volume=8; concentration=0.01; aliquot=25", source.Error, "MISSING_READING", []string{"Flask (mL)"}},
		{"edta calcium", "CaO", "sample mass=0.5; volume=8; concentration=0.01; aliquot=250; flask=25", source.Error, "ALIQUOT_ABOVE_FLASK", []string{"250 mL"}},
		{"edta calcium", "CaO", "sample mass=0.5; volume=8; concentration=0.01; aliquot=25; flask=250; dilution=10", source.Error, "DILUTION_TWICE", nil},
		{"edta calcium", "CaO", "sample mass=0.5; volume=8; concentration=0.01; slope=0.1", source.Warning, "READING_NOT_USED", []string{"slope"}},
		{"barium sulphate", "S", "sample mass=1; precipitate=0.01; blank mass=0.02", source.Error, "BLANK_ABOVE_READING", []string{"blank mass"}},
		{"barium sulphate", "S", "sample mass=1; precipitate=0.01", source.Note, "NO_BLANK", []string{"none was subtracted"}},
		{"electrogravimetry", "Cu", "sample mass=1; precipitate=1.00005", source.Warning, "ABOVE_100", []string{"within its uncertainty"}},
	} {
		r := determination(t, c.method, c.analyte, c.readings).Compute()
		wantNotice(t, r.Notices, c.severity, c.code, c.words...)
		if (c.severity == source.Error) == r.Value.Known() {
			t.Errorf("%s %s: value %v beside %v", c.method, c.readings, r.Value.Text(), r.Notices)
		}
	}
}

func TestUnknownMethodSuggests(t *testing.T) {
	for word, want := range map[string]string{"dichromte": `did you mean "dichromate"?`, "prat": `did you mean "Pratt"?`, "spectral": "there are: dichromate"} {
		if _, err := Lookup(word); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", word, err)
		}
	}
	for _, m := range Methods() {
		for _, s := range append(m.spellings, m.ID, strings.ToUpper(m.ID)) {
			if got, err := Lookup(s); err != nil || got != m {
				t.Errorf("%q is not %s: %v", s, m.ID, err)
			}
		}
	}
}

// TestInterferences compares with factors worked from atomic weights by hand:
// 1 wt% Cu reads as 55.845/63.546 = 0.8788 wt% Fe, 1 wt% Fe(III) as 1.1379 wt%
// Cu, 1 wt% of copper metal as 2.261 wt% FeO, of sulphide S to sulphur as 4.482.
func TestInterferences(t *testing.T) {
	known := map[string]float64{"Cu": 1.5, "S": 0.6, "FeOT": 50, "As": 0.2}
	for _, c := range []struct {
		method, analyte, readings, culprit string
		bias                               float64
		maximum                            bool
	}{
		{"dichromate", "Fe", "sample mass=1", "Cu", 1.5 * 0.8788, false},
		{"dichromate", "FeOT", "sample mass=1", "Cu", 1.5 * 0.8788 * 1.28649, false},
		{"pratt", "FeO", "sample mass=1", "Cu", 1.5 * 2.261, true},
		{"wilson", "FeO", "sample mass=1", "S", 0.6 * 4.482, true},
		{"iodide", "Cu", "sample mass=1", "Fe", 50 * 0.77731 * 1.1379, false},
		{"phosphorus blue", "P2O5", "sample mass=1", "As", 0.2 * 0.41342 * 2.29132, false},
		{"EDTA calcium", "CaO", "sample mass=1", "Fe", 50 * 0.77731 * 56.077 / 55.845, false},
	} {
		d := determination(t, c.method, c.analyte, c.readings)
		found := false
		for _, x := range d.Interferences(known) {
			if x.Culprit == c.culprit {
				found = true
				if math.Abs(x.Bias-c.bias) > 2e-4*c.bias || x.Maximum != c.maximum {
					t.Errorf("%s of %s: %g, maximum %v; want %g, %v", c.culprit, d, x.Bias, x.Maximum, c.bias, c.maximum)
				}
			}
		}
		if !found {
			t.Errorf("%s does not disturb %s", c.culprit, d)
		}
		d.Separated = []string{c.culprit}
		for _, x := range d.Interferences(known) {
			if x.Culprit == c.culprit {
				t.Errorf("%s was separated and still disturbs %s", c.culprit, d)
			}
		}
	}
	if xs := determination(t, "pratt", "FeO", "sample mass=1").Interferences(map[string]float64{"Cu": 0.4, "S": 0.5}); len(xs) > 0 {
		t.Errorf("at or below half a percent: %v", xs)
	}
}

// TestCombine follows ISO 5725-6 with a stated repeatability of 1 % at 10 wt%,
// s_r = 0.1: limits 0.28 for two, 0.33 for three (from memory, sure).
func TestCombine(t *testing.T) {
	result := func(x float64) Result {
		m, _ := Lookup("iodide")
		return Result{Determination: Determination{Sample: "S1", Method: m, Analyte: "Cu"}, Value: quantity.WithU(x, math.Hypot(0.1, 0.05), "wt%", ""), RepeatabilityU: 0.1, RepeatabilityBy: "as stated"}
	}
	for _, c := range []struct {
		xs    []float64
		want  float64
		apart bool
		rule  string
	}{
		{[]float64{10}, 10, false, "one"},
		{[]float64{10, 10.2}, 10.1, false, "mean of 2"},
		{[]float64{10, 10.3}, 10.15, true, "mean of 2"},
		{[]float64{10, 10.1, 10.32}, 10.14, false, "mean of 3"},
		{[]float64{10, 10.1, 10.4}, 10.1, true, "median of 3"},
		{[]float64{10, 10.1, 10.2, 10.6}, 10.15, true, "median of 4"},
	} {
		var rs []Result
		for _, x := range c.xs {
			rs = append(rs, result(x))
		}
		got := Combine(rs)
		if math.Abs(got.Value.Value-c.want) > 1e-9 || (len(got.Notices) > 0) != c.apart || !strings.HasPrefix(got.Rule, c.rule) {
			t.Errorf("%v: %v, %s, %v", c.xs, got.Value.Text(), got.Rule, got.Notices)
		}
		if got.Value.U < 0.05 {
			t.Errorf("%v: the error that replicates share shrank to %g", c.xs, got.Value.U)
		}
	}
	// Two equal results: √(0.05² + 0.1²/2).
	if got := Combine([]Result{result(10), result(10)}); math.Abs(got.Value.U-math.Sqrt(0.0025+0.005)) > 1e-12 {
		t.Errorf("two equal results: u = %g", got.Value.U)
	}
	if got := Combine(nil); got.Value.Known() {
		t.Error("a value from no result")
	}
}

// TestGlass: EURACHEM/CITAC QUAM example A1 has 0.07 mL for a flask of 100 mL
// class A with ±0.1 mL and 4 K; here 3 K (0.1/√6 and 100·2.1e-4·3/√3).
func TestGlass(t *testing.T) {
	if u := glassU(100, flasks); math.Abs(u-math.Hypot(0.04082, 0.03637)) > 1e-4 {
		t.Errorf("flask of 100 mL: %g", u)
	}
	if u := glassU(10, pipettes); math.Abs(u-math.Hypot(0.02/math.Sqrt(6), 0.003637)) > 1e-4 {
		t.Errorf("pipette of 10 mL: %g", u)
	}
}

// keysOf returns every reading that a method uses.
func keysOf(m *Method) []Key {
	out := append([]Key{SampleMass, Repeatability}, m.takes...)
	for _, n := range m.needs {
		for _, w := range n.ways {
			out = append(out, w...)
		}
	}
	return out
}

// TestReadmeNamesEveryMethod keeps the user's table of methods true: each
// method has a row that names every reading it needs.
func TestReadmeNamesEveryMethod(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range Methods() {
		var row string
		for line := range strings.Lines(string(text)) {
			if first, rest, ok := strings.Cut(strings.TrimPrefix(line, "|"), "|"); ok && strings.HasPrefix(line, "|") && strings.Contains(first, "`"+m.ID+"`") {
				row = rest
			}
		}
		if row == "" {
			t.Errorf("the README has no row for the method %q", m.ID)
			continue
		}
		for _, k := range keysOf(m) {
			name, _, _ := strings.Cut(heading(k), " (")
			if k != SampleMass && k != Repeatability && k != Dilution && k != Tare && !(m.ID == standardAddition) && !strings.Contains(row, "`"+name+"`") {
				t.Errorf("the README's row for %s does not name %q", m.ID, name)
			}
		}
	}
}
