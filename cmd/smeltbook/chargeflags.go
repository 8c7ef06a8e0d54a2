package main

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/report/notebook"
	"smeltbook/report/plan"
)

// chargeFlags are what a call says over the notebook.
type chargeFlags struct {
	ores, fluxes, limits                                    []string
	liquidus, viscosity, at, batch, volume, charcoal, scale float64
	batches                                                 int
	aim, as, out                                            string
	asJSON                                                  bool
}

// over puts what the call says over what the notebook says.
func (f *chargeFlags) over(cmd *cobra.Command, n *notebook.Notebook) error {
	c := notebook.Charge{}
	if n.Charge != nil {
		c = *n.Charge
		c.Target = slices.Clone(c.Target)
	}
	said := false
	for _, put := range []struct {
		name string
		to   **float64
		x    *float64
	}{{"at", &c.At, &f.at}, {"batch", &c.Batch, &f.batch}, {"volume", &c.Volume, &f.volume}, {"charcoal", &c.Charcoal, &f.charcoal}, {"scale", &c.Scale, &f.scale}} {
		if !cmd.Flags().Changed(put.name) {
			continue
		}
		if said = true; !(*put.x > 0) || math.IsInf(*put.x, 0) {
			return fmt.Errorf("--%s %g: give a number above zero", put.name, *put.x)
		}
		*put.to = put.x
	}
	if cmd.Flags().Changed("volume") && !cmd.Flags().Changed("batch") {
		c.Batch = nil
	}
	if cmd.Flags().Changed("batch") && !cmd.Flags().Changed("volume") {
		c.Volume = nil
	}
	if cmd.Flags().Changed("batches") {
		if said = true; f.batches < 1 {
			return fmt.Errorf("--batches %d: a firing has at least one", f.batches)
		}
		c.Batches = &f.batches
	}
	for _, l := range []notebook.ChargeLimit{{Of: "liquidus", Span: notebook.Span{Hi: f.liquidus}}, {Of: "viscosity", Span: notebook.Span{Hi: f.viscosity}}} {
		if !cmd.Flags().Changed(l.Of) {
			continue
		}
		if said = true; !(l.Span.Hi > 0) || math.IsInf(l.Span.Hi, 0) {
			return fmt.Errorf("--%s %g: give a number above zero", l.Of, l.Span.Hi)
		}
		ask(&c, l)
	}
	for _, text := range f.limits {
		name, span, err := spanFlag("limit", text)
		if err != nil {
			return err
		}
		if span == nil {
			return fmt.Errorf("--limit %s: write the least and the most behind it, as in FeO/SiO2=1.2:1.8", text)
		}
		said = true
		ask(&c, notebook.ChargeLimit{Of: name, Span: *span})
	}
	for _, x := range []struct {
		flag string
		text []string
		to   *[]notebook.ChargeStock
	}{{"ore", f.ores, &c.Ores}, {"flux", f.fluxes, &c.Fluxes}} {
		for i, text := range x.text {
			if i == 0 {
				*x.to = nil
			}
			name, span, err := spanFlag(x.flag, text)
			if err != nil {
				return err
			}
			said = true
			*x.to = append(*x.to, notebook.ChargeStock{Name: name, Limits: span})
		}
	}
	if f.aim != "" {
		if said = true; !slices.Contains(plan.Aims(), f.aim) {
			return fmt.Errorf("--aim %s: use %s", f.aim, strings.Join(plan.Aims(), ", "))
		}
		c.Aim = f.aim
	}
	if said || n.Charge != nil {
		n.Charge = &c
	}
	return nil
}

// ask puts a limit in the place of the one on the same thing.
func ask(c *notebook.Charge, l notebook.ChargeLimit) {
	c.Target = slices.DeleteFunc(c.Target, func(o notebook.ChargeLimit) bool { return strings.EqualFold(o.Of, l.Of) })
	c.Target = append(c.Target, l)
}

// spanFlag reads NAME, NAME=0.5 or NAME=0.5:1.
func spanFlag(flag, text string) (name string, span *notebook.Span, err error) {
	name, ends, stated := strings.Cut(text, "=")
	if name = strings.TrimSpace(name); name == "" {
		return "", nil, fmt.Errorf("--%s %q names nothing; write as in NAME=0.5:1", flag, text)
	}
	if !stated {
		return name, nil, nil
	}
	low, high, two := strings.Cut(ends, ":")
	if !two {
		high = low
	}
	lo, err1 := strconv.ParseFloat(strings.TrimSpace(low), 64)
	hi, err2 := strconv.ParseFloat(strings.TrimSpace(high), 64)
	switch {
	case err1 != nil || err2 != nil || math.IsNaN(lo+hi) || math.IsInf(lo+hi, 0):
		return "", nil, fmt.Errorf("--%s %s: %q should be one number or two with a colon between, as in 0.5:1", flag, text, ends)
	case lo < 0 || hi < 0:
		return "", nil, fmt.Errorf("--%s %s: a limit is never negative", flag, text)
	case lo > hi:
		return "", nil, fmt.Errorf("--%s %s contradicts itself; give the lower limit first", flag, text)
	}
	return name, &notebook.Span{Lo: lo, Hi: hi}, nil
}
