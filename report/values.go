package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// prose computes the values that the notebook's prose asks for.
type prose struct {
	study *study.Study
	file  string
}

// valueFuncs are the words a computed value may begin with, with what
// follows each.
var valueFuncs = map[string]string{
	"mean": `"GROUP" "VALUE"`, "median": `"GROUP" "VALUE"`, "min": `"GROUP" "VALUE"`, "max": `"GROUP" "VALUE"`,
	"difference": `"GROUP" "GROUP" "VALUE"`, "count": `"GROUP"`, "value": `"SAMPLE" "VALUE"`, "dressed": `"STAGE" "VALUE"`,
}

var valueFuncNames = []string{"mean", "median", "min", "max", "difference", "count", "value", "dressed"}

// value returns what stands in the place of a call, with its note.
func (p prose) value(c notebook.Call) (notebook.Value, source.Notices) {
	text, ns := p.text(c)
	if text == "" {
		return notebook.Value{}, ns
	}
	return notebook.Value{Text: text, Note: p.note(c)}, ns
}

// text returns what stands in the place of a call.
func (p prose) text(c notebook.Call) (string, source.Notices) {
	q, err := p.compute(c)
	if err != nil {
		n := source.Notice{Severity: source.Error, Code: "VALUE", Message: err.Error(), At: source.Line(p.file, c.Line)}
		if told, ok := err.(source.Notice); ok {
			n.Code, n.Message = told.Code, told.Message
		}
		return "", source.Notices{n}
	}
	return q, nil
}

func (p prose) compute(c notebook.Call) (string, error) {
	usage, ok := valueFuncs[c.Func]
	if !ok {
		return "", wrongCall("there is no value %q"+source.DidYouMean(c.Func, valueFuncNames), c.Func)
	}
	wanted := map[string]int{"count": 1, "difference": 3}[c.Func]
	if wanted == 0 {
		wanted = 2
	}
	if len(c.Args) != wanted {
		return "", wrongCall("%s takes %d names, not %d: write {{ %s %s }}", c.Func, wanted, len(c.Args), c.Func, usage)
	}
	if c.Func == "dressed" {
		return p.stageValue(c.Args[0], c.Args[1])
	}
	if c.Func == "value" {
		return p.sampleValue(c.Args[0], c.Args[1])
	}
	group, err := p.study.Campaign.Group(c.Args[0])
	if err != nil {
		return "", err
	}
	if c.Func == "count" {
		return strconv.Itoa(len(group.Samples)), nil
	}
	v, err := p.study.Variable(c.Args[wanted-1])
	if err != nil {
		return "", err
	}
	if v.Log {
		return p.byFactor(c, v, group)
	}
	a := v.Summary(group.Samples)
	if c.Func == "difference" {
		other, err := p.study.Campaign.Group(c.Args[1])
		if err != nil {
			return "", err
		}
		d := v.Difference(group.Samples, other.Samples)
		if math.IsNaN(d.Value) {
			return "not to be had (" + d.Why + ")", nil
		}
		if model := modelApart(v, group.Samples, other.Samples); model > 0 {
			all := math.Hypot(d.U, model)
			text, _ := quantity.Number(d.Value, all)
			return fmt.Sprintf("%s %s (± %s)", text, v.Unit, shortSpan(d.U, all)), nil
		}
		return quantity.WithU(d.Value, d.U, v.Unit, "").WithUnit(), nil
	}
	if a.N+a.Censored == 0 {
		return "", wrongCall("no sample of group %q has a %s%s", group.Name, v.Label, reasonOf(v, group))
	}
	figure := map[string]summary.Bounds{"mean": a.Mean, "median": a.Median, "min": a.Min, "max": a.Max}[c.Func]
	if !figure.Known() {
		// Samples below detection leave it open; nothing is put in their place.
		text := boundsText(figure)
		if text == notDetected || text == "–" {
			return text, nil // without a limit there is nothing that has a unit
		}
		return strings.TrimSpace(text + " " + axisUnit(v.Unit)), nil
	}
	return printed(v, groupQuantity(c.Func, v, v.Apart().Summary(group.Samples), group.Samples)), nil
}

// modelApart is the standard uncertainty that a model gives a difference of two
// groups when its errors in the one and in the other are independent; 0 where no
// model has a share in the variable.
func modelApart(v study.Variable, a, b []*assay.Sample) float64 {
	return math.Hypot(v.ModelU(a), v.ModelU(b))
}

// twoEnds says what a ± with two ends is, in the words of the notes of tables.
const twoEnds = "the lower ± is from scatter and analyses, as if the model erred alike in both groups, the upper takes its errors as independent; how much of them cancels is not known"

// reasonOf tells why a variable has no value in a group, where its
// samples give one.
func reasonOf(v study.Variable, g assay.Group) string {
	for _, s := range g.Samples {
		if why := v.Of(s).UNote; why != "" {
			return ": " + why
		}
	}
	return ""
}

