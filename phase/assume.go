package phase

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/redox"
)

func (e *Estimate) assume(format string, args ...any) {
	e.Assumptions = append(e.Assumptions, fmt.Sprintf(format, args...))
}

// assumeMelt says what was done to bring the composition to the melt basis.
func (e *Estimate) assumeMelt(c chem.Composition) {
	if total := c.Total(); total.WithLimits < 95 || total.Measured > 105 {
		e.Notices.Add(source.Warning, "SUM", source.Cell{}, "the composition sums to %.1f wt%% and was taken as the whole", total.Measured)
	}
	var aside []string
	for _, p := range c.Parts {
		a, _ := chem.LookupAnalyte(p.ID)
		if !c.Counts(p.ID) && p.Known() && (a.Kind == chem.Oxide || a.Kind == chem.OxideTotal || a.Kind == chem.Element) {
			aside = append(aside, p.ID)
		}
	}
	if len(aside) > 0 {
		e.assume("left aside, because the same element is stated otherwise as well: %s", strings.Join(aside, ", "))
	}
	var iron, metal []string
	for _, p := range c.Parts {
		a, _ := chem.LookupAnalyte(p.ID)
		switch {
		case a.Element == "Fe" && c.Counts(p.ID) && p.Known() && (a.Kind == chem.OxideTotal || a.Kind == chem.Element):
			iron = append(iron, p.ID)
		case a.Element == "Cu" && c.Counts(p.ID) && p.Known():
			metal = append(metal, p.ID)
		}
	}
	if len(iron) > 0 {
		e.assume("total iron (%s) is ferrous iron in the melt", strings.Join(iron, ", "))
	}
	if len(metal) > 0 {
		e.assume("all copper (%s) counts as Cu2O in the melt, drops of metal too", strings.Join(metal, ", "))
	}
	if len(e.Melt.LeftOut) > 0 {
		var ids []string
		for _, p := range e.Melt.LeftOut {
			ids = append(ids, p.ID)
		}
		e.assume("left out of the melt: %s", strings.Join(ids, ", "))
	}
	if len(e.Melt.Below) > 0 {
		e.assume("below the limit of detection and counted as %g of it: %s", e.Conditions.LimitShare, strings.Join(e.Melt.Below, ", "))
	}
	if len(e.Melt.NoU) > 0 {
		e.assume("without uncertainty and counted as exact: %s", strings.Join(e.Melt.NoU, ", "))
	}
}

// copperIn fills in the split of copper.
func (e *Estimate) copperIn(c chem.Composition) error {
	total, ok := copper.TotalCopper(c)
	if !ok {
		e.Notices.Add(source.Note, "NO_COPPER", source.Cell{}, "the analysis has no copper, so nothing is said about its loss")
		return nil
	}
	if lo, hi := total.Bounds(); math.IsNaN(lo) || math.IsInf(hi, 1) {
		e.Notices.Add(source.Note, "NO_COPPER", source.Cell{}, "the copper of the analysis is %s, so nothing is said about its loss", total.Text())
		return nil
	}
	if !e.fillTemperature() {
		e.Notices.Add(source.Warning, "NO_COPPER", source.Cell{}, "without a liquidus the working temperature must be given before the copper can be split")
		return nil
	}
	e.fillOxygen()
	cond := e.Conditions
	loss, err := copper.Split(total, copper.UnderCopper(cond.TC, cond.LogPO2[0], cond.LogPO2[1]))
	if err != nil {
		return fmt.Errorf("copper in the slag: %w", err)
	}
	e.Copper = &loss
	e.Notices = append(e.Notices, loss.Notices...)
	capacity := loss.Conditions.Capacity
	e.assume("the slag was in balance with copper metal (activity %g) and dissolved %.3g to %.3g wt%% copper at unit activity of its oxide (%s)",
		loss.Conditions.Activity, capacity.Lo*capacity.Factor, capacity.Hi*capacity.Factor, capacity.Label)
	if l := e.Liquidus; l.Known() && cond.TC < l.Value-2*l.U {
		e.Notices.Add(source.Warning, "BELOW_LIQUIDUS", source.Cell{},
			"at %.0f °C, well below its liquidus of %.0f °C, the slag still held crystals; dissolved copper is that of its liquid", cond.TC, l.Value)
	}
	if iw, _ := redox.IronWustite().LogFO2(cond.TC); cond.LogPO2[0] < iw-1e-9 {
		e.Notices.Add(source.Note, "BELOW_IRON_WUSTITE", source.Cell{},
			"below log pO2 −%.1f iron metal forms at %.0f °C and would go into the copper; the assumed interval reaches lower", -iw, cond.TC)
	}
	return nil
}

// fillTemperature puts the liquidus in the place of a working temperature that
// was not given.
func (e *Estimate) fillTemperature() bool {
	if e.Conditions.TC != 0 {
		return true
	}
	if !e.Liquidus.Known() || e.Liquidus.Value <= 0 {
		return false
	}
	e.Conditions.TC = e.Liquidus.Value
	e.assume("no working temperature was given: the copper is split at the liquidus, %.0f °C, the least at which the slag was all molten", e.Conditions.TC)
	return true
}

// fillOxygen puts the field of fayalite without iron metal in the place of an
// oxygen potential that was not given.
func (e *Estimate) fillOxygen() {
	if e.Conditions.LogPO2 != ([2]float64{}) {
		return
	}
	lower, upper := redox.IronWustite(), redox.FayaliteMagnetite()
	lo, _ := lower.LogFO2(e.Conditions.TC)
	hi, _ := upper.LogFO2(e.Conditions.TC)
	e.Conditions.LogPO2 = [2]float64{lo, hi}
	beyond := ""
	for _, b := range []redox.Buffer{lower, upper} {
		if e.Conditions.TC < b.LoC || e.Conditions.TC > b.HiC {
			beyond += fmt.Sprintf("; the line of %s is used beyond its %.0f to %.0f °C", b.Label, b.LoC, b.HiC)
		}
	}
	e.assume("no oxygen potential was given: from %s (%s) to %s (%s), log pO2 −%.1f to −%.1f%s",
		lower.Label, lower.Source, upper.Label, upper.Source, -lo, -hi, beyond)
}
