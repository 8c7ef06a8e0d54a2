package report

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"smeltbook/assay"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// smallStudy has two groups with round numbers.
func smallStudy(t *testing.T) *study.Study {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"xrf.csv": `Sample,SiO2,±,Al2O3,±,FeO*,±,CaO,±,TiO2,BaO
,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%,wt%
A1,30,0.3,6,0.1,60,0.5,4,0.1,<0.05,n.d.
A2,32,0.3,6,0.1,58,0.5,4,0.1,0.20,n.d.
B1,34,0.3,6,0.1,55,0.5,5,0.1,0.30,n.d.
B2,36,0.3,6,0.1,53,0.5,5,0.1,0.30,n.d.
B3,38,0.3,6,0.1,51,0.5,5,0.1,0.30,n.d.

* total iron as FeO
`,
		"samples.csv": "id,kind,origin\nA1,slag,experimental\nA2,slag,experimental\nB1,slag,excavated\nB2,slag,excavated\nB3,slag,excavated\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	c, err := assay.Load(context.Background(), dir, assay.Config{
		Recipe: assay.Recipe{Basis: "reported"},
		Groups: []assay.GroupRule{{Name: "fired", Origins: []string{"experimental"}}, {Name: "dug", Origins: []string{"excavated"}}},
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if c.Notices.Failed() {
		t.Fatal(c.Notices)
	}
	s, err := study.Compute(context.Background(), c, study.ConditionsOf(0, 100), nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func TestValuesInProse(t *testing.T) {
	p := prose{study: smallStudy(t), file: "notebook.md"}
	for _, c := range []struct {
		call notebook.Call
		want string
	}{
		{notebook.Call{Func: "count", Args: []string{"dug"}}, "3"},
		// The mean of 30 and 32 is 31, s = √2, u = s/√2 = 1.
		{notebook.Call{Func: "mean", Args: []string{"fired", "SiO2"}}, "31.0 ± 1.0 wt%"},
		// 34, 36, 38: median 36, u = √(π/2)·2/√3 = 1.45.
		{notebook.Call{Func: "median", Args: []string{"dug", "SiO2"}}, "36.0 ± 1.4 wt%"},
		{notebook.Call{Func: "max", Args: []string{"dug", "SiO2"}}, "38.00 ± 0.30 wt%"},
		{notebook.Call{Func: "min", Args: []string{"dug", "FeO"}}, "51.00 ± 0.50 wt%"},
		// 31 − 36, u = √(1² + 2²/3) = 1.53.
		{notebook.Call{Func: "difference", Args: []string{"fired", "dug", "SiO2"}}, "−5.0 ± 1.5 wt%"},
		{notebook.Call{Func: "value", Args: []string{"a1", "CaO"}}, "4.00 ± 0.10 wt%"},
		{notebook.Call{Func: "value", Args: []string{"A1", "TiO2"}}, "< 0.05 wt%"},
		// One of two below 0.05, the other 0.20: the mean lies between 0.10 and 0.125.
		{notebook.Call{Func: "mean", Args: []string{"fired", "TiO2"}}, "0.100–0.125 wt%"},
		{notebook.Call{Func: "min", Args: []string{"fired", "TiO2"}}, "< 0.050 wt%"},
		{notebook.Call{Func: "max", Args: []string{"fired", "BaO"}}, "n.d."},
		{notebook.Call{Func: "max", Args: []string{"fired", "TiO2"}}, "0.2000 ± 0.0060 wt%"},
		{notebook.Call{Func: "difference", Args: []string{"fired", "dug", "TiO2"}}, "not to be had (1 of 5 values are below detection)"},
	} {
		got, ns := p.text(c.call)
		if got != c.want || len(ns) != 0 {
			t.Errorf("%s %q = %q %v, want %q", c.call.Func, c.call.Args, got, ns, c.want)
		}
	}
}

func TestWrongValuesInProse(t *testing.T) {
	p := prose{study: smallStudy(t), file: "notebook.md"}
	for _, c := range []struct {
		call notebook.Call
		want string
	}{
		{notebook.Call{Func: "medain", Args: []string{"dug", "SiO2"}, Line: 3}, `there is no value "medain"; did you mean "median"?`},
		{notebook.Call{Func: "median", Args: []string{"dg", "SiO2"}, Line: 3}, `there is no group "dg"; did you mean "dug"?`},
		{notebook.Call{Func: "median", Args: []string{"dug", "SiO3"}, Line: 3}, `there is no value "SiO3"; did you mean "SiO2"?`},
		{notebook.Call{Func: "median", Args: []string{"dug"}, Line: 3}, `median takes 2 names, not 1: write {{ median "GROUP" "VALUE" }}`},
		{notebook.Call{Func: "value", Args: []string{"C1", "SiO2"}, Line: 3}, `there is no sample "C1"; did you mean "A1"?`},
		{notebook.Call{Func: "value", Args: []string{"A1", "ZnO"}, Line: 3}, `sample A1 has no ZnO`},
		{notebook.Call{Func: "median", Args: []string{"dug", "ZnO"}, Line: 3}, `no sample of group "dug" has a ZnO`},
	} {
		got, ns := p.text(c.call)
		if got != "" || len(ns) != 1 || !strings.Contains(ns[0].Message, c.want) || !strings.Contains(ns[0].Error(), "notebook.md, line 3") {
			t.Errorf("%s %q = %q %v, want the error %q", c.call.Func, c.call.Args, got, ns, c.want)
		}
	}
}

// Viscosities differ by factors: what stands in the prose is checked against the
// logarithms of the samples.
func TestViscosityInProse(t *testing.T) {
	p := prose{study: smallStudy(t), file: "notebook.md"}
	v, err := p.study.Variable("viscosity@1250")
	if err != nil {
		t.Fatal(err)
	}
	ln := func(id string) float64 {
		s, _ := p.study.Campaign.Sample(id)
		return math.Log(v.Of(s).Value)
	}
	fired := (ln("A1") + ln("A2")) / 2
	dug := (ln("B1") + ln("B2") + ln("B3")) / 3
	spread := math.Abs(ln("A1")-ln("A2")) / 2 // s/√n of two
	logs, group := v.Logs(), func(name string) []*assay.Sample {
		g, err := p.study.Campaign.Group(name)
		if err != nil {
			t.Fatal(err)
		}
		return g.Samples
	}
	own := logs.Difference(group("fired"), group("dug")).U
	ends := shortSpan(math.Exp(own), math.Exp(math.Sqrt(own*own+2*math.Ln2*math.Ln2)))
	for call, want := range map[string]string{
		"mean fired":     short(math.Exp(fired)) + " Pa·s (within a factor of " + short(math.Exp(math.Hypot(spread, modelOf(t, p, "A1")))) + ")",
		"max dug":        short(math.Exp(max(ln("B1"), ln("B2"), ln("B3")))) + " Pa·s (within a factor of ",
		"difference":     "a factor of " + short(math.Exp(fired-dug)) + " (within a factor of " + ends + ")",
		"value A1":       short(math.Exp(ln("A1"))) + " Pa·s (within a factor of 2",
		"value A1 lower": "log bar",
	} {
		word, rest, _ := strings.Cut(call, " ")
		c := notebook.Call{Func: word, Args: []string{rest, "viscosity@1250"}}
		switch {
		case word == "difference":
			c.Args = []string{"fired", "dug", "viscosity@1250"}
		case strings.HasSuffix(call, "lower"):
			c.Args = []string{"A1", "log_fo2_low"}
		}
		if got, ns := p.text(c); !strings.Contains(got, want) || len(ns) > 0 {
			t.Errorf("%s is %q %v, want %q", call, got, ns, want)
		}
	}
	if got, _ := p.text(notebook.Call{Func: "value", Args: []string{"A1", "log_fo2_low"}}); len([]rune(got)) != len([]rune("−13.3 log bar")) {
		t.Errorf("an end of a window is printed as %q", got)
	}
	_, ns := p.text(notebook.Call{Func: "value", Args: []string{"A1", "flux_sum"}})
	if len(ns) != 1 || !strings.Contains(ns[0].Message, "an index of lining and clay") {
		t.Errorf("flux sum of a slag: %v", ns)
	}
}

// modelOf is the shared error of the logarithm of a viscosity.
func modelOf(t *testing.T, p prose, id string) float64 {
	t.Helper()
	v, err := p.study.Variable("viscosity@1250")
	if err != nil {
		t.Fatal(err)
	}
	s, _ := p.study.Campaign.Sample(id)
	return v.ModelU([]*assay.Sample{s}) / v.Of(s).Value
}

// The liquidus of a group carries the model error once, however many samples.
func TestModelErrorDoesNotShrink(t *testing.T) {
	s := smallStudy(t)
	v, err := s.Variable(study.Liquidus)
	if err != nil {
		t.Fatal(err)
	}
	g, err := s.Campaign.Group("dug")
	if err != nil {
		t.Fatal(err)
	}
	sum := v.Summary(g.Samples)
	q := groupQuantity("mean", v, sum, g.Samples)
	model := v.ModelU(g.Samples)
	if model <= 0 || math.Abs(q.U-math.Hypot(sum.UMean(), model)) > 1e-9 {
		t.Errorf("u(mean) = %g with model %g and scatter %g", q.U, model, sum.UMean())
	}
}

// A value in the prose tells on pointing of what it is and where its ± comes
// from, or why it has none.
func TestNotesOfValuesInProse(t *testing.T) {
	p := prose{study: smallStudy(t), file: "notebook.md"}
	for _, c := range []struct {
		call  notebook.Call
		wants []string
	}{
		{notebook.Call{Func: "count", Args: []string{"dug"}}, []string{"samples of dug"}},
		{notebook.Call{Func: "value", Args: []string{"A2", "SiO2"}}, []string{"SiO₂ of A2", "xrf.csv", "B4"}},
		{notebook.Call{Func: "mean", Args: []string{"dug", "SiO2"}}, []string{"mean of SiO₂ over 3 samples of dug", "scatter between the samples"}},
		{notebook.Call{Func: "min", Args: []string{"dug", "SiO2"}}, []string{"lowest of SiO₂", "xrf.csv", "B5"}},
		{notebook.Call{Func: "mean", Args: []string{"fired", "TiO2"}}, []string{"1 sample of fired (and 1 below detection)", "leave it open"}},
		{notebook.Call{Func: "difference", Args: []string{"fired", "dug", "SiO2"}}, []string{"mean of 2 samples of fired less mean of 3 samples of dug", "Welch", "95 %: "}},
	} {
		got, ns := p.value(c.call)
		if got.Text == "" || len(ns) > 0 {
			t.Errorf("%v gave %q %v", c.call, got.Text, ns)
		}
		for _, want := range c.wants {
			if !strings.Contains(got.Note, want) {
				t.Errorf("%v says %q, want %q in it", c.call, got.Note, want)
			}
		}
	}
	if got, ns := p.value(notebook.Call{Func: "mean", Args: []string{"nobody", "SiO2"}}); got.Note != "" || len(ns) == 0 {
		t.Errorf("a value that there is not has the note %q", got.Note)
	}
}
