package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/audit"
	"smeltbook/assay/quality"
	eq "smeltbook/report/equation"
)

// audit judges the analyses, once for all that ask.
func (b *builder) audit() *audit.Audit {
	if b.audited == nil {
		b.audited = audit.Of(b.study.Campaign)
	}
	return b.audited
}

// qualityMethod says by what the analyses were judged and what came of it.
func (b *builder) qualityMethod() method {
	a := b.audit()
	m := method{head: "Quality of the analyses", text: strings.Join(nonEmpty(sentences("Sums are judged by method.", b.controlsText(a)), referencesText(a), sentences(repeatsText(a), blanksText(a)), sentences(b.seriesText(a), b.verdictsText(a), b.targetsText(), slipsText(a))), "\n")}
	m.formulas = qualityFormulas(a)
	return m
}

// qualityFormulas are the equations of what there was to judge by.
func qualityFormulas(a *audit.Audit) (out []formula) {
	if len(a.References) > 0 {
		out = append(out, formula{lines: lines(
			eq.Row(eq.Line("Δ = x̄ − X ; R ="), eq.Frac(eq.Line("100 x̄"), eq.Line("X")), eq.Line("; z′ ="), eq.Frac(eq.Line("Δ"), eq.Sqrt(eq.Line("σ^2 + u_X^2"))), eq.Line("; ζ ="), eq.Frac(eq.Line("Δ"), eq.Sqrt(eq.Line("u_x^2 + u_X^2"))))),
			where: []sign{{"x̄", "is the mean found, wt%"}, {"X", "the certified value, wt%"}, {"Δ", "the bias, called so where it is more than twice its uncertainty"}, {"R", "the recovery, %"}, {"u_x , u_X", "the standard uncertainties of both, that of the certificate from its ± by what it is"}, {"σ", "the standard deviation wanted, where the notebook states none that of Horwitz as modified by @thompson2000"}},
			from:  "after @iso13528; bias after @linsinger2005"})
	}
	if len(a.Repeats) > 0 {
		out = append(out, formula{lines: lines(
			eq.Row(eq.Line("s^2 ="), eq.Frac(eq.Sum(eq.Line("g"), eq.Sum(eq.Line("i"), eq.Power(eq.Paren(eq.Line("x_gi − x̄_g")), eq.Line("2")))), eq.Sum(eq.Line("g"), eq.Line("( n_g − 1 )"))), eq.Line("; r = 2.8 s"))),
			where: []sign{{"x_gi", "is reading i of thing g, wt%"}, {"n_g", "the readings of it"}, {"s", "the repeatability, wt%"}, {"r", "the difference that one pair in twenty exceeds"}},
			from:  "after @thompson1976 and @iso5725"})
	}
	if slices.ContainsFunc(a.Blanks, hasLimits) {
		out = append(out, formula{lines: lines(eq.Line("L_C = t s_B ; L_D = 2 t s_B ; L_Q = 10 s_B")),
			where: []sign{{"s_B", "is the standard deviation of single blanks, wt%"}, {"t", "the 95 % quantile of Student's t for the blanks there are"}, {"L_C", "the critical value"}, {"L_D", "the limit of detection"}, {"L_Q", "that of quantification, wt%"}},
			from:  "after @currie1995"})
	}
	return out
}

// controlsText counts what the laboratory ran beside the samples.
func (b *builder) controlsText(a *audit.Audit) string {
	type run struct{ materials, blanks, duplicates int }
	by := map[string]*run{}
	var order []string
	of := func(method string) *run {
		if by[method] == nil {
			by[method] = &run{}
			order = append(order, method)
		}
		return by[method]
	}
	seen := map[string]bool{}
	for _, r := range a.References {
		if k := r.Method + "\x00" + r.Material; !seen[k] {
			seen[k] = true
			of(r.Method).materials++
		}
	}
	for _, r := range a.Repeats {
		if r.Control == "" {
			of(r.Method).duplicates = max(of(r.Method).duplicates, r.Groups)
		}
	}
	for _, x := range a.Blanks {
		of(x.Method).blanks = max(of(x.Method).blanks, x.N)
	}
	var parts []string
	for _, m := range order {
		r := by[m]
		var things []string
		if r.materials > 0 {
			things = append(things, counted(r.materials, "reference material"))
		}
		if r.duplicates > 0 {
			things = append(things, counted(r.duplicates, "sample")+" twice or more")
		}
		if r.blanks > 0 {
			things = append(things, counted(r.blanks, "blank"))
		}
		parts = append(parts, "by "+m+" "+list(things))
	}
	if len(parts) == 0 {
		return "No reference material, duplicate or blank was read beside the samples."
	}
	text := "Read beside the samples were " + strings.Join(parts, "; ") + "."
	for _, l := range a.Lacking() {
		if by[l.Method] == nil {
			text += " By " + l.Method + " nothing was."
		}
	}
	return text
}

