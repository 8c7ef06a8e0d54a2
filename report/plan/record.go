package plan

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/phase/charge"
	"smeltbook/report/caution"
)

// Record is a plan for programs: keys in lower_snake_case that end in their
// unit. A null is a number that is not known.
type Record struct {
	Title    string          `json:"title"`
	Met      bool            `json:"target_met"`
	Batches  int             `json:"batches"`
	Ore      *float64        `json:"ore_batch_kg"`
	Scale    *float64        `json:"scale_sd_kg"`
	Aim      string          `json:"aim"`
	At       *float64        `json:"at_c"`
	Seed     uint64          `json:"seed"`
	Draws    int             `json:"draws"`
	Weights  []WeightRecord  `json:"weights"`
	Target   []TermRecord    `json:"target"`
	Slag     []PartRecord    `json:"slag"`
	SlagKg   *float64        `json:"slag_batch_kg"`
	SlagSD   *float64        `json:"slag_batch_sd_kg"`
	MetalKg  *float64        `json:"metal_batch_kg"`
	MetalSD  *float64        `json:"metal_batch_sd_kg"`
	Won      *float64        `json:"copper_won_pct"`
	WonSD    *float64        `json:"copper_won_sd_pct"`
	Fluxing  *FluxingRecord  `json:"flux_factor"`
	HeatMJ   *float64        `json:"heat_mj"`
	HeatSD   *float64        `json:"heat_sd_mj"`
	Floor    *float64        `json:"charcoal_floor_kg"`
	WhatIf   []VariantRecord `json:"what_if"`
	Ways     []WayRecord     `json:"what_it_would_take"`
	Cautions []CautionRecord `json:"cautions"`
	Assumed  []string        `json:"assumed"`
	Warnings []string        `json:"warnings"`
}

// WeightRecord is what is to be weighed of a stock.
type WeightRecord struct {
	Stock   string   `json:"stock"`
	Kind    string   `json:"kind"`
	Batch   *float64 `json:"batch_kg"`
	BatchSD *float64 `json:"batch_sd_kg"`
	Total   *float64 `json:"total_kg"`
	TotalSD *float64 `json:"total_sd_kg"`
	PerOre  *float64 `json:"per_ore_kg_kg"`
	Store   *float64 `json:"store_kg"`
}

// TermRecord is a value of the slag and what was asked of it. The unit stands
// in the key: value_c, value_pa_s, value_wt_pct or value.
type TermRecord map[string]any

// PartRecord is an oxide of the slag.
type PartRecord struct {
	Oxide string   `json:"oxide"`
	Wt    *float64 `json:"wt_pct"`
	SD    *float64 `json:"sd_wt_pct"`
}

// FluxingRecord is by how much all fluxes have to be multiplied to be just on
// the target.
type FluxingRecord struct {
	SD    *float64 `json:"sd"`
	Low   *float64 `json:"low_95"`
	High  *float64 `json:"high_95"`
	Nine  *float64 `json:"nine_in_ten"`
	Never *float64 `json:"unreachable_share"`
}

// VariantRecord is the charge with one thing changed.
type VariantRecord struct {
	What      string   `json:"what"`
	Liquidus  *float64 `json:"liquidus_c"`
	Viscosity *float64 `json:"viscosity_pa_s"`
	FeOSiO2   *float64 `json:"feo_sio2"`
	CaOSiO2   *float64 `json:"cao_sio2"`
	SlagKg    *float64 `json:"slag_batch_kg"`
	CopperKg  *float64 `json:"copper_won_batch_kg"`
	Met       bool     `json:"target_met"`
	Factor    *float64 `json:"flux_factor"`
}

// WayRecord is one change that was tried.
type WayRecord struct {
	Text    string `json:"text"`
	Reached bool   `json:"reaches"`
}

// CautionRecord is one thing that can hurt.
type CautionRecord struct {
	Code string `json:"code"`
	Text string `json:"text"`
	// Behind says what goes before it.
	Behind string `json:"behind"`
}

