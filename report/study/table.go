package study

import (
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/phase/index"
	"smeltbook/phase/slag"
)

// TableColumn is a column of the flat table.
type TableColumn struct {
	Key  string // lower_snake_case, ending in the unit
	Unit string // empty for text
	Is   string // what the column holds, in words
}

// Table is everything measured and computed, one row a sample. A cell is a
// string, a float64, a bool, or nil where there is nothing.
type Table struct {
	Columns []TableColumn
	Rows    [][]any
}

// Header returns the keys of the columns.
func (t Table) Header() []string {
	keys := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		keys[i] = c.Key
	}
	return keys
}

// Table returns the flat table. Every part has its value, its standard
// uncertainty and, where it holds no number, its class and limit.
func (s *Study) Table() Table {
	t := &tableBuilder{}
	parts := s.Parts(s.Campaign.Samples)
	near := s.nearestReplicas()
	for _, sample := range s.Campaign.Samples {
		t.begin()
		t.text("sample", "id of the sample", sample.ID)
		t.text("kind", "kind of sample: slag, ore, lining, …", sample.Kind)
		t.text("origin", "experimental, excavated or natural", sample.Origin)
		t.text("site", "site", sample.Site)
		t.text("context", "context of the find", sample.Context)
		t.text("run", "firing", sample.Run)
		t.text("basis", "basis of the composition, or why it is as reported", s.basisOf(sample))
		for _, id := range parts {
			q, ok := sample.Composition.Get(id)
			if !ok {
				q = missing("wt%")
			}
			t.quantity(strings.ToLower(id), "wt%", "wt_pct", id, q, true)
			t.text(strings.ToLower(id)+"_sd_from", "where the standard uncertainty of "+id+" comes from", q.UNote)
		}
		s.sums(t, sample)
		e, why, ok := s.Estimate(sample.ID)
		t.quantity("liquidus", "°C", "c", "liquidus temperature", orMissing(e.Liquidus, ok), false)
		t.number("liquidus_assay_sd_c", "°C", "standard uncertainty of the liquidus temperature from the analysis alone", orNaN(e.AssaySD, ok))
		t.number("liquidus_model_sd_c", "°C", "standard uncertainty of the liquidus temperature from the model alone", orNaN(e.ModelSD, ok))
		t.number("liquidus_limits_as_zero_c", "°C", "liquidus temperature with parts below detection as zero", orNaN(e.WithLimits[0], ok))
		t.number("liquidus_at_limits_c", "°C", "liquidus temperature with parts below detection at their limits", orNaN(e.WithLimits[1], ok))
		t.text("first_phase", "first crystals of the cooling melt", string(e.FirstPhase))
		t.quantity("t_90_molten", "°C", "c", "temperature at which 90 % is molten", orMissing(e.MoltenAt(0.9), ok), false)
		t.quantity("t_half_molten", "°C", "c", "temperature at which half is molten", orMissing(e.MoltenAt(0.5), ok), false)
		t.quantity("solidus", "°C", "c", "solidus temperature", orMissing(e.Solidus(), ok), false)
		var inRange any
		if ok {
			inRange = e.InRange
		}
		t.put("in_range", "", "whether the composition lies in the range of the liquidus model", inRange)
		for _, x := range Indices() {
			v, found := e.Index(x.Key)
			t.quantity(x.Key, "1", "", x.Label+" ("+x.Source+")", orMissing(v.Quantity, found), false)
		}
		s.copper(t, sample)
		s.furnaceColumns(t, sample)
		n, ok := near[sample.ID]
		t.nearestColumns(n, ok)
		t.text("warnings", "what was said about the estimates of the sample", strings.Join(s.warnings(sample), "; "))
		t.text("not_estimated_because", "why there are no estimates of the melt", why)
	}
	return t.table
}

func (s *Study) basisOf(sample *assay.Sample) string {
	if sample.Incomplete != "" {
		return "as reported: " + sample.Incomplete
	}
	if b := s.Campaign.Config.Recipe.Basis; b != "" {
		return string(b)
	}
	return "normalised"
}

