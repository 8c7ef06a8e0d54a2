package audit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/quality"
	"smeltbook/assay/source"
)

// Reference is what one method found of one analyte in one reference material.
type Reference struct {
	Method, Material, Analyte string
	Own                       bool // the certificate is the campaign's own
	Certified                 quality.Certified
	UCertified                float64 // NaN when the certificate states no ±
	UNote                     string
	Mean                      quality.Mean
	Bias                      quality.Bias
	Scores                    quality.Scores
	Sigma                     float64
	Target                    string // where Sigma is from
	From                      []source.Cell
}

// Mark is the verdict of a reference: a score beyond its limit asks for action
// only where the bias is more than its own uncertainty.
func (r Reference) Mark() quality.Mark {
	m := quality.MarkZ(r.Scores.ZPrime)
	if math.IsNaN(r.UCertified) {
		m = quality.MarkZ(r.Scores.Z)
	}
	if m == quality.MarkAct && !r.Bias.Significant {
		m = quality.MarkWarn
	}
	return m
}

func (a *Audit) references() {
	var h heap
	certificates := map[string]quality.Certificate{}
	for _, c := range a.campaign.Controls {
		if c.Blank {
			continue
		}
		if c.Certificate.Material == "" {
			if !slices.Contains(a.Unknown, c.Base) {
				a.Unknown = append(a.Unknown, c.Base)
			}
			continue
		}
		certificates[c.Base] = c.Certificate
		for _, v := range c.Values {
			if v.Known() {
				h.add(key{c.Method, c.Base, v.Analyte}, readingOf(v, c.Date))
			}
		}
	}
	for _, k := range h.order {
		rs := h.by[k]
		c := certificates[k.what]
		v, ok := c.For(k.analyte, rs[0].basis, k.method)
		if !ok {
			continue
		}
		r := Reference{Method: k.method, Material: k.what, Analyte: k.analyte, Own: c.Own, Certified: v, From: cells(rs)}
		r.UCertified, r.UNote = v.U()
		r.Mean = quality.MeanOf(numbers(rs))
		r.Bias = quality.BiasOf(r.Mean.Value, r.Mean.U, v.Value, r.UCertified)
		r.Sigma, r.Target = a.target(k.analyte, v.Value)
		if rs[0].step > r.Sigma { // printed too coarsely to be judged
			continue
		}
		r.Scores = quality.ScoresOf(r.Mean.Value, r.Mean.U, v.Value, r.UCertified, r.Sigma)
		a.References = append(a.References, r)
	}
}

// nearReference is how far apart, as a factor, a reference material and a
// sample may lie for the one to tell of the other; common practice asks for
// references that bracket the samples.
const nearReference = 10

// referenceFor returns the reference by a method whose content of an analyte is
// nearest to a value; ok is false where none is near.
func (a *Audit) referenceFor(method, analyte string, wt float64) (best Reference, ok bool) {
	nearest := math.Log(nearReference)
	for _, r := range a.References {
		if r.Method != method || !quality.Same(r.Analyte, analyte) {
			continue
		}
		if d := math.Abs(math.Log(wt / r.Certified.Value)); d <= nearest {
			nearest, best, ok = d, r, true
		}
	}
	return best, ok
}

func (a *Audit) tellReferences(ns *source.Notices) {
	for _, name := range a.Unknown {
		ns.Add(source.Note, "NO_CERTIFICATE", source.Cell{}, "no certificate of the control %s is known, so it tells of precision and drift only; list its values in a sheet with the columns material, analyte, value, unit, ±, kind of ±", name)
	}
	for _, r := range a.References {
		if r.Mark() == quality.MarkFine {
			continue
		}
		severity := source.Note
		if r.Mark() == quality.MarkAct {
			severity = source.Warning
		}
		ns.Add(severity, "BIAS", first(r.From), "%s", r.Sentence())
	}
}

// Sentence says what the reference shows and what to do.
func (r Reference) Sentence() string {
	text := fmt.Sprintf("%s in %s by %s reads %s: %.4g found (%s), %.4g %s", r.Analyte, r.Material, r.Method, highLow(r.Bias.Recovery), r.Mean.Value, readings(r.Mean.N), r.Certified.Value, r.Certified.Status)
	if !math.IsNaN(r.Scores.ZPrime) {
		text += fmt.Sprintf(", z′ %s", signed(r.Scores.ZPrime))
	}
	if r.Mark() == quality.MarkAct {
		return text + "; ask the laboratory before this element is used, or declare a correction"
	}
	return text + "; more than is usual, so watch it"
}

func highLow(recovery float64) string {
	if d := recovery - 100; d < 0 {
		return fmt.Sprintf("%.2g %% low", -d)
	}
	return fmt.Sprintf("%.2g %% high", recovery-100)
}

func signed(x float64) string {
	return strings.Replace(fmt.Sprintf("%.1f", x), "-", "−", 1)
}

func readings(n int) string {
	if n == 1 {
		return "1 reading"
	}
	return fmt.Sprintf("%d readings", n)
}
