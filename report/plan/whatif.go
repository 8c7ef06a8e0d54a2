package plan

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/phase/charge"
)

// Variant is the charge with one thing changed, the rest kept as planned.
type Variant struct {
	What   string    // "OV-FLX-1 +10 %"
	Values []float64 // of the terms, as Plan.Outcomes
	SlagKg float64   // of a batch
	Won    float64   // kg copper in the metal of a batch
	Met    bool
	// Factor is by how much all fluxes would have to be multiplied then to be
	// just on the target; Reached is false where no amount would.
	Factor  float64
	Reached bool
}

// step is how far each thing is changed.
const step = 0.10

// whatIf changes each flux, ash, lining and the grade of the ores by a tenth.
func (p *planner) whatIf() error {
	ore := p.ore()
	try := func(what string, grade float64, kg []float64) error {
		trials := p.trials
		if grade != 1 {
			var which []int
			for i := range p.Ores {
				which = append(which, i)
			}
			enriched, err := trials.Enriched(grade, p.Mineral.Copper, which...)
			if err != nil {
				return nil // an ore so rich is not to be had
			}
			trials = enriched
		}
		y, err := trials.Give(0, kg)
		if err != nil {
			return err
		}
		v := charge.Judge(p.model, wtOf(y), p.terms)
		f, ok := p.factor(trials, 0, kg)
		p.WhatIf = append(p.WhatIf, Variant{What: what, Values: v.Values, SlagKg: y.SlagKg * ore, Won: y.Won * ore, Met: v.Met(), Factor: f, Reached: ok})
		return nil
	}
	if err := try("as planned", 1, p.kg); err != nil {
		return err
	}
	names := p.namesAfterOres()
	for i, name := range names {
		k := len(p.Ores) + i
		for _, by := range []float64{1 - step, 1 + step} {
			kg := slices.Clone(p.kg)
			if kg[k] == 0 {
				continue
			}
			kg[k] *= by
			if err := try(fmt.Sprintf("%s %s", name, signedPercent(by)), 1, kg); err != nil {
				return err
			}
		}
	}
	for _, by := range []float64{1 - step, 1 + step} {
		if err := try("copper of the ore "+signedPercent(by), by, p.kg); err != nil {
			return err
		}
	}
	return nil
}

func signedPercent(factor float64) string {
	if factor < 1 {
		return fmt.Sprintf("−%.0f %%", 100*(1-factor))
	}
	return fmt.Sprintf("+%.0f %%", 100*(factor-1))
}

func (p *planner) namesAfterOres() (out []string) {
	for _, s := range p.Fluxes {
		out = append(out, s.Material.Name)
	}
	for _, m := range p.Others {
		name := m.Name
		if m.Kind == assay.Lining {
			name = "wall that melts"
		}
		out = append(out, name)
	}
	return out
}

// BackOnTarget says in kilograms a batch how much flux would put a variant just
// on the target.
func (p *Plan) BackOnTarget(v Variant) string {
	if !v.Reached {
		return "out of reach by flux"
	}
	if v.Factor == 0 {
		return "no flux needed"
	}
	var parts []string
	for _, w := range p.Weights {
		if w.Kind == assay.Flux && w.Share > 0 {
			f := v.Factor
			if v.What == w.Name+" "+signedPercent(1-step) {
				f *= 1 - step
			} else if v.What == w.Name+" "+signedPercent(1+step) {
				f *= 1 + step
			}
			parts = append(parts, fmt.Sprintf("%.3f kg %s", f*w.Batch.Value, w.Name))
		}
	}
	return strings.Join(parts, " + ")
}
