package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"text/tabwriter"

	"smeltbook/phase/charge"
	"smeltbook/report/caution"
	"smeltbook/report/plan"
)

// printCharge writes a plan for people.
func printCharge(w io.Writer, p *plan.Plan) error {
	l := &linePrinter{w: w}
	if p.Met {
		l.line("The target is met with, for each of %d batches:", p.Batches)
	} else {
		l.line("OUT OF REACH: no mixture within the limits meets the target. The nearest, for each of %d batches:", p.Batches)
	}
	t := newColumns(l)
	t.row("", "kg a batch", "± scale", "kg in all", "for a kg of ore", "± flux really needed")
	for _, x := range append(p.Weights[:len(p.Weights):len(p.Weights)], p.Fuel) {
		v, u := plan.Weighed(x.Batch)
		if x.Share == 0 {
			v, u = "none", "–"
		}
		total, _ := plan.Weighed(x.Total)
		needed := ""
		if x.Kind == "flux" && p.Fluxing.Known && x.Share > 0 {
			needed = fmt.Sprintf("± %.2g kg a batch", x.Batch.Value*p.Fluxing.SD)
		}
		t.row("  "+x.Name, v, u, total, fmt.Sprintf("%.3g", x.Share), needed)
	}
	t.flush()
	if f := p.Fluxing; f.Known {
		l.line("  just on target with the fluxes times %.2f to %.2f in 95 %% of the draws%s", f.Low, f.High, nineInTen(f))
	}
	l.line("")
	l.line("Slag foreseen")
	t = newColumns(l)
	t.row("", "value", "± stocks", "model", "asked", "chance", "with the model's error")
	for _, o := range p.Outcomes {
		asked, chance, with := "–", "", ""
		if o.Asked {
			asked = strings.TrimPrefix(o.Term.String(), o.Term.Name()+" ")
			if !o.Met() {
				asked += "  MISSED"
			}
			chance, with = fmt.Sprintf("%.0f %%", 100*o.Chance), fmt.Sprintf("%.0f %%", 100*o.WithModel)
		}
		t.row("  "+o.Term.Name(), strings.TrimSpace(plan.Figure(o.Term, o.Value)+" "+o.Term.Unit()), figureOf(o.Term, o.SD), modelOf(o), asked, chance, with)
	}
	t.flush()
	var parts []string
	for _, x := range p.Slag.Parts {
		if x.Wt.Value >= 0.05 {
			parts = append(parts, x.ID+" "+x.Wt.Text())
		}
	}
	l.line("  wt%%: %s", strings.Join(parts, ", "))
	l.line("  a batch gives %s slag and %s metal, with %s of the copper", p.Slag.Slag.WithUnit(), p.Slag.Metal.WithUnit(), p.Slag.Won.WithUnit())
	l.line("  charcoal: %.1f kg planned; the charge alone takes %s (%s), walls and gas several times more", p.Fuel.Total.Value, p.Heat.Floor.WithUnit(), p.Heat.Need.WithUnit())
	if len(p.Ways) > 0 {
		l.line("")
		l.line("What it would take")
		for _, x := range p.Ways {
			l.line("  %s", x.Text)
		}
	}
	l.line("")
	l.line("What if, in a batch")
	t = newColumns(l)
	head := []string{""}
	for _, o := range p.Outcomes {
		head = append(head, strings.TrimSpace(o.Term.Name()+" "+o.Term.Unit()))
	}
	t.row(append(head, "slag kg", "copper kg", "target", "then on target with")...)
	for _, v := range p.WhatIf {
		row := []string{"  " + v.What}
		for i, o := range p.Outcomes {
			row = append(row, plan.Figure(o.Term, v.Values[i]))
		}
		met := "missed"
		if v.Met {
			met = "met"
		}
		t.row(append(row, fmt.Sprintf("%.3f", v.SlagKg), fmt.Sprintf("%.3f", v.Won), met, p.BackOnTarget(v))...)
	}
	t.flush()
	l.line("")
	l.line("Cautions: %s", caution.Behind)
	for _, c := range p.Cautions {
		l.line("  %s", c.Text)
	}
	l.line("")
	for _, n := range p.Notices {
		l.line("%s: %s", n.Severity, n.Error())
	}
	for _, a := range p.Assumed {
		l.line("assumed: %s", a)
	}
	l.line("± is one standard uncertainty, from %d draws of stocks, weights and furnace, seed %d; the model's own error stands apart", p.Behaviour.Draws, p.Behaviour.Seed)
	return l.err
}

func nineInTen(f plan.Fluxing) string {
	text := ""
	if !math.IsNaN(f.Nine) {
		text = fmt.Sprintf("; times %.2f is enough in nine of ten", f.Nine)
	}
	if f.Never > 0 {
		text += fmt.Sprintf("; in %.0f %% of the draws no amount of them is", 100*f.Never)
	}
	return text
}

func figureOf(t charge.Term, sd float64) string {
	if math.IsNaN(sd) {
		return "none"
	}
	if t.Of == charge.Liquidus {
		return fmt.Sprintf("± %.0f", sd)
	}
	return fmt.Sprintf("± %.2g", sd)
}

func modelOf(o plan.Outcome) string {
	switch {
	case o.Term.Of == charge.Liquidus && o.Model > 0:
		return fmt.Sprintf("± %.0f", o.Model)
	case o.Term.Of == charge.Viscosity:
		return fmt.Sprintf("factor %g", o.Model)
	}
	return "–"
}

// columns sets rows of text under each other.
type columns struct {
	t *tabwriter.Writer
	l *linePrinter
}

func newColumns(l *linePrinter) columns {
	return columns{tabwriter.NewWriter(l.w, 0, 1, 2, ' ', 0), l}
}

func (c columns) row(cells ...string) {
	if c.l.err == nil {
		_, c.l.err = fmt.Fprintln(c.t, strings.TrimRight(strings.Join(cells, "\t"), "\t"))
	}
}

func (c columns) flush() {
	if c.l.err == nil {
		c.l.err = c.t.Flush()
	}
}