// referencesText gives the bias by element: the recoveries of the reference
// materials, and those that differ.
func referencesText(a *audit.Audit) string {
	if len(a.References) == 0 {
		return ""
	}
	var materials, off []string
	for _, r := range a.References {
		c := r.Material + ": " + r.Certified.Citation
		if r.Own {
			c = r.Material + ": value stated by the campaign, " + strings.TrimPrefix(r.Certified.At.String(), " ")
		}
		if !slices.ContainsFunc(materials, func(x string) bool { return strings.HasPrefix(x, r.Material+": ") }) {
			materials = append(materials, c)
		}
		if r.Bias.Significant {
			off = append(off, fmt.Sprintf("%s in %s by %s (%.3g ± %.2g %%)", formulaText(r.Analyte), r.Material, r.Method, r.Bias.Recovery, r.Bias.URecovery))
		}
	}
	text := "Certified values: " + strings.Join(materials, "; ") + "."
	text += " Recovery in per cent, " + byMethod(a.References, func(r audit.Reference) (string, string, float64) { return r.Method, r.Analyte, r.Bias.Recovery }, func(lo, hi float64) string {
		if l, h := fmt.Sprintf("%.1f", lo), fmt.Sprintf("%.1f", hi); l != h {
			return l + "–" + h
		}
		return fmt.Sprintf("%.1f", lo)
	}) + "."
	if len(off) == 0 {
		return text + " None differs from its certificate by more than twice the uncertainty."
	}
	return text + " Different from the certificate by more than twice the uncertainty: " + strings.Join(off, ", ") + "."
}

// repeatsText gives the repeatability by element.
func repeatsText(a *audit.Audit) string {
	if len(a.Repeats) == 0 {
		return ""
	}
	var beyond []string
	for _, r := range a.Repeats {
		if r.Beyond && r.Control == "" {
			beyond = append(beyond, formulaText(r.Analyte)+" by "+r.Method)
		}
	}
	text := "Relative standard deviation of repeats in per cent, " + byMethod(a.Repeats, func(r audit.Repeat) (string, string, float64) { return r.Method, r.Analyte, r.RSD }, shortSpan) + "."
	if len(beyond) > 0 {
		text += " Duplicates scatter more than the ± says in " + list(beyond) + "."
	}
	return text
}

func hasLimits(x audit.Blank) bool { return !math.IsNaN(x.Limits.Detection) && x.Limits.Detection > 0 }

// blanksText gives the limits of detection by element.
func blanksText(a *audit.Audit) string {
	limits := slices.DeleteFunc(slices.Clone(a.Blanks), func(x audit.Blank) bool { return !hasLimits(x) })
	var dirty []string
	for _, x := range a.Blanks {
		if x.Dirty {
			dirty = append(dirty, formulaText(x.Analyte)+" by "+x.Method)
		}
	}
	text := ""
	if len(limits) > 0 {
		text = "Limits of detection from the blanks in wt%, " + byMethod(limits, func(x audit.Blank) (string, string, float64) { return x.Method, x.Analyte, x.Limits.Detection }, shortSpan) + "."
	}
	if len(dirty) > 0 {
		text = sentences(text, "Blanks are not clean of "+list(dirty)+".")
	}
	return text
}

// byMethod lists numbers by method and element: "by WD-XRF SiO₂ 99.8–100.1, FeO
// 100.2; by ICP …". An element met more than once has the range.
func byMethod[T any](all []T, of func(T) (method, analyte string, x float64), print func(lo, hi float64) string) string {
	type span struct{ lo, hi float64 }
	type group struct {
		analytes []string
		spans    map[string]span
	}
	by := map[string]*group{}
	var order []string
	for _, t := range all {
		m, analyte, x := of(t)
		if math.IsNaN(x) || math.IsInf(x, 0) {
			continue
		}
		g := by[m]
		if g == nil {
			g = &group{spans: map[string]span{}}
			by[m], order = g, append(order, m)
		}
		s, seen := g.spans[analyte]
		if !seen {
			g.analytes, s = append(g.analytes, analyte), span{x, x}
		}
		g.spans[analyte] = span{min(s.lo, x), max(s.hi, x)}
	}
	var out []string
	for _, m := range order {
		var parts []string
		for _, analyte := range by[m].analytes {
			s := by[m].spans[analyte]
			parts = append(parts, formulaText(analyte)+" "+print(s.lo, s.hi))
		}
		out = append(out, "by "+m+" "+strings.Join(parts, ", "))
	}
	return strings.Join(out, "; ")
}

