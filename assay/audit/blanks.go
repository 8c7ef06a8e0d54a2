package audit

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Blank is what one method finds where there is nothing.
type Blank struct {
	Method, Analyte string
	N               int     // blanks read
	Below           int     // of them below the laboratory's limit
	Mean, SD        float64 // of the others; NaN where there are too few
	Limits          quality.Detection
	Stated          float64 // the laboratory's limit, the median of those met; NaN when none
	Dirty           bool    // the mean is above zero at 97.5 %
	From            []source.Cell
}

// leastBlanks is the number of blanks that give limits.
const leastBlanks = 3

func (a *Audit) blanks() {
	var h heap
	for _, c := range a.campaign.Controls {
		if !c.Blank {
			continue
		}
		for _, v := range c.Values {
			if v.Known() || v.Class.Censored() {
				h.add(key{c.Method, "", v.Analyte}, readingOf(v, c.Date))
			}
		}
	}
	for _, k := range h.order {
		rs := h.by[k]
		known := measured(rs)
		b := Blank{Method: k.method, Analyte: k.analyte, N: len(rs), Below: len(rs) - len(known), Mean: math.NaN(), SD: math.NaN(),
			Stated: a.statedLimit(k.method, k.analyte), From: cells(rs)}
		if len(known) >= leastBlanks && b.Below == 0 {
			xs, us := numbers(known)
			m := quality.MeanOf(xs, us)
			b.Mean, b.SD = m.Value, m.SD
			b.Limits = quality.DetectionOf(m.SD, m.N, false)
			t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(m.N - 1)}.Quantile(0.975)
			b.Dirty = m.Value > t*m.SD/math.Sqrt(float64(m.N))
		}
		a.Blanks = append(a.Blanks, b)
	}
}

// statedLimit is the median of the limits that the laboratory states beside
// values of an analyte that it did not find.
func (a *Audit) statedLimit(method, analyte string) float64 {
	var limits []float64
	take := func(m, id string, q quantity.Quantity) {
		if m == method && quality.Same(id, analyte) && q.Class.Censored() && q.Limit > 0 {
			limits = append(limits, q.Limit)
		}
	}
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			for _, v := range x.Values {
				take(x.Method, v.Analyte, v.Quantity)
			}
		}
	}
	for _, c := range a.campaign.Controls {
		for _, v := range c.Values {
			take(c.Method, v.Analyte, v.Quantity)
		}
	}
	if len(limits) == 0 {
		return math.NaN()
	}
	slices.Sort(limits)
	return limits[len(limits)/2]
}

// HasLimits reports whether the blanks give limits.
func (b Blank) HasLimits() bool { return b.SD > 0 }

// blankFor returns the blank of a method for an analyte.
func (a *Audit) blankFor(method, analyte string) (Blank, bool) {
	i := slices.IndexFunc(a.Blanks, func(b Blank) bool {
		return b.Method == method && quality.Same(b.Analyte, analyte) && b.HasLimits()
	})
	if i < 0 {
		return Blank{}, false
	}
	return a.Blanks[i], true
}

// blankShare is the share of a result from which a blank matters (common
// practice).
const blankShare = 0.1

// touched counts the values by the blank's method of which the blank is more
// than a tenth.
func (a *Audit) touched(b Blank) (n int) {
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			for _, v := range x.Values {
				if x.Method == b.Method && v.Known() && quality.Same(v.Analyte, b.Analyte) && b.Mean > blankShare*v.Value {
					n++
				}
			}
		}
	}
	return n
}

// Matters reports a blank that is not clean and is more than a tenth of some
// result.
func (a *Audit) Matters(b Blank) bool {
	return b.Dirty && b.Mean > b.Limits.Critical && a.touched(b) > 0
}

func (a *Audit) tellBlanks(ns *source.Notices) {
	for _, b := range a.Blanks {
		if a.Matters(b) {
			ns.Add(source.Warning, "BLANK", first(b.From), "the blanks by %s hold %s, %.2g wt%% on average of %d, more than a tenth of %d results: ask the laboratory whether it was taken off, and what was run before", b.Method, b.Analyte, b.Mean, b.N, a.touched(b))
		}
	}
}
