package audit

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay/quality"
	"smeltbook/assay/source"
)

// Series is a control read again and again: its chart.
type Series struct {
	Method, Material, Analyte string
	quality.Chart
	Dates []string // one a reading, empty where the sheet has none
	From  []source.Cell
	Dated bool // in the order of dates, else in that of the sheets
	// Biased tells that the readings as a whole lie off the certified value, so
	// that single ones beyond the limits say nothing new.
	Biased bool
}

// LeastSeries is the number of readings that make a chart.
const LeastSeries = 3

func (a *Audit) series() {
	var h heap
	for _, c := range a.campaign.Controls {
		if c.Blank {
			continue
		}
		for _, v := range c.Values {
			if v.Known() {
				h.add(key{c.Method, c.Base, v.Analyte}, readingOf(v, c.Date))
			}
		}
	}
	for _, k := range h.order {
		rs := slices.Clone(h.by[k])
		if len(rs) < LeastSeries {
			continue
		}
		s := Series{Method: k.method, Material: k.what, Analyte: k.analyte}
		s.Dated = !slices.ContainsFunc(rs, func(r reading) bool { return !isoDate(r.date) })
		if s.Dated {
			slices.SortStableFunc(rs, func(x, y reading) int { return strings.Compare(x.date, y.date) })
		}
		for _, r := range rs {
			s.Dates = append(s.Dates, r.date)
		}
		s.From = cells(rs)
		if coarse(rs) {
			continue
		}
		xs, _ := numbers(rs)
		s.Chart = quality.ChartOf(xs)
		for _, r := range a.References {
			if r.Method == k.method && r.Material == k.what && r.Analyte == k.analyte {
				s.Biased = r.Mark() != quality.MarkFine
				sd := r.Sigma
				if r.UCertified > 0 {
					sd = math.Hypot(sd, r.UCertified)
				}
				s.Chart = quality.ChartAbout(xs, r.Certified.Value, sd)
			}
		}
		a.Series = append(a.Series, s)
	}
}

// coarse reports readings printed to so few places that they step.
func coarse(rs []reading) bool {
	lo, hi := rs[0].Value, rs[0].Value
	for _, r := range rs {
		lo, hi = min(lo, r.Value), max(hi, r.Value)
	}
	return hi-lo < 3*rs[0].step
}

// isoDate reports a date that sorts as text.
func isoDate(s string) bool {
	return len(s) >= 10 && s[4] == '-' && s[7] == '-' && strings.Trim(s[:4]+s[5:7]+s[8:10], "0123456789") == ""
}

// seriesFor returns the charts of a method for an analyte.
func (a *Audit) seriesFor(method, analyte string) (out []Series) {
	for _, s := range a.Series {
		if s.Method == method && quality.Same(s.Analyte, analyte) {
			out = append(out, s)
		}
	}
	return out
}

// drifting reports a significant drift that matters: over the series it
// amounts to more than one standard deviation of the chart.
func (s Series) drifting() bool {
	return s.Drifts && math.Abs(s.Drift)*float64(len(s.Readings)-1) > s.SD
}

// Findings says what the chart shows; empty for nothing.
func (s Series) Findings() []string {
	var out []string
	for _, x := range s.signals() {
		at := fmt.Sprintf("reading %d", x.Index+1)
		if s.Dates[x.Index] != "" {
			at += " of " + s.Dates[x.Index]
		}
		out = append(out, at+" is "+x.Reason)
	}
	if s.drifting() {
		out = append(out, fmt.Sprintf("the readings drift by %.2g ± %.1g wt%% from one to the next", s.Drift, s.UDrift))
	}
	return out
}

// signals are those that the bias of the whole does not explain.
func (s Series) signals() []quality.Signal {
	if s.Biased {
		return nil
	}
	return s.Signals
}

// acts reports whether a chart asks for action.
func (s Series) acts() bool {
	return s.drifting() || slices.ContainsFunc(s.signals(), func(x quality.Signal) bool { return x.Act })
}

func (a *Audit) tellSeries(ns *source.Notices) {
	for _, s := range a.Series {
		if !s.acts() {
			continue
		}
		at := first(s.From)
		if x := s.signals(); len(x) > 0 && x[0].Index < len(s.From) {
			at = s.From[x[0].Index]
		}
		ns.Add(source.Warning, "CONTROL_CHART", at, "%s in %s by %s: %s; ask for the samples read about then to be read again", s.Analyte, s.Material, s.Method, strings.Join(s.Findings(), "; "))
	}
}