// seriesText tells of control charts and of methods compared, which the entry of
// quality shows.
func (b *builder) seriesText(a *audit.Audit) string {
	if !b.used["quality"] {
		return ""
	}
	var parts []string
	if len(a.Series) > 0 {
		parts = append(parts, "Control charts are after Shewhart, with the limits of the certificate where there is one.")
	}
	if slices.ContainsFunc(a.Repeats, func(r audit.Repeat) bool { return r.Line != nil }) {
		parts = append(parts, "Scatter against content is a line where 50 pairs and more are there.")
	}
	if len(a.Bridges) > 0 {
		parts = append(parts, "Two methods are compared after @york2004 and @passing1983, and no reading is changed by it.")
	}
	return strings.Join(parts, " ")
}

// verdictsText counts what the values are fit for, and names what was rejected.
func (b *builder) verdictsText(a *audit.Audit) string {
	var n audit.Count
	var rejected []string
	for _, g := range a.Groups() {
		n.Use, n.Care, n.Reject = n.Use+g.Use, n.Care+g.Care, n.Reject+g.Reject
		if g.Reject > 0 {
			rejected = append(rejected, fmt.Sprintf("%d of %s by %s (%s)", g.Reject, formulaText(g.Analyte), g.Method, strings.Join(g.Reasons, "; ")))
		}
	}
	all := n.Use + n.Care + n.Reject
	if all == 0 {
		return ""
	}
	text := fmt.Sprintf("Of %d values that go into compositions and estimates %d are fit for use, %d are to be used with care and %d are not to be used before their cause is found", all, n.Use, n.Care, n.Reject)
	if len(rejected) > 0 {
		text += ": " + strings.Join(rejected, ", ")
	}
	return text + "; they are told and not left out."
}

func (b *builder) targetsText() string {
	var stated []string
	for id, rel := range b.study.Campaign.Config.Quality.Targets {
		stated = append(stated, fmt.Sprintf("%s %g %%", formulaText(id), 100*rel))
	}
	if len(stated) == 0 {
		return ""
	}
	slices.Sort(stated)
	return "Standard deviations wanted by the notebook: " + strings.Join(stated, ", ") + "."
}

func slipsText(a *audit.Audit) string {
	if n := len(a.Slips); n > 0 {
		return fmt.Sprintf("A search for exchanged digits and misplaced decimal points raised %d suspicions; nothing was changed for them.", n)
	}
	return ""
}

// corrections lists the corrections that the notebook declares, as they were
// applied.
func (b *builder) corrections() []string {
	c := b.study.Campaign
	var parts []string
	for _, r := range c.Config.Recipe.Correct {
		for _, x := range c.Bridges {
			if x.From != r.Method || x.Why != "" || !slices.ContainsFunc(r.Analytes, func(a string) bool { return quality.Same(a, x.Analyte) }) ||
				len(r.Kinds) > 0 && !slices.Contains(r.Kinds, x.Kind) {
				continue
			}
			l := x.Line.Scaled()
			parts = append(parts, fmt.Sprintf("%s in %s by %s to %s, (y − (%.3g ± %.2g))/(%.3g ± %.2g), from %d samples", formulaText(x.Analyte), x.Kind, x.From, list(x.To), l.A, l.UA, l.B, l.UB, l.N))
		}
	}
	return parts
}

func (b *builder) correctedMethod() method {
	return method{head: "Corrected readings", text: "As the notebook declares, readings were replaced by what the laboratory would have given: " + strings.Join(b.corrections(), "; ") + ". Their uncertainty is that of the prediction; readings outside the range of those samples were left as they are.",
		formulas: []formula{{lines: lines(eq.Row(eq.Line("x ="), eq.Frac(eq.Line("y − a"), eq.Line("b")))),
			where: []sign{{"y", "is the reading, wt%"}, {"x", "what stands for it, wt%"}, {"a , b", "intercept and slope of the line between the methods"}}, from: "line after @york2004"}}}
}
