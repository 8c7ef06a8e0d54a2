package wetlab

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// criticalRange gives, by the number of results, the range that 95 % of
// replicates keep within, in repeatability standard deviations (ISO 5725-6,
// table of f(n); from memory, sure).
var criticalRange = []float64{0, 0, 2.8, 3.3, 3.6, 3.9, 4.0, 4.2, 4.3, 4.4, 4.5}

// Combined is the value that repeated determinations of one analyte in one
// sample by one method come to.
type Combined struct {
	Results []Result
	Value   quantity.Quantity // wt%
	Rule    string            // how they were combined
	Notices source.Notices
}

// Combine joins the results of replicates, those that hold a number, after
// ISO 5725-6: the mean where their range is within the critical range of the
// repeatability, of three or more else the median. The uncertainty that
// replicates share (titrant, balance, glass) does not shrink with their number;
// that of repetition is the larger of the stated one and their scatter, over
// √n. It returns a value without number where there is no result.
func Combine(results []Result) Combined {
	c := Combined{}
	for _, r := range results {
		if r.Value.Known() {
			c.Results = append(c.Results, r)
		}
	}
	n := len(c.Results)
	if n == 0 {
		c.Value = quantity.None(quantity.Unusable, math.NaN(), "wt%")
		return c
	}
	first := c.Results[0]
	if n == 1 {
		c.Value, c.Rule = first.Value, "one determination"
		return c
	}
	var xs []float64
	var mean, shared, repeat float64
	for _, r := range c.Results {
		xs = append(xs, r.Value.Value)
		mean += r.Value.Value / float64(n)
		shared += math.Max(r.Value.U*r.Value.U-r.RepeatabilityU*r.RepeatabilityU, 0) / float64(n)
		repeat += r.RepeatabilityU * r.RepeatabilityU / float64(n)
	}
	var scatter float64
	for _, x := range xs {
		scatter += (x - mean) * (x - mean) / float64(n-1)
	}
	slices.Sort(xs)
	value, spread := mean, math.Max(repeat, scatter)/float64(n)
	c.Rule = fmt.Sprintf("mean of %d determinations", n)
	limit := criticalRange[min(n, len(criticalRange)-1)] * math.Sqrt(repeat)
	if got := xs[n-1] - xs[0]; limit > 0 && got > limit {
		what := "do a third and a fourth"
		if n > 2 {
			value = (xs[(n-1)/2] + xs[n/2]) / 2
			spread = scatter / float64(n) * math.Pi / 2
			c.Rule = fmt.Sprintf("median of %d determinations", n)
			what = "look for a blunder"
		}
		c.Notices.Add(source.Warning, "REPLICATES_APART", first.At, "the %d determinations of %s lie %.2g wt%% apart, more than the %.2g wt%% that repeatability (%s) allows, so the %s was taken; %s",
			n, first.Determination, got, limit, first.RepeatabilityBy, c.Rule, what)
	}
	var from []source.Cell
	for _, r := range c.Results {
		from = append(from, r.Value.From...)
	}
	c.Value = quantity.WithU(value, math.Sqrt(shared+spread), "wt%", c.Rule+" (ISO 5725-6); "+first.Value.UNote, from...)
	return c
}
