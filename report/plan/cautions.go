package plan

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
)

// Caution is one thing that can hurt, with the usual care. All of it is common
// practice and stands behind local codes and licensed people.
type Caution struct {
	Code string // "carbon_monoxide"
	Text string // holds behind local codes and licensed practice, see Behind
}

// Behind holds for every caution.
const Behind = "local codes and licensed practice go before each of these."

func (p *planner) cautions() {
	add := func(code, text string) { p.Cautions = append(p.Cautions, Caution{code, text}) }
	add("carbon_monoxide", "Carbon monoxide kills without smell: fire in the open, stay upwind, never alone, a monitor at head height from lighting to cold.")
	add("molten_metal", "Molten slag and metal burst on damp ground: dry lining, tools, moulds and the ground around; warm the charge before it goes in; face shield, leather, closed shoes.")
	add("fire", "Fire: spark break, water and sand at hand but away from the melt, someone who watches until it is cold.")
	add("silica_dust", "Crushing ore, flux and lining makes silica dust: wet it down, and wear a fitted mask.")
	var unknown []string
	for _, f := range []struct {
		element, name, text string
		least               float64 // wt% from which it is told
	}{
		{"As", "arsenic", "arsenic, and its fume is poison: upwind, suitable breathing protection, no food near, clothes washed apart.", 0.005},
		{"S", "sulphur", "sulphur, and sulphur dioxide burns eyes and lungs: upwind, and away from the fume of the first hour.", 0.05},
		{"Pb", "lead", "lead, and its fume and dust are poison: upwind, suitable breathing protection, hands washed before eating.", 0.01},
	} {
		if in := p.holding(f.element, f.least); len(in) > 0 {
			hold := " hold "
			if len(in) == 1 {
				hold = " holds "
			}
			add(f.name, strings.Join(in, ", ")+hold+f.text)
		} else if !p.asked(f.element) {
			unknown = append(unknown, f.name)
		}
	}
	if n := len(unknown); n > 0 {
		text := unknown[n-1]
		if n > 1 {
			text = strings.Join(unknown[:n-1], ", ") + " or " + text
		}
		add("fume_unknown", fmt.Sprintf("Not every stock was analysed for %s: treat the fume as if they held it.", text))
	}
}

// stocks are ores and fluxes that the plan charges.
func (p *planner) stocks() (out []Stock) {
	for i, s := range append(p.Ores[:len(p.Ores):len(p.Ores)], p.Fluxes...) {
		if p.kg[i] > 0 {
			out = append(out, s)
		}
	}
	return out
}

func (p *planner) holding(element string, least float64) (names []string) {
	for _, s := range p.stocks() {
		if slices.ContainsFunc(s.Samples, func(a *assay.Sample) bool {
			q, ok := a.AsReported.OfElement(element)
			return ok && q.Known() && q.Value >= least
		}) {
			names = append(names, s.Material.Name)
		}
	}
	return names
}

// asked tells whether every stock was analysed for an element.
func (p *planner) asked(element string) bool {
	for _, s := range p.stocks() {
		if !slices.ContainsFunc(s.Samples, func(a *assay.Sample) bool {
			q, ok := a.AsReported.OfElement(element)
			return ok && (q.Known() || q.Class.Censored())
		}) {
			return false
		}
	}
	return true
}
