package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
)

// SampleVerdicts says what each value of a sample is fit for.
type SampleVerdicts struct {
	Sample *assay.Sample
	Values []ValueVerdict
}

// ValueVerdict is the verdict on one value that is used.
type ValueVerdict struct {
	Analyte  string
	Method   string
	Quantity quantity.Quantity
	Findings []quality.Finding
}

// Verdict is the strictest of the findings.
func (v ValueVerdict) Verdict() quality.Verdict { return quality.Worst(v.Findings) }

// Verdicts judges every value that is used, sample by sample. They are worked
// out when first asked for.
func (a *Audit) Verdicts() []SampleVerdicts {
	if a.judged != nil {
		return a.judged
	}
	for _, s := range a.campaign.Samples {
		out := SampleVerdicts{Sample: s}
		for _, p := range s.AsReported.Parts {
			if p.Known() && judged(p.ID) {
				out.Values = append(out.Values, a.verdict(s, p))
			}
		}
		a.judged = append(a.judged, out)
	}
	return a.judged
}

// judged leaves out what is no content of an element: ignition loss and
// moisture have no reference material.
func judged(id string) bool {
	x, _ := chem.LookupAnalyte(id)
	return x.Kind == chem.Oxide || x.Kind == chem.OxideTotal || x.Kind == chem.Element
}

func (a *Audit) verdict(s *assay.Sample, p chem.Part) ValueVerdict {
	v := ValueVerdict{Analyte: p.ID, Method: s.Chosen[p.ID], Quantity: p.Quantity}
	add := func(verdict quality.Verdict, format string, args ...any) {
		v.Findings = append(v.Findings, quality.Finding{Verdict: verdict, Reason: fmt.Sprintf(format, args...)})
	}
	a.onTotal(s, v.Method, add)
	a.onReference(iron(p.ID), v.Method, p.Value, add)
	a.onScatter(iron(p.ID), v.Method, p.Value, add)
	if b, ok := a.blankFor(v.Method, p.ID); ok {
		switch {
		case p.Value < b.Limits.Detection:
			add(quality.Reject, "below the limit of detection by blanks")
		case p.Value < b.Limits.Quantification:
			add(quality.Care, "below the limit of quantification by blanks")
		}
	}
	for _, x := range a.seriesFor(v.Method, iron(p.ID)) {
		if x.acts() {
			add(quality.Care, "the control chart of %s asks for action", x.Material)
		}
	}
	if slip, ok := a.slipAt(p.From); ok && !slip.Weak {
		add(quality.Care, "%s may be a slip for %s", slip.Found, slip.Instead)
	}
	a.onBridge(s, v.Method, p.ID, add)
	return v
}

type adder func(quality.Verdict, string, ...any)

// iron takes the iron of a composition, which stands for all of it, as such.
func iron(id string) string {
	if id == "FeO" || id == "Fe2O3" {
		return id + "T"
	}
	return id
}

func (a *Audit) onTotal(s *assay.Sample, method string, add adder) {
	x, ok := a.sums[s]
	if !ok || s.Chosen["SiO2"] != method {
		return
	}
	l := a.limitsFor(method)
	switch x.Verdict {
	case quality.TotalRefused:
		if a.campaign.Config.Recipe.Accepts(s.ID) {
			add(quality.Care, "the total is outside %g to %g, which the notebook accepts", l.Use[0], l.Use[1])
			return
		}
		add(quality.Reject, "the total is outside %g to %g", l.Use[0], l.Use[1])
	case quality.TotalLook:
		add(quality.Care, "the total is outside %g to %g", l.Accept[0], l.Accept[1])
	case quality.TotalNormalised:
		add(quality.Care, "already normalised, so the total tests nothing")
	}
}

func (a *Audit) onReference(analyte, method string, wt float64, add adder) {
	r, ok := a.referenceFor(method, analyte, wt)
	if !ok {
		if method != assay.HandheldXRF {
			add(quality.Care, "no reference material of like content by this method")
		}
		return
	}
	switch r.Mark() {
	case quality.MarkAct:
		add(quality.Reject, "%s reads %s", r.Material, highLow(r.Bias.Recovery))
	case quality.MarkWarn:
		add(quality.Care, "%s reads %s", r.Material, highLow(r.Bias.Recovery))
	}
}

func (a *Audit) onScatter(analyte, method string, wt float64, add adder) {
	if r, ok := a.repeatFor(method, analyte, wt); ok && r.Beyond {
		add(quality.Care, "repeats scatter %.1f times as much as the ± says", r.Times)
	}
}

// onBridge speaks of handheld readings that stand alone.
func (a *Audit) onBridge(s *assay.Sample, method, analyte string, add adder) {
	if method != assay.HandheldXRF {
		return
	}
	for _, x := range s.Assays {
		for _, v := range x.Values {
			if quality.Same(v.Analyte, analyte) && strings.Contains(strings.Join(v.Flags, " "), "corrected") {
				return
			}
		}
	}
	switch b, ok := a.campaign.Bridge(method, s.Kind, iron(analyte)); {
	case !ok || b.Ratio.N < 2:
		add(quality.Care, "a handheld reading that no laboratory result of like material backs")
	case b.Why != "":
		add(quality.Care, "a handheld reading backed by too few laboratory results")
	case Off(b):
		add(quality.Care, "the handheld reads %s than the laboratory", higher(b.Ratio.Mean))
	}
}

// Count is how many values have a verdict.
type Count struct{ Use, Care, Reject int }

// Group is the values of one method and analyte, with the reasons that hold for
// any of them.
type Group struct {
	Method, Analyte string
	Count
	Reasons []string
}

// Groups sums the verdicts up by method, in the order met, and analyte, in the
// conventional order.
func (a *Audit) Groups() []Group {
	var out []Group
	at := map[key]int{}
	for _, s := range a.Verdicts() {
		for _, v := range s.Values {
			k := key{method: v.Method, analyte: v.Analyte}
			i, seen := at[k]
			if !seen {
				i = len(out)
				at[k] = i
				out = append(out, Group{Method: v.Method, Analyte: v.Analyte})
			}
			out[i].add(v)
		}
	}
	methods := a.methods()
	slices.SortStableFunc(out, func(x, y Group) int {
		ax, _ := chem.LookupAnalyte(x.Analyte)
		ay, _ := chem.LookupAnalyte(y.Analyte)
		return cmp.Or(cmp.Compare(slices.Index(methods, x.Method), slices.Index(methods, y.Method)), cmp.Compare(ax.Order, ay.Order))
	})
	return out
}

func (g *Group) add(v ValueVerdict) {
	switch v.Verdict() {
	case quality.Reject:
		g.Reject++
	case quality.Care:
		g.Care++
	default:
		g.Use++
	}
	for _, f := range v.Findings {
		if !slices.Contains(g.Reasons, f.Reason) {
			g.Reasons = append(g.Reasons, f.Reason)
		}
	}
}
