package assay

import (
	"fmt"
	"math"
	"slices"

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

// reduce turns the assays of a sample into its composition by the recipe:
// choose, combine replicates, state as oxides, judge the total, bring to the
// basis. What cannot be done is said in the sample's Incomplete or as a
// notice; numbers are never invented.
func (s *Sample) reduce(cfg Config, notices *source.Notices) {
	parts, chosen := choose(s.Assays, cfg.Recipe)
	s.Iron = cfg.Recipe.ironFor(s.Kind, parts)
	merged, err := chem.NewComposition(parts...)
	if err != nil {
		notices.Add(source.Error, "COMPOSITION", s.At, "sample %s: %v; correct the sheet", s.ID, err)
		s.Incomplete = err.Error()
		return
	}
	s.Ferrous, _ = merged.Get("FeO")
	s.Ferric, _ = merged.Get("Fe2O3")
	s.AsReported = copperForm(merged, s.Kind)
	if !metallic(s.Kind) {
		s.AsReported = s.AsReported.AsOxides(s.Iron)
	}
	s.AsReportedBasis = cfg.Recipe.Basis == chem.Reported
	s.Chosen = map[string]string{}
	for _, p := range s.AsReported.Parts {
		s.Chosen[p.ID] = chosen[groupOf(p.ID)]
	}
	s.Total = s.closing().Total()
	if s.Incomplete = s.whyIncomplete(); s.Incomplete != "" {
		s.Composition = s.AsReported
		if len(s.Assays) > 0 && !metallic(s.Kind) {
			notices.Add(source.Warning, "INCOMPLETE", s.At, "sample %s is left out of compositions and estimates: %s", s.ID, s.Incomplete)
		}
		return
	}
	s.judgeTotal(cfg.Recipe, notices)
	basis := cfg.Recipe.Basis
	if basis == "" {
		basis = chem.Normalised
	}
	c, err := s.AsReported.On(basis)
	if err != nil {
		notices.Add(source.Error, "BASIS", s.At, "sample %s: %v", s.ID, err)
		s.Incomplete = err.Error()
		return
	}
	s.Composition = c
}

// ironFor returns the form in which iron is stated: the recipe's for the kind
// of sample, else FeO for slag and Fe2O3 for all else. A sample of no stated
// kind keeps the form of the laboratory.
func (r Recipe) ironFor(kind string, parts []chem.Part) chem.Iron {
	if iron, ok := r.Iron[kind]; ok {
		return iron
	}
	switch kind {
	case Slag:
		return chem.AsFeO
	case "":
		for _, p := range parts {
			if p.ID == "FeOT" || p.ID == "FeO" {
				return chem.AsFeO
			}
		}
	}
	return chem.AsFe2O3
}

// metallic reports whether samples of a kind hold elements, not oxides.
func metallic(kind string) bool {
	return kind == Metal || kind == Prill || kind == Matte
}

// groupOf names what an analyte is a statement about, so that "CuO" by one
// method and "Cu" by another are seen as two answers to one question, while
// titrated ferrous iron and total iron are two questions.
func groupOf(id string) string {
	a, ok := chem.LookupAnalyte(id)
	if !ok {
		return id
	}
	switch a.Kind {
	case chem.Oxide, chem.OxideTotal, chem.Element:
		if id == "FeO" || id == "Fe2O3" {
			return id
		}
		return a.Element
	}
	return id
}

// choose takes for every group of analytes the values of the most trusted
// method that has a number there, or failing that a limit.
func choose(assays []Assay, r Recipe) (parts []chem.Part, chosen map[string]string) {
	type candidate struct {
		method string
		values []chem.Part
	}
	groups := map[string][]candidate{}
	var order []string
	for _, a := range assays {
		for _, v := range a.Values {
			if v.Class == quantity.Missing || v.Class == quantity.NotRun || v.Class == quantity.Unusable {
				continue
			}
			g := groupOf(v.Analyte)
			method := a.Method
			if v.Method != "" {
				method = recogniseMethod(v.Method, a.Method)
			}
			list, seen := groups[g]
			if !seen {
				order = append(order, g)
			}
			i := slices.IndexFunc(list, func(c candidate) bool { return c.method == method })
			if i < 0 {
				list = append(list, candidate{method: method})
				i = len(list) - 1
			}
			list[i].values = append(list[i].values, chem.Part{ID: v.Analyte, Quantity: v.Quantity})
			groups[g] = list
		}
	}
	chosen = map[string]string{}
	for _, g := range order {
		list := groups[g]
		slices.SortStableFunc(list, func(a, b candidate) int {
			if known := boolRank(anyKnown(b.values)) - boolRank(anyKnown(a.values)); known != 0 {
				return known
			}
			return r.rank(a.method) - r.rank(b.method)
		})
		best := list[0]
		parts = append(parts, combineReplicates(best.values))
		chosen[g] = best.method
	}
	ironOrigin(parts, chosen)
	return parts, chosen
}

// ironOrigin records for the printed iron forms which method they came from:
// a stated total, else the ferrous and ferric determinations.
func ironOrigin(parts []chem.Part, chosen map[string]string) {
	from := chosen["Fe"]
	if from == "" {
		from = chosen["FeO"]
	}
	if from == "" {
		from = chosen["Fe2O3"]
	}
	if from != "" {
		chosen["FeO"], chosen["Fe2O3"] = from, from
	}
}

func anyKnown(ps []chem.Part) bool {
	return slices.ContainsFunc(ps, func(p chem.Part) bool { return p.Known() })
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}

// combineReplicates averages repeated determinations of one analyte by one
// method. They share a calibration, so the standard uncertainty of their mean
// is no less than that of one of them (root mean square), and no less than
// their scatter over √n. Replicates below a limit are left out beside numbers.
func combineReplicates(ps []chem.Part) chem.Part {
	first := ps[0]
	var xs, us []float64
	var from []source.Cell
	for _, p := range ps {
		if p.ID != first.ID { // the same element stated twice in two forms: one determination, not two
			continue
		}
		if p.Known() {
			xs, us = append(xs, p.Value), append(us, p.U)
			from = append(from, p.From...)
		}
	}
	switch len(xs) {
	case 0:
		return first
	case 1:
		i := slices.IndexFunc(ps, func(p chem.Part) bool { return p.ID == first.ID && p.Known() })
		return ps[i]
	}
	n := float64(len(xs))
	var mean, stated, scatter float64
	for i := range xs {
		mean += xs[i] / n
		stated += us[i] * us[i] / n
	}
	for _, x := range xs {
		scatter += (x - mean) * (x - mean) / (n - 1)
	}
	u := math.Sqrt(math.Max(stated, scatter/n))
	if math.IsNaN(stated) {
		u = math.Sqrt(scatter / n)
	}
	return chem.Part{ID: first.ID, Quantity: quantity.WithU(mean, u, "wt%",
		fmt.Sprintf("mean of %d determinations; %s", len(xs), first.UNote), from...)}
}

// copperForm states copper as the element in slag, where it is partly metal,
// and as CuO in ore and clay, where it is an oxide or carbonate (common
// practice). Metal and matte are left as they are.
func copperForm(c chem.Composition, kind string) chem.Composition {
	to := "CuO"
	if kind == Slag || metallic(kind) {
		to = "Cu"
	}
	out := chem.Composition{}
	for _, p := range c.Parts {
		if p.ID == "Cu" || p.ID == "CuO" || p.ID == "Cu2O" {
			if f, err := chem.Factor(p.ID, to); err == nil {
				p = chem.Part{ID: to, Quantity: p.Scale(f, "wt%")}
			}
		}
		out.Parts = append(out.Parts, p)
	}
	sorted, err := chem.NewComposition(out.Parts...)
	if err != nil {
		return c
	}
	return sorted
}

// closing returns the parts whose sum should be 100. The gain on ignition of a
// slag stated as FeO comes from that iron and is not a part of it.
func (s *Sample) closing() chem.Composition {
	if loi, ok := s.AsReported.Get("LOI"); ok && s.Iron == chem.AsFeO && loi.Known() && loi.Value < 0 {
		return s.AsReported.Without("LOI")
	}
	return s.AsReported
}

// whyIncomplete says why the analysis cannot stand for the whole sample.
func (s *Sample) whyIncomplete() string {
	if metallic(s.Kind) {
		return "a " + s.Kind + " is not made of oxides"
	}
	if len(s.Assays) == 0 {
		return "no analysis"
	}
	silica, ok := s.AsReported.Get("SiO2")
	switch {
	case !ok:
		return "silica was not determined"
	case !silica.Known() && s.Total.Measured == 0:
		return "no part was found above its limit of detection"
	}
	if s.Chosen["SiO2"] == HandheldXRF {
		return "major elements only by handheld XRF, which does not see all of them"
	}
	return ""
}

// Accepts reports whether a sample's analysis may be used whatever its sum.
func (r Recipe) Accepts(sample string) bool {
	return slices.Contains(r.AcceptTotals, "all") || slices.ContainsFunc(r.AcceptTotals, func(id string) bool {
		return sampleKey(id) == sampleKey(sample)
	})
}

func (s *Sample) judgeTotal(r Recipe, notices *source.Notices) {
	lo, hi := s.Total.Measured, s.Total.WithLimits
	accepted := r.Accepts(s.ID)
	switch {
	case (hi < totalUseLow || lo > totalUseHigh) && !accepted:
		notices.Add(source.Error, "TOTAL_OUT_OF_RANGE", s.totalCell(),
			"sample %s sums to %.1f wt%% with iron as %s, outside %d to %d: look for a missing column, a wrong unit or an element read as oxide; if the analysis is to be used all the same, write `accept_totals: [%s]` under `recipe:` in the notebook",
			s.ID, lo, s.Iron, totalUseLow, totalUseHigh, s.ID)
	case hi < totalGoodLow || lo > totalGoodHigh:
		notices.Add(source.Warning, "TOTAL_OUT_OF_RANGE", s.totalCell(),
			"sample %s sums to %.1f wt%% with iron as %s, outside %.1f to %.1f: normalising hides what is missing", s.ID, lo, s.Iron, totalGoodLow, totalGoodHigh)
	}
}

// totalCell is the address at which the user should look: the row of the
// analysis that gave silica.
func (s *Sample) totalCell() source.Cell {
	if q, ok := s.AsReported.Get("SiO2"); ok && len(q.From) > 0 {
		return q.From[0]
	}
	return s.At
}
