package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/summary"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// note tells of a computed value, on pointing at it, of what it is, over how
// many samples, from which cells and where its ± comes from or why it has none.
// The call is one that has a value.
func (p prose) note(c notebook.Call) string {
	switch c.Func {
	case "dressed":
		return "of the concentrate of " + c.Args[0] + ", by reconciled weights and assays"
	case "value":
		s, ok := p.study.Campaign.Sample(c.Args[0])
		v, err := p.study.Variable(c.Args[1])
		if !ok || err != nil {
			return ""
		}
		return sentenceOf(formulaText(v.Label)+" of "+s.ID, v.Of(s))
	}
	group, err := p.study.Campaign.Group(c.Args[0])
	if err != nil {
		return ""
	}
	if c.Func == "count" {
		return "samples of " + group.Name
	}
	v, err := p.study.Variable(c.Args[len(c.Args)-1])
	if err != nil {
		return ""
	}
	if c.Func == "difference" {
		other, err := p.study.Campaign.Group(c.Args[1])
		if err != nil {
			return ""
		}
		text := fmt.Sprintf("%s: mean of %s less mean of %s", formulaText(v.Label), overSamples(v, group), overSamples(v, other))
		if v.Log {
			text += ", of logarithms and so a factor"
		}
		if modelApart(v, group.Samples, other.Samples) > 0 {
			return text + "; " + twoEnds
		}
		if v.Log {
			return text + "; standard uncertainty after Welch"
		}
		return text + "; standard uncertainty after Welch" + interval95(v.Difference(group.Samples, other.Samples), v.Unit)
	}
	what := fmt.Sprintf("%s of %s over %s", wordOf(c.Func), formulaText(v.Label), overSamples(v, group))
	if mixed := p.study.MixedIron(group); mixed != "" && v.CountsIron() && (c.Func == "mean" || c.Func == "median") {
		what += "; " + mixed + ", the others count all iron as ferrous"
	}
	if v.Log && (c.Func == "mean" || c.Func == "median") {
		logs := v.Logs()
		return what + "; by logarithms, and the uncertainty a factor: " + groupQuantity(c.Func, logs, logs.Summary(group.Samples), group.Samples).UNote
	}
	g := v.Summary(group.Samples)
	if g.N == 0 || g.Censored > 0 && c.Func != "max" {
		return what + "; values below detection leave it open"
	}
	return sentenceOf(what, groupQuantity(c.Func, v, v.Apart().Summary(group.Samples), group.Samples))
}

func wordOf(function string) string {
	switch function {
	case "min":
		return "lowest"
	case "max":
		return "highest"
	}
	return function
}

// overSamples counts the samples of a group that have a variable.
func overSamples(v study.Variable, g assay.Group) string {
	a := v.Summary(g.Samples)
	text := counted(a.N, "sample") + " of " + g.Name
	var apart []string
	if a.Censored > 0 {
		apart = append(apart, fmt.Sprintf("%d below detection", a.Censored))
	}
	if a.Absent > 0 {
		apart = append(apart, fmt.Sprintf("%d without it", a.Absent))
	}
	if len(apart) == 0 {
		return text
	}
	return text + " (and " + strings.Join(apart, ", ") + ")"
}

// sentenceOf adds to what a value is where it and its ± come from.
func sentenceOf(what string, q quantity.Quantity) string {
	why := q.UNote
	if q.Known() && !q.HasU() && why == "" {
		why = "nothing states an uncertainty"
	}
	if q.HasU() && q.U == 0 {
		why = "no scatter between the samples, and no uncertainty of its own"
	}
	return strings.Join(nonEmpty(what, origin(q.From), why), "; ")
}

// interval95 prints the 95 % interval of a difference, where there is one.
func interval95(d summary.Difference, unit string) string {
	if math.IsNaN(d.Low) || math.IsNaN(d.High) {
		return ""
	}
	return strings.TrimRight(fmt.Sprintf("; 95 %%: %s to %s %s", short(d.Low), short(d.High), axisUnit(unit)), " ")
}