// Record returns the plan for programs.
func (p *Plan) Record() Record {
	r := Record{Title: p.Title, Met: p.Met, Batches: p.Batches, Ore: quantity.OrNull(p.Batch), Scale: quantity.OrNull(p.Scale), Aim: p.Aim, At: quantity.OrNull(p.AtC),
		Seed: p.Behaviour.Seed, Draws: p.Behaviour.Draws, HeatMJ: quantity.OrNull(p.Heat.Need.Value), HeatSD: quantity.OrNull(p.Heat.Need.U), Floor: quantity.OrNull(p.Heat.Floor.Value),
		Weights: []WeightRecord{}, Target: []TermRecord{}, Slag: []PartRecord{}, WhatIf: []VariantRecord{}, Ways: []WayRecord{},
		Assumed: append([]string{}, p.Assumed...), Warnings: []string{}}
	r.SlagKg, r.SlagSD = p.Slag.Slag.OrNull()
	r.MetalKg, r.MetalSD = p.Slag.Metal.OrNull()
	r.Won, r.WonSD = p.Slag.Won.OrNull()
	for _, w := range append(p.Weights[:len(p.Weights):len(p.Weights)], p.Fuel) {
		x := WeightRecord{Stock: w.Name, Kind: w.Kind, PerOre: quantity.OrNull(w.Share), Store: w.Store}
		x.Batch, x.BatchSD = w.Batch.OrNull()
		x.Total, x.TotalSD = w.Total.OrNull()
		r.Weights = append(r.Weights, x)
	}
	for _, o := range p.Outcomes {
		r.Target = append(r.Target, o.record())
	}
	for _, part := range p.Slag.Parts {
		x, sd := part.Wt.OrNull()
		r.Slag = append(r.Slag, PartRecord{part.ID, x, sd})
	}
	if f := p.Fluxing; f.Known {
		r.Fluxing = &FluxingRecord{quantity.OrNull(f.SD), quantity.OrNull(f.Low), quantity.OrNull(f.High), quantity.OrNull(f.Nine), quantity.OrNull(f.Never)}
	}
	for _, v := range p.WhatIf {
		x := VariantRecord{What: v.What, SlagKg: quantity.OrNull(v.SlagKg), CopperKg: quantity.OrNull(v.Won), Met: v.Met,
			Liquidus: quantity.OrNull(p.valueOf(v, "liquidus")), Viscosity: quantity.OrNull(p.valueOf(v, "viscosity")),
			FeOSiO2: quantity.OrNull(p.valueOf(v, "FeO/SiO2")), CaOSiO2: quantity.OrNull(p.valueOf(v, "CaO/SiO2"))}
		if v.Reached {
			x.Factor = quantity.OrNull(v.Factor)
		}
		r.WhatIf = append(r.WhatIf, x)
	}
	for _, w := range p.Ways {
		r.Ways = append(r.Ways, WayRecord(w))
	}
	for _, c := range p.Cautions {
		r.Cautions = append(r.Cautions, CautionRecord{c.Code, c.Text, caution.Behind})
	}
	for _, n := range p.Notices {
		r.Warnings = append(r.Warnings, n.Message)
	}
	return r
}

// valueOf returns a variant's value of the term whose name begins so.
func (p *Plan) valueOf(v Variant, name string) float64 {
	for i, o := range p.Outcomes {
		if strings.HasPrefix(o.Term.Name(), name) {
			return v.Values[i]
		}
	}
	return math.NaN()
}

func (o Outcome) record() TermRecord {
	unit := map[charge.Quantity]string{charge.Liquidus: "_c", charge.Viscosity: "_pa_s", charge.Content: "_wt_pct"}[o.Term.Of]
	r := TermRecord{"of": o.Term.Name(), "asked": o.Asked, "value" + unit: quantity.OrNull(o.Value), "sd_from_stocks" + unit: quantity.OrNull(o.SD)}
	switch o.Term.Of {
	case charge.Liquidus:
		r["model_sd_c"] = quantity.OrNull(o.Model)
	case charge.Viscosity:
		r["model_factor"] = quantity.OrNull(o.Model)
	}
	if !o.Asked {
		return r
	}
	r["met"] = o.Met()
	r["low"+unit], r["high"+unit] = nil, quantity.OrNull(o.Term.Hi)
	if o.Term.Lo > 0 {
		r["low"+unit] = quantity.OrNull(o.Term.Lo)
	}
	r["chance"], r["chance_with_model"] = quantity.OrNull(o.Chance), quantity.OrNull(o.WithModel)
	return r
}

// Met reports whether the term holds for the charge as planned.
func (o Outcome) Met() bool { return o.Miss <= 1e-9 }
