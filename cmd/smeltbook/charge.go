package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
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

func newCharge(st streams) *cobra.Command {
	var f chargeFlags
	cmd := &cobra.Command{
		Use:   "charge DIR",
		Short: "Plan a charge: how much flux, which blend of ores, in kilograms a batch, for a slag that runs",
		Long: `charge reads the campaign in DIR and the lines under "charge:" of its notebook,
and finds the weights of ores and fluxes whose slag meets the target, with how
sure that is and what a tenth more or less of each would do. Flags go over the
notebook. --as html writes a sheet to print and take to the furnace, --as xlsx a
workbook. Where no mixture meets the target it says so, gives the nearest one
and what it would take, and ends with status 1.`,
		Args: onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return planCharge(cmd, args[0], &f, st)
		},
	}
	fl := cmd.Flags()
	fl.StringArrayVar(&f.ores, "ore", nil, "an ore, and its share of all ore: OV-ORE=0.5:1; instead of the notebook's ores")
	fl.StringArrayVar(&f.fluxes, "flux", nil, "a flux, and kg of it for a kg of ore: OV-FLX-1=0:0.8; instead of the notebook's fluxes")
	fl.StringArrayVar(&f.limits, "limit", nil, "a limit of the slag: FeO/SiO2=1.2:1.8 or SiO2=28:38")
	fl.Float64Var(&f.liquidus, "liquidus", 0, "highest liquidus, °C")
	fl.Float64Var(&f.viscosity, "viscosity", 0, "highest viscosity, Pa·s")
	fl.Float64Var(&f.at, "at", 0, "temperature of the slag, °C")
	fl.Float64Var(&f.batch, "batch", 0, "kg of ore in a batch")
	fl.IntVar(&f.batches, "batches", 0, "number of batches")
	fl.Float64Var(&f.volume, "volume", 0, "litres that all batches fill, instead of --batch")
	fl.Float64Var(&f.charcoal, "charcoal", 0, "kg of charcoal for a kg of ore")
	fl.Float64Var(&f.scale, "scale", 0, "standard uncertainty of a weighing, kg")
	fl.StringVar(&f.aim, "aim", "", strings.Join(plan.Aims(), ", "))
	for _, name := range []string{"liquidus", "viscosity", "at", "batch", "batches", "volume", "charcoal", "scale"} {
		fl.Lookup(name).DefValue = "" // the notebook's, or what is usual
	}
	fl.BoolVar(&f.asJSON, "json", false, "print one JSON object")
	fl.StringVar(&f.as, "as", "", "html (a sheet to print) or xlsx, written to a file")
	fl.StringVar(&f.out, "out", "", "file to write instead of DIR/charge.html or DIR/charge.xlsx")
	return cmd
}

func planCharge(cmd *cobra.Command, dir string, f *chargeFlags, st streams) error {
	switch {
	case f.as != "" && f.as != "html" && f.as != "xlsx":
		return callError{fmt.Errorf("--as %s: use html or xlsx", f.as)}
	case f.as != "" && f.asJSON:
		return callError{fmt.Errorf("give --json or --as, not both")}
	case f.as == "" && f.out != "":
		return callError{fmt.Errorf("--out needs --as html or --as xlsx")}
	case f.as != "" && f.out == "":
		f.out = filepath.Join(dir, "charge."+f.as)
	}
	o, err := openCampaign(cmd.Context(), dir, st.err, true)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, o.notices.Of(source.Error)); err != nil {
		return err
	}
	if err := f.over(cmd, o.notebook); err != nil {
		return callError{err}
	}
	if f.out != "" {
		if err := checkOutput(f.out, "."+f.as, o.campaign); err != nil {
			return err
		}
	}
	return answerCharge(cmd.Context(), o, f, st)
}

func answerCharge(ctx context.Context, o opened, f *chargeFlags, st streams) error {
	p, notices, err := plan.Make(ctx, o.campaign, o.notebook)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	var b bytes.Buffer
	switch {
	case f.asJSON:
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		enc.SetIndent("", " ")
		err = enc.Encode(p.Record())
	case f.as == "html":
		err = page.RenderChargeSheet(&b, p.Sheet(version()))
	case f.as == "xlsx":
		err = writeChargeBook(&b, p)
	default:
		err = printCharge(&b, p)
	}
	if err != nil {
		return fmt.Errorf("writing the charge: %w", err)
	}
	if f.out != "" {
		if err = writeWhole(f.out, b.Bytes()); err == nil {
			_, err = fmt.Fprintln(st.out, f.out)
		}
	} else {
		_, err = st.out.Write(b.Bytes())
	}
	if err == nil && !p.Met {
		fmt.Fprintln(st.err, "smeltbook: no mixture within the limits meets the target; the nearest one is given")
		return errData
	}
	return err
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
