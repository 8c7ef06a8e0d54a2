package assay

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/assay/wetlab"
)

// tellStated compares a determination with the same analyte stated by the same
// method in a laboratory table: both count, so they must not be one and the
// same.
func (c *Campaign) tellStated(d *determined) {
	r := d.results[0]
	for _, a := range d.sample.Assays {
		stated, ok := a.Value(r.Analyte)
		if !ok || !stated.Known() || a.Method != methodOf(r.Method) || a.Table == NoTable {
			continue
		}
		told := fmt.Sprintf("%s, worked out from the readings, is %s wt%%; %s states %s wt%%", r.Determination, d.value.Value.Text(), a.At, stated.Text())
		if diff := math.Abs(d.value.Value.Value - stated.Value); stated.HasU() && diff > 2*math.Hypot(d.value.Value.U, stated.U) {
			c.Notices.Add(source.Warning, "DETERMINATIONS_DISAGREE", r.At, "%s: they differ by more than twice their uncertainty, so look which is wrong", told)
			continue
		}
		c.Notices.Add(source.Note, "ALSO_STATED", r.At, "%s; both count as determinations, so leave one out if it is the same", told)
	}
}

// known returns the best value of each analyte of a sample, for the judgement
// of its determinations.
func (s *Sample) known(r Recipe) map[string]float64 {
	out := map[string]float64{}
	parts, _ := choose(s.Assays, r)
	for _, p := range parts {
		if p.Known() {
			out[p.ID] = p.Value
		}
	}
	return out
}

// tellInterferences warns, once for a method and a culprit, of what else in
// the samples was counted with the analyte, and marks results that are a
// maximum.
func (c *Campaign) tellInterferences(all []*determined) {
	type told struct {
		first   wetlab.Result
		worst   wetlab.Interference
		samples []string
	}
	var order []string
	by := map[string]*told{}
	for _, d := range all {
		known := d.sample.known(c.Config.Recipe)
		r := d.results[0]
		for _, x := range r.Interferences(known) {
			if x.Maximum {
				d.markMaximum()
			}
			key := r.Method.ID + "\x00" + r.Analyte + "\x00" + x.Culprit
			if by[key] == nil {
				by[key] = &told{first: r, worst: x}
				order = append(order, key)
			}
			t := by[key]
			if x.Wt > t.worst.Wt {
				t.worst = x
			}
			t.samples = append(t.samples, d.sample.ID)
		}
	}
	for _, key := range order {
		t := by[key]
		bias := ""
		if b := t.worst.Bias; !math.IsNaN(b) {
			word := "more"
			if b < 0 {
				word = "less"
			}
			most := ""
			if t.worst.AtMost {
				most = "at most "
			}
			bias = fmt.Sprintf(", which makes %s%.2g wt%% %s of %s", most, math.Abs(b), word, t.first.Analyte)
		}
		remedy := `; where it was separated or masked, say so under "Separated or masked"`
		if t.worst.Maximum {
			remedy = ""
		}
		c.Notices.Add(source.Warning, "INTERFERENCE", t.first.At, "%s by %s: %s in %s, up to %.3g wt%%%s: %s%s",
			t.first.Analyte, t.first.Method.ID, t.worst.Culprit, strings.Join(t.samples, ", "), t.worst.Wt, bias, t.worst.How, remedy)
	}
}

const maximumFlag = "maximum"

func (d *determined) markMaximum() {
	a := &d.sample.Assays[slices.IndexFunc(d.sample.Assays, func(a Assay) bool { return a.At == d.results[0].At && a.Table == NoTable })]
	v := &a.Values[0]
	if !slices.Contains(v.Flags, maximumFlag) {
		v.Flags = append(v.Flags, maximumFlag)
		v.UNote += "; a maximum: copper and sulphide count as ferrous iron"
	}
}

// tellScopes notes, once a method, which results the nearest standard does not
// speak of.
func (c *Campaign) tellScopes(all []*determined) {
	outside := map[*wetlab.Method][]string{}
	for _, d := range all {
		if r := d.results[0]; r.OutOfScope {
			outside[r.Method] = append(outside[r.Method], d.sample.ID)
		}
	}
	for _, m := range wetlab.Methods() {
		if ids := outside[m]; len(ids) > 0 {
			s := m.Scope
			c.Notices.Add(source.Warning, "OUT_OF_SCOPE", c.firstOf(m), "%s by %s in %s is outside %.3g to %.3g wt%%, the range of %s, which does not vouch for such a result",
				s.Of, m.ID, strings.Join(ids, ", "), s.Lo, s.Hi, s.Standard)
		}
	}
}

// firstOf returns where a method is first used.
func (c *Campaign) firstOf(m *wetlab.Method) source.Cell {
	for _, s := range c.Readings {
		for _, r := range s.Results {
			if r.Method == m {
				return r.At
			}
		}
	}
	return source.Cell{}
}

// Caution is what can hurt in some of the wet methods that were used.
type Caution struct {
	Methods []string // IDs
	Text    string
	At      source.Cell // where the first of them is used
}

// Cautions returns what can hurt in the wet methods whose readings the campaign
// holds, each once.
func (c *Campaign) Cautions() []Caution {
	var out []Caution
	for _, m := range c.WetMethods() {
		if m.Caution == "" {
			continue
		}
		i := slices.IndexFunc(out, func(x Caution) bool { return x.Text == m.Caution })
		if i < 0 {
			out = append(out, Caution{Text: m.Caution, At: c.firstOf(m)})
			i = len(out) - 1
		}
		out[i].Methods = append(out[i].Methods, m.ID)
	}
	return out
}

func (c *Campaign) tellCautions() {
	for _, x := range c.Cautions() {
		c.Notices.Add(source.Note, "CAUTION", x.At, "%s: %s Local rules and licensed practice come first", strings.Join(x.Methods, ", "), x.Text)
	}
}

// WetMethods returns the wet methods whose readings the campaign holds, in the
// order of package wetlab.
func (c *Campaign) WetMethods() []*wetlab.Method {
	var out []*wetlab.Method
	for _, m := range wetlab.Methods() {
		if !c.firstOf(m).IsZero() {
			out = append(out, m)
		}
	}
	return out
}
