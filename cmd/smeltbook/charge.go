package main

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay/source"
	"smeltbook/report/page"
	"smeltbook/report/plan"
)

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
	if err := sheetFile(f.as, f.asJSON, &f.out, filepath.Join(dir, "charge"), "html", "xlsx"); err != nil {
		return err
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
		err = writeRecord(&b, p.Record())
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
	if err = deliver(f.out, b.Bytes(), st); err == nil && !p.Met {
		fmt.Fprintln(st.err, "smeltbook: no mixture within the limits meets the target; the nearest one is given")
		return errData
	}
	return err
}
