package assay

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Limits for the sum of a complete analysis, wt% (common practice; fused beads
// with ignition loss).
const (
	totalGoodLow, totalGoodHigh = 98.5, 101.5
	totalUseLow, totalUseHigh   = 95, 105
)

func (s *Sample) judgeTotal(r Recipe, notices *source.Notices) {
	lo, hi := s.Total.Measured, s.Total.WithLimits
	if r.LOI == LOIVolatiles { // an upper bound proves no excess
		lo = min(lo, s.AsReported.Without("LOI").Total().Measured)
	}
	switch {
	case (hi < totalUseLow || lo > totalUseHigh) && !r.Accepts(s.ID):
		notices.Add(source.Error, "TOTAL_OUT_OF_RANGE", s.totalCell(),
			"sample %s sums to %s wt%% with iron as %s, outside %d to %d: look for a missing column, a wrong unit or an element read as oxide; if the analysis is to be used all the same, write `accept_totals: [%s]` under `recipe:` in the notebook",
			s.ID, sumText(s.Total), s.Iron, totalUseLow, totalUseHigh, s.ID)
	case hi < totalGoodLow || lo > totalGoodHigh:
		notices.Add(source.Warning, "TOTAL_OUT_OF_RANGE", s.totalCell(),
			"sample %s sums to %s wt%% with iron as %s, outside %.1f to %.1f: normalising hides what is missing", s.ID, sumText(s.Total), s.Iron, totalGoodLow, totalGoodHigh)
	}
}

// sumText prints a sum, or the pair of sums with zero and with the limits.
func sumText(t chem.Sum) string {
	lo, hi := fmt.Sprintf("%.1f", t.Measured), fmt.Sprintf("%.1f", t.WithLimits)
	if lo == hi {
		return lo
	}
	return lo + " to " + hi
}

// totalCell is the address at which the user should look: the row of the
// analysis that gave silica.
func (s *Sample) totalCell() source.Cell {
	if q, ok := s.AsReported.Get("SiO2"); ok && len(q.From) > 0 {
		return q.From[0]
	}
	return s.At
}

// judgeIron warns where ferrous iron from one table exceeds total iron from
// another beyond the tolerance 2·√(u²(T) + 1.235 u²(FeO)), and where metallic
// iron exceeds the total. Nothing is clipped. A table with both was judged when
// it was read.
func (s *Sample) judgeIron(c chem.Composition, notices *source.Notices) {
	if metal, total, yes := c.MetalAboveTotal(); yes {
		notices.Add(source.Warning, "IRON_INCONSISTENT", s.At, "sample %s: metallic iron is %.2f wt%%, but all iron only %.2f; metallic iron is not used, check both", s.ID, metal, total)
	}
	q, ok := c.FerricByDifference()
	if !ok || !q.HasU() || q.Value >= -2*q.U || oneTable(q.From) {
		return
	}
	notices.Add(source.Warning, "IRON_INCONSISTENT", s.At, "sample %s: total iron less titrated FeO leaves %.2f wt%% Fe2O3, below zero by more than the tolerance of %.2f; check both, one is wrong or the total misses iron", s.ID, q.Value, 2*q.U)
}

func oneTable(cells []source.Cell) bool {
	for _, c := range cells {
		if c.File != cells[0].File || c.Sheet != cells[0].Sheet {
			return false
		}
	}
	return true
}

// Ignition limits for warnings (common practice).
const (
	ferrousSlag    = 20.0 // wt% FeO above which a slag should gain on ignition
	mixedBasesLoss = 2.0  // wt% LOI above which a sum without it near 100 is suspect
)

// tellIgnition warns, once for each sign, of ignition losses that do not fit
// the kind of sample, and of sums that point to oxides measured on ignited
// powder.
func (c *Campaign) tellIgnition() {
	var lossy, gaining, mixed, lost []string
	var at [4]source.Cell
	note := func(list *[]string, i int, s *Sample, q quantity.Quantity) {
		if len(*list) == 0 && len(q.From) > 0 {
			at[i] = q.From[0]
		}
		*list = append(*list, s.ID)
	}
	for _, s := range c.Samples {
		loi, _ := s.Merged.Get("LOI")
		ignited := s.ignited()
		if ignited && !loi.Known() {
			note(&lost, 3, s, quantity.Quantity{From: []source.Cell{s.At}})
		}
		if !loi.Known() || s.Incomplete != "" {
			continue
		}
		margin := 0.0
		if loi.HasU() {
			margin = 2 * loi.U
		}
		feo, _ := s.AsReported.Get("FeO")
		switch {
		case s.Kind == Slag && feo.Or(0) > ferrousSlag && loi.Value > margin:
			note(&lossy, 0, s, loi)
		case s.Kind != Slag && s.Kind != "" && loi.Value < -margin:
			note(&gaining, 1, s, loi)
		}
		bare := s.AsReported.Without("LOI").Total().Measured
		if !ignited && loi.Value > mixedBasesLoss && math.Abs(bare-100) < 1.5 && s.Total.Measured > totalGoodHigh {
			note(&mixed, 2, s, loi)
		}
	}
	if len(lossy) > 0 {
		c.Notices.Add(source.Warning, "LOI_OF_SLAG", at[0], "slag with more than %g wt%% FeO should gain on ignition, but there is a loss in %s: look for charcoal, sulphide or weathering", ferrousSlag, sampleList(lossy))
	}
	if len(gaining) > 0 {
		c.Notices.Add(source.Warning, "LOI_NEGATIVE", at[1], "clay and ore lose on ignition, but there is a gain in %s: look for a sign turned round, metal, or a slag among them", sampleList(gaining))
	}
	if len(mixed) > 0 {
		c.Notices.Add(source.Warning, "MIXED_BASES", at[2], "the oxides of %s sum to about 100 wt%% without the ignition loss: they were likely measured on ignited powder, and iron in them is all ferric; if so write `ignited: [%s]` under `recipe:` in the notebook",
			sampleList(mixed), strings.Join(c.tablesOf(mixed), ", "))
	}
	if len(lost) > 0 {
		c.Notices.Add(source.Error, "NO_LOI", at[3], "the oxides of %s are said to be of ignited powder, but no loss on ignition was measured to bring them to the dry sample; add it, or take the file out of `ignited:`", sampleList(lost))
	}
}

func (s *Sample) ignited() bool {
	for _, a := range s.Assays {
		if a.Ignited {
			return true
		}
	}
	return false
}

// tablesOf names the files that gave silica for samples.
func (c *Campaign) tablesOf(ids []string) []string {
	var files []string
	seen := map[string]bool{}
	for _, id := range ids {
		s, _ := c.Sample(id)
		if file := s.totalCell().File; !seen[file] {
			seen[file] = true
			files = append(files, file)
		}
	}
	return files
}

// checkRecipe tells of samples and files that the recipe names and nobody has.
func (c *Campaign) checkRecipe() {
	for _, m := range c.Config.Recipe.Metal {
		if _, ok := c.Sample(m.Sample); !ok {
			c.Notices.Add(source.Error, "UNKNOWN_SAMPLE", source.Line(NotebookName, m.Line), "the recipe's metal names sample %q, which is not in the campaign%s", m.Sample, source.DidYouMean(m.Sample, c.SampleIDs()))
		}
	}
	for _, id := range c.Config.Recipe.AcceptTotals {
		if _, ok := c.Sample(id); !ok && id != "all" {
			c.Notices.Add(source.Warning, "UNKNOWN_SAMPLE", source.Cell{File: NotebookName}, "the recipe accepts the total of sample %q, which is not in the campaign%s", id, source.DidYouMean(id, c.SampleIDs()))
		}
	}
	var tables []string
	for _, t := range c.Tables {
		tables = append(tables, t.File)
		if t.Sheet != "" {
			tables = append(tables, t.File+"#"+t.Sheet)
		}
	}
	for i, name := range c.Config.Recipe.Ignited {
		found := false
		for _, t := range tables {
			found = found || t == name
		}
		if !found {
			c.Notices.Add(source.Error, "MISSING_FILE", lineOf(c.Config.Recipe.IgnitedLines, i), "the recipe says that %q was measured on ignited powder, but there is no such table%s", name, source.DidYouMean(name, tables))
		}
	}
}