// sums are those before and after the recipe, as pairs where parts are below
// detection, with the corrections that stand between.
func (s *Study) sums(t *tableBuilder, sample *assay.Sample) {
	before, after, printed := nanSum(), nanSum(), missing("wt%")
	if sample.Incomplete == "" {
		after = sample.Total
		before = sample.Steps[0].Total
		if q, ok := sample.PrintedTotal(); ok {
			printed = q
		}
	}
	correction := func(id string) float64 {
		q, _ := sample.Composition.Get(id)
		return q.Or(math.NaN())
	}
	t.number("oxygen_for_s_wt_pct", "wt%", "oxygen taken off for sulphur", correction("O=S"))
	t.number("oxygen_for_f_cl_wt_pct", "wt%", "oxygen taken off for fluorine and chlorine", correction("O=FCl"))
	t.number("total_printed_wt_pct", "wt%", "sum that the laboratory printed", printed.Or(math.NaN()))
	t.number("total_as_given_wt_pct", "wt%", "sum of the parts as given", before.Measured)
	t.number("total_wt_pct", "wt%", "sum as oxides, parts below detection as zero", after.Measured)
	t.number("total_sd_wt_pct", "wt%", "standard uncertainty of the sum", after.U)
	t.number("total_with_limits_wt_pct", "wt%", "sum as oxides, parts below detection at their limits", after.WithLimits)
}

func nanSum() chem.Sum { return chem.Sum{Measured: math.NaN(), WithLimits: math.NaN(), U: math.NaN()} }

// furnaceColumns are the variables of the furnace models at the study's
// conditions.
func (s *Study) furnaceColumns(t *tableBuilder, sample *assay.Sample) {
	suffix := map[string]string{"wt%": "wt_pct", "Pa·s": "pa_s", "g/cm³": "g_cm3", "°C": "c"}
	t.number("furnace_at_c", "°C", "temperature for which the furnace values hold", s.Conditions.TC)
	for _, f := range furnaceVariables() {
		q := f.of(s, sample, s.Conditions.TC)
		key := strings.TrimSuffix(f.key, "_"+suffix[f.unit])
		if !strings.HasSuffix(key, "_low") && !strings.HasSuffix(key, "_high") {
			t.quantity(key, f.unit, suffix[f.unit], f.label, q, false)
			continue
		}
		if x := suffix[f.unit]; x != "" { // ends of intervals have no uncertainty of their own
			key += "_" + x
		}
		t.number(key, f.unit, f.label, q.Or(math.NaN()))
	}
}

// Indices returns what indices there are, computed for fayalite: their keys and
// labels do not depend on the melt.
func Indices() []index.Value {
	var fayalite slag.Wt
	fayalite[slag.SiO2], fayalite[slag.FeO] = 29.5, 70.5
	return index.TableOf(slag.FromWt(fayalite), 0, 0)
}

// indexKeys returns the keys of the indices in order.
func (s *Study) indexKeys() []string {
	var keys []string
	for _, v := range Indices() {
		keys = append(keys, v.Key)
	}
	return keys
}

func (s *Study) copper(t *tableBuilder, sample *assay.Sample) {
	nan := math.NaN()
	total, lo, hi, restLo, restHi := missing("wt%"), nan, nan, nan, nan
	if e, _, ok := s.Estimate(sample.ID); ok && e.Copper != nil {
		l := e.Copper
		total, lo, hi, restLo, restHi = l.Total, l.Dissolved.Lo, l.Dissolved.Hi, l.Rest.Lo, l.Rest.Hi
	}
	t.quantity("cu_total", "wt%", "wt_pct", "copper in the slag", total, false)
	t.number("cu_at_c", "°C", "temperature for which dissolved copper holds", s.Conditions.TC)
	t.number("cu_log_po2_low", "log bar", "lower end of log10 of the oxygen pressure for which dissolved copper holds", s.Conditions.LogPO2[0])
	t.number("cu_log_po2_high", "log bar", "upper end of it", s.Conditions.LogPO2[1])
	t.number("cu_dissolved_low_wt_pct", "wt%", "least copper dissolved in the melt", lo)
	t.number("cu_dissolved_high_wt_pct", "wt%", "greatest copper dissolved in the melt", hi)
	t.number("cu_not_dissolved_low_wt_pct", "wt%", "least copper that is not dissolved", restLo)
	t.number("cu_not_dissolved_high_wt_pct", "wt%", "greatest copper that is not dissolved", restHi)
}

