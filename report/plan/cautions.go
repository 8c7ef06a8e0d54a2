package plan

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/report/caution"
)

// cautions are those of the work and of what the stocks charged hold.
func (p *planner) cautions() {
	p.Cautions = caution.Always()
	add := func(code, text string) {
		p.Cautions = append(p.Cautions, caution.Caution{Code: code, Name: code, Text: text})
	}
	var unknown []string
	for _, f := range caution.Fumes() {
		if in := p.holding(f.Element, f.Least); len(in) > 0 {
			hold := " hold "
			if len(in) == 1 {
				hold = " holds "
			}
			add(f.Name, strings.Join(in, ", ")+hold+f.Text)
		} else if !p.asked(f.Element) {
			unknown = append(unknown, f.Name)
		}
	}
	if n := len(unknown); n > 0 {
		text := unknown[n-1]
		if n > 1 {
			text = strings.Join(unknown[:n-1], ", ") + " or " + text
		}
		add("fume_unknown", fmt.Sprintf("Not every stock was analysed for %s: %s.", text, caution.Unknown))
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
