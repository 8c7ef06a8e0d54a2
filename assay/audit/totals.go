package audit

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Totals are the sums of the analyses whose silica is by one method.
type Totals struct {
	Method string
	Limits quality.TotalLimits
	Sums   []SampleSum
}

// SampleSum is the sum of one sample's analysis.
type SampleSum struct {
	Sample  *assay.Sample
	Sum     chem.Sum
	Verdict quality.TotalVerdict
}

// Normalised is a table whose rows have been forced to sum to 100.
type Normalised struct {
	At   source.Cell // file and sheet
	Rows int
	Said bool // a text of the sheet says so
}

// limitsFor returns the limits of a method: the notebook's, else those of its
// kind.
func (a *Audit) limitsFor(method string) quality.TotalLimits {
	for m, l := range a.campaign.Config.Quality.Totals {
		if strings.EqualFold(m, method) {
			return l
		}
	}
	switch method {
	case assay.HandheldXRF:
		return quality.TotalLimits{}
	case assay.SEMEDS:
		return quality.AreaScan()
	}
	return quality.FullAnalysis()
}

func (a *Audit) totals() {
	a.sums = map[*assay.Sample]SampleSum{}
	normalised := map[int]bool{}
	for i, t := range a.campaign.Tables {
		n, ok := forced(t)
		said := n > 0 && saysNormalised.MatchString(strings.Join(slices.Concat(t.Title, t.Footnotes), "\n"))
		if ok || said {
			a.Normalised = append(a.Normalised, Normalised{source.Cell{File: t.File, Sheet: t.Sheet}, n, said})
			normalised[i] = true
		}
	}
	for _, s := range a.campaign.Samples {
		if s.Metallic() || !s.AsReported.Counts("SiO2") {
			continue
		}
		method := s.Chosen["SiO2"]
		i := slices.IndexFunc(a.Totals, func(t Totals) bool { return t.Method == method })
		if i < 0 {
			a.Totals = append(a.Totals, Totals{Method: method, Limits: a.limitsFor(method)})
			i = len(a.Totals) - 1
		}
		verdict := a.Totals[i].Limits.Judge(s.Total.Measured, s.Total.WithLimits)
		if slices.ContainsFunc(s.Assays, func(x assay.Assay) bool { return normalised[x.Table] && x.Method == method }) {
			verdict = quality.TotalNormalised
		}
		sum := SampleSum{s, s.Total, verdict}
		a.Totals[i].Sums = append(a.Totals[i].Sums, sum)
		a.sums[s] = sum
	}
}

var saysNormalised = regexp.MustCompile(`(?i)\bnormali[sz]ed\b`)

// forced reports a table whose samples all sum to 100, printed or computed.
func forced(t sheet.Table) (rows int, ok bool) {
	var printed, whole, noLoss []quality.Sum
	for row := range t.Rows() {
		if row.Role != sheet.RowSample {
			continue
		}
		parts, steps := partsOf(row.Values)
		if len(parts.Parts) < 4 { // no full analysis
			continue
		}
		rounding := quality.RoundingSD(steps)
		whole = append(whole, quality.Sum{Value: parts.Total().Measured, Rounding: rounding})
		noLoss = append(noLoss, quality.Sum{Value: parts.Without("LOI").Total().Measured, Rounding: rounding})
		if total := row.ReportedTotal; total != nil && total.Known() {
			printed = append(printed, quality.Sum{Value: total.Value})
		}
	}
	all := func(s []quality.Sum) bool { return len(s) == len(whole) && quality.Normalised(s) }
	return len(whole), all(printed) || all(whole) || all(noLoss)
}

// partsOf takes the values of a row as parts, each analyte once, with the steps
// to which they are printed.
func partsOf(values []sheet.Value) (c chem.Composition, steps []float64) {
	for _, v := range values {
		if _, twice := c.Get(v.Analyte); twice || !v.Known() {
			continue
		}
		c.Parts = append(c.Parts, chem.Part{ID: v.Analyte, Quantity: v.Quantity})
		steps = append(steps, stepOf(v))
	}
	return c, steps
}

// stepOf is the step in wt% to which a value is printed.
func stepOf(v sheet.Value) float64 {
	factor, ok := sheet.ToWt(v.Unit)
	if !ok {
		factor = 1
	}
	return factor * quality.Step(v.Raw)
}

// Outside returns the samples whose sum asks for a look, or worse.
func (t Totals) Outside() (out []SampleSum) {
	for _, s := range t.Sums {
		if s.Verdict == quality.TotalLook || s.Verdict == quality.TotalRefused {
			out = append(out, s)
		}
	}
	return out
}

// Range returns the least and the greatest sum.
func (t Totals) Range() (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range t.Sums {
		lo, hi = math.Min(lo, s.Sum.Measured), math.Max(hi, s.Sum.Measured)
	}
	return lo, hi
}

func (a *Audit) tellTotals(ns *source.Notices) {
	for _, n := range a.Normalised {
		ns.Add(source.Warning, "ALREADY_NORMALISED", n.At, "%s, so the totals test nothing; ask for the raw totals and publish them", n.Words())
	}
	for _, t := range a.Totals {
		if t.Limits == (quality.TotalLimits{}) {
			ns.Add(source.Note, "TOTALS_UNTESTED", source.Cell{}, "the totals of %d samples with major elements by %s test nothing: it does not see all elements", len(t.Sums), t.Method)
		}
	}
}

// Words says how the table is known to be normalised.
func (n Normalised) Words() string {
	if n.Said {
		return "the sheet says that its results were normalised"
	}
	return fmt.Sprintf("all %d rows sum to 100: the laboratory or its instrument has normalised them already", n.Rows)
}