// byFactor answers for a variable whose values differ by factors: middles and
// differences are those of the logarithms, a difference is a ratio, and an
// uncertainty is a factor.
func (p prose) byFactor(c notebook.Call, v study.Variable, group assay.Group) (string, error) {
	logs := v.Logs()
	a := logs.Summary(group.Samples)
	if c.Func == "difference" {
		other, err := p.study.Campaign.Group(c.Args[1])
		if err != nil {
			return "", err
		}
		d := logs.Difference(group.Samples, other.Samples)
		if math.IsNaN(d.Value) {
			return "not to be had (" + d.Why + ")", nil
		}
		text := "a factor of " + short(math.Exp(d.Value))
		if model := modelApart(logs, group.Samples, other.Samples); model > 0 && !math.IsNaN(d.U) {
			return text + " (within a factor of " + shortSpan(math.Exp(d.U), math.Exp(math.Hypot(d.U, model))) + ")", nil
		}
		return text + within(d.U), nil
	}
	if a.N == 0 {
		return "", wrongCall("no sample of group %q has a %s%s", group.Name, v.Label, reasonOf(v, group))
	}
	if c.Func == "min" || c.Func == "max" {
		return printed(v, groupQuantity(c.Func, v, v.Summary(group.Samples), group.Samples)), nil
	}
	q := groupQuantity(c.Func, logs, a, group.Samples)
	return short(math.Exp(q.Value)) + " " + v.Unit + within(q.U), nil
}

// within prints the standard uncertainty of a logarithm as a factor.
func within(u float64) string {
	if math.IsNaN(u) {
		return ""
	}
	return " (within a factor of " + short(math.Exp(u)) + ")"
}

// printed prints one value of a variable with its unit.
func printed(v study.Variable, q quantity.Quantity) string {
	switch {
	case v.Log && q.Known() && q.Value > 0:
		return short(q.Value) + " " + v.Unit + within(q.U/q.Value)
	case v.Decimals > 0 && q.Known() && !q.HasU():
		return strings.Replace(fmt.Sprintf("%.*f", v.Decimals, q.Value), "-", quantity.Minus, 1) + " " + v.Unit
	}
	return q.WithUnit()
}

// groupQuantity states one figure of a group with its standard uncertainty:
// for mean and median from the scatter between the samples together with the
// model error they share, for the extremes that of the sample itself.
func groupQuantity(word string, v study.Variable, a summary.Group, samples []*assay.Sample) quantity.Quantity {
	model, from := v.ModelU(samples), "± from the scatter between the samples"
	if model > 0 {
		from += " and the error of the model, which they share"
	}
	switch word {
	case "mean":
		return quantity.WithU(a.Mean.Value(), math.Hypot(a.UMean(), model), v.Unit, from)
	case "median":
		return quantity.WithU(a.Median.Value(), math.Hypot(a.UMedian(), model), v.Unit, from)
	}
	wanted := a.Max.Value()
	if word == "min" {
		wanted = a.Min.Value()
	}
	for _, s := range samples {
		if q := v.Of(s); q.Known() && q.Value == wanted {
			return q
		}
	}
	return quantity.New(wanted, v.Unit, "")
}

func (p prose) sampleValue(id, key string) (string, error) {
	s, ok := p.study.Campaign.Sample(id)
	if !ok {
		return "", wrongCall("there is no sample %q%s", id, source.DidYouMean(id, p.study.Campaign.SampleIDs()))
	}
	v, err := p.study.Variable(key)
	if err != nil {
		return "", err
	}
	q := v.Of(s)
	if q.Class == quantity.Missing || q.Class == quantity.NotRun {
		if q.UNote != "" {
			return "", wrongCall("sample %s has no %s: %s", s.ID, v.Label, q.UNote)
		}
		return "", wrongCall("sample %s has no %s", s.ID, v.Label)
	}
	return printed(v, q), nil
}

// dressedValues are the figures of a stage that prose can ask for, of the
// concentrate and reconciled.
var dressedValues = []string{"recovery", "yield", "grade", "enrichment", "ratio"}

// stageValue states a figure of the first concentrate of a stage of dressing.
func (p prose) stageValue(name, key string) (string, error) {
	log := p.study.Campaign.Dressing
	i, k, ok := log.Stage(name)
	if !ok {
		var names []string
		for _, c := range log.Circuits {
			for _, s := range c.Stages {
				names = append(names, s.Name)
			}
		}
		return "", wrongCall("there is no stage of dressing %q%s", name, source.DidYouMean(name, names))
	}
	r, err := dressing.Reconcile(log.Circuits[i])
	if err != nil {
		return "", err
	}
	for _, x := range r.Stage(k, dressing.Balanced, 0) {
		if x.Product.Role != dressing.Concentrate {
			continue
		}
		cu, _ := x.Of(dressing.Copper)
		q, ok := map[string]quantity.Quantity{"recovery": percent(cu.Recovery), "yield": percent(x.Yield), "grade": cu.Product,
			"enrichment": cu.Enrichment, "ratio": x.Ratio}[key]
		switch {
		case !ok:
			return "", wrongCall("a stage of dressing has no %q%s", key, source.DidYouMean(key, dressedValues))
		case !q.Known():
			return "", wrongCall("the %s of stage %q is not known: a weight or an assay is missing", key, name)
		}
		return q.WithUnit(), nil
	}
	return "", wrongCall("stage %q has no concentrate", name)
}

func wrongCall(format string, args ...any) error {
	var ns source.Notices
	ns.Add(source.Error, "VALUE", source.Cell{}, format, args...)
	return ns[0]
}