// warnings returns the sentences about a sample's estimate.
func (s *Study) warnings(sample *assay.Sample) []string {
	var out []string
	e, _, ok := s.Estimate(sample.ID)
	if !ok {
		return out
	}
	for _, n := range e.Notices {
		out = append(out, n.Message)
	}
	return out
}

func orMissing(q quantity.Quantity, ok bool) quantity.Quantity {
	if !ok {
		return missing(q.Unit)
	}
	return q
}

func orNaN(x float64, ok bool) float64 {
	if !ok {
		return math.NaN()
	}
	return x
}

// tableBuilder collects columns from the first row; later rows put the same
// cells in the same order.
type tableBuilder struct {
	table Table
}

func (t *tableBuilder) begin() { t.table.Rows = append(t.table.Rows, nil) }

func (t *tableBuilder) put(key, unit, is string, v any) {
	n := len(t.table.Rows)
	row := &t.table.Rows[n-1]
	if n == 1 {
		t.table.Columns = append(t.table.Columns, TableColumn{key, unit, is})
	}
	*row = append(*row, v)
}

func (t *tableBuilder) text(key, is, v string) {
	if v == "" {
		t.put(key, "", is, nil)
		return
	}
	t.put(key, "", is, v)
}

func (t *tableBuilder) number(key, unit, is string, v float64) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		t.put(key, unit, is, nil)
		return
	}
	t.put(key, unit, is, v)
}

// quantity puts value and standard uncertainty, and with classes also what
// stands in place of a number.
func (t *tableBuilder) quantity(key, unit, suffix, is string, q quantity.Quantity, classes bool) {
	if suffix != "" {
		suffix = "_" + suffix
	}
	value := math.NaN()
	if q.Known() {
		value = q.Value
	}
	t.number(key+suffix, unit, is, value)
	t.number(key+"_sd"+suffix, unit, "standard uncertainty (k = 1) of "+is, q.U)
	if classes {
		t.text(key+"_class", "why there is no number for "+is+": "+quantity.ClassWords, string(q.Class))
		limit := math.NaN()
		if !q.Known() {
			limit = q.Limit
		}
		t.number(key+"_limit"+suffix, unit, "limit below or above which "+is+" lies", limit)
	}
}

// Records returns the table for JSON: the flat keys of each row, and the
// composition again by analyte with method and cells.
func (s *Study) Records() []map[string]any {
	t := s.Table()
	out := make([]map[string]any, len(t.Rows))
	for i, row := range t.Rows {
		r := map[string]any{}
		for j, c := range t.Columns {
			r[c.Key] = row[j]
		}
		sample := s.Campaign.Samples[i]
		r["composition"] = compositionJSON(sample)
		r["warnings"] = append([]string{}, s.warnings(sample)...)
		out[i] = r
	}
	return out
}

func compositionJSON(sample *assay.Sample) map[string]any {
	out := map[string]any{}
	for _, p := range sample.Composition.Parts {
		cells := []string{}
		for _, c := range p.From {
			cells = append(cells, c.String())
		}
		v := map[string]any{"wt_pct": jsonNumber(p.Or(math.NaN())), "sd_wt_pct": jsonNumber(p.U),
			"class": string(p.Class), "limit_wt_pct": nil, "method": sample.Chosen[p.ID], "sd_from": p.UNote, "cells": cells}
		if !p.Known() {
			v["limit_wt_pct"] = jsonNumber(p.Limit)
		}
		out[p.ID] = v
	}
	return out
}

func jsonNumber(x float64) any {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return x
}
