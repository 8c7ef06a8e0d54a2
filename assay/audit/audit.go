// Package audit judges the analyses of a campaign by the rules of
// assay/quality: what its totals, reference materials, duplicates, blanks and
// control charts say, where a table may hold a slip, and what each value is fit
// for. It changes nothing.
package audit

import (
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Audit is what the quality of a campaign's analyses looks like.
type Audit struct {
	Totals     []Totals
	Normalised []Normalised
	References []Reference
	Unknown    []string // control materials without a certificate
	Repeats    []Repeat
	Blanks     []Blank
	Series     []Series
	Bridges    []assay.Bridge
	Slips      []Slip

	campaign *assay.Campaign
	sums     map[*assay.Sample]SampleSum // of Totals
	judged   []SampleVerdicts            // see Verdicts
}

// Of judges a campaign.
func Of(c *assay.Campaign) *Audit {
	a := &Audit{campaign: c, Bridges: c.Bridges}
	a.totals()
	a.references()
	a.repeats()
	a.blanks()
	a.series()
	a.slips()
	return a
}

// Notices tells what a person can act on.
func (a *Audit) Notices() source.Notices {
	var ns source.Notices
	a.tellTotals(&ns)
	a.tellLacking(&ns)
	a.tellReferences(&ns)
	a.tellRepeats(&ns)
	a.tellBlanks(&ns)
	a.tellSeries(&ns)
	a.tellBridges(&ns)
	a.tellSlips(&ns)
	return ns
}

// reading is one number of one row.
type reading struct {
	quantity.Quantity
	analyte string
	basis   string
	date    string
	step    float64 // to which it is printed, wt%
}

// key names what readings are put together: a method, what was read, and the
// analyte.
type key struct{ method, what, analyte string }

// heap gathers readings under their keys, in the order in which keys are met.
type heap struct {
	order []key
	by    map[key][]reading
}

func (h *heap) add(k key, r reading) {
	if h.by == nil {
		h.by = map[key][]reading{}
	}
	if _, seen := h.by[k]; !seen {
		h.order = append(h.order, k)
	}
	h.by[k] = append(h.by[k], r)
}

func readingOf(v sheet.Value, date string) reading {
	return reading{Quantity: v.Quantity, analyte: v.Analyte, basis: v.Basis, date: date, step: stepOf(v)}
}

// measured keeps the readings that hold a number.
func measured(rs []reading) []reading {
	return slices.DeleteFunc(slices.Clone(rs), func(r reading) bool { return !r.Known() })
}

func numbers(rs []reading) (xs, us []float64) {
	for _, r := range rs {
		xs, us = append(xs, r.Value), append(us, r.U)
	}
	return xs, us
}

func cells(rs []reading) (out []source.Cell) {
	for _, r := range rs {
		out = append(out, r.From...)
	}
	return out
}

// target is the standard deviation in wt% against which a value of an analyte
// is scored: the notebook's, else the modified Horwitz function.
func (a *Audit) target(analyte string, wt float64) (sigma float64, how string) {
	for id, rel := range a.campaign.Config.Quality.Targets {
		if quality.Same(id, analyte) {
			return rel * wt, "as the notebook asks"
		}
	}
	return quality.Target(wt), "modified Horwitz function"
}

// first returns the first of the addresses.
func first(cs []source.Cell) source.Cell {
	if len(cs) == 0 {
		return source.Cell{}
	}
	return cs[0]
}

// methods of the campaign's samples, in the order met.
func (a *Audit) methods() []string {
	var out []string
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			if !slices.Contains(out, x.Method) {
				out = append(out, x.Method)
			}
		}
	}
	return out
}
