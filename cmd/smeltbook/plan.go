package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay/source"
	"smeltbook/report/fireplan"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
	"smeltbook/report/plan"
)

// planFlags are what a call says over the notebook.
type planFlags struct {
	stated  notebook.Furnace // by flag; see numbers
	numbers []planNumber
	number  int
	as, out string
	asJSON  bool
}

// planNumber is a flag with a number and its place in the notebook's furnace.
type planNumber struct {
	name string
	x    float64
	of   func(f *notebook.Furnace) **float64
	use  string
}

func planNumbers() []planNumber {
	type at = func(f *notebook.Furnace) **float64
	list := []struct {
		name string
		of   at
		use  string
	}{
		{"diameter", func(f *notebook.Furnace) **float64 { return &f.Diameter }, "of the bowl at the rim, cm"},
		{"depth", func(f *notebook.Furnace) **float64 { return &f.Depth }, "from the rim to the floor, cm"},
		{"lining", func(f *notebook.Furnace) **float64 { return &f.Lining }, "thickness of the clay, cm"},
		{"lumps", func(f *notebook.Furnace) **float64 { return &f.Lumps }, "size of the charcoal, cm"},
		{"stroke", func(f *notebook.Furnace) **float64 { return &f.Air.Stroke }, "air of a stroke, L"},
		{"per-minute", func(f *notebook.Furnace) **float64 { return &f.Air.PerMinute }, "strokes a minute"},
		{"flow", func(f *notebook.Furnace) **float64 { return &f.Air.Flow }, "of each blowpipe or fan, L/min"},
		{"leak", func(f *notebook.Furnace) **float64 { return &f.Air.Leak }, "share of the air lost, %"},
		{"bore", func(f *notebook.Furnace) **float64 { return &f.Pipe.Bore }, "of the air pipe, mm"},
		{"gap", func(f *notebook.Furnace) **float64 { return &f.Pipe.Gap }, "between nozzle and feed pipe, mm; 0 for one piece"},
		{"working", func(f *notebook.Furnace) **float64 { return &f.Working }, "temperature asked before the pipe, °C"},
		{"rate", func(f *notebook.Furnace) **float64 { return &f.Rate }, "of charging, kg/h of ore and flux"},
		{"load", func(f *notebook.Furnace) **float64 { return &f.Load }, "ore and flux in all, kg, instead of the planned charge"},
	}
	var out []planNumber
	for _, x := range list {
		out = append(out, planNumber{name: x.name, of: x.of, use: x.use})
	}
	return out
}

func newPlan(st streams) *cobra.Command {
	f := planFlags{numbers: planNumbers()}
	cmd := &cobra.Command{
		Use:   "plan DIR",
		Short: "Foresee a firing: will it run, how long, how much charcoal, how many blowers, what goes wrong first",
		Long: `plan joins the charge of the notebook ("charge:") with its furnace ("furnace:")
and works out the heat of the bowl: how hot and how reducing it gets, how soon,
what it burns, whether the bellows and those who work them hold out, and what
goes wrong first. Without a planned charge it takes --load, or what the last
recorded firing was charged with. Flags go over the notebook. --as html writes a
sheet to print and take to the furnace. Where something foreseen would stop the
firing it ends with status 1.`,
		Args: onePath("the campaign's folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			return planFiring(cmd, args[0], &f, st)
		},
	}
	fl := cmd.Flags()
	for i := range f.numbers {
		x := &f.numbers[i]
		fl.Float64Var(&x.x, x.name, 0, x.use)
		fl.Lookup(x.name).DefValue = "" // the notebook's, or what is usual
	}
	fl.StringVar(&f.stated.Ground, "ground", "", strings.Join(notebook.GroundNames(), ", "))
	fl.StringVar(&f.stated.Air.By, "by", "", "what blows: "+strings.Join(notebook.BlowerNames(), ", "))
	fl.IntVar(&f.number, "number", 0, "how many blow at a time")
	fl.Lookup("number").DefValue = ""
	fl.BoolVar(&f.asJSON, "json", false, "print one JSON object")
	fl.StringVar(&f.as, "as", "", "html, a sheet to print, written to a file")
	fl.StringVar(&f.out, "out", "", "file to write instead of DIR/furnace.html")
	return cmd
}

func planFiring(cmd *cobra.Command, dir string, f *planFlags, st streams) error {
	if err := sheetFile(f.as, f.asJSON, &f.out, filepath.Join(dir, "furnace"), "html"); err != nil {
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
		if err := checkOutput(f.out, ".html", o.campaign); err != nil {
			return err
		}
	}
	load, err := loadOf(cmd.Context(), o, st.err)
	if err != nil {
		return err
	}
	p, notices, err := fireplan.Make(cmd.Context(), o.campaign, o.notebook, load)
	if err != nil {
		return err
	}
	if err := stopAtErrors(st.err, notices); err != nil {
		return err
	}
	return answerPlan(p, f, st)
}

// loadOf is what is to be charged: as stated, as the notebook plans it, or as the
// last recorded firing had it.
func loadOf(ctx context.Context, o opened, stderr io.Writer) (fireplan.Load, error) {
	switch f := o.notebook.Furnace; {
	case f != nil && f.Load != nil:
		return stated(*f.Load)
	case o.notebook.Charge == nil:
		return fireplan.LoadOfLog(o.campaign)
	}
	c, notices, err := plan.Make(ctx, o.campaign, o.notebook)
	if err != nil {
		return fireplan.Load{}, err
	}
	if err := stopAtErrors(stderr, notices); err != nil {
		return fireplan.Load{}, err
	}
	return fireplan.LoadOfCharge(c), nil
}

func stated(kg float64) (fireplan.Load, error) {
	l, err := fireplan.LoadOf(kg)
	if err != nil {
		return l, callError{err}
	}
	return l, nil
}

func answerPlan(p *fireplan.Plan, f *planFlags, st streams) error {
	var b bytes.Buffer
	var err error
	switch {
	case f.asJSON:
		err = writeRecord(&b, p.Record())
	case f.as == "html":
		err = page.RenderFurnaceSheet(&b, p.Sheet(version()))
	default:
		err = printPlan(&b, p)
	}
	if err != nil {
		return fmt.Errorf("writing the plan: %w", err)
	}
	if err = deliver(f.out, b.Bytes(), st); err == nil && !p.Runs() {
		fmt.Fprintln(st.err, "smeltbook: this firing would not run as it is planned; see what goes wrong first")
		return errData
	}
	return err
}

// over puts what the call says over what the notebook says.
func (f *planFlags) over(cmd *cobra.Command, n *notebook.Notebook) error {
	if n.Furnace == nil {
		n.Furnace = &notebook.Furnace{}
	}
	to := n.Furnace
	for i := range f.numbers {
		x := &f.numbers[i]
		if !cmd.Flags().Changed(x.name) {
			continue
		}
		*x.of(to) = &x.x
		*x.of(&f.stated) = &x.x
	}
	for _, x := range f.stated.Numbers() {
		if !(x.Value >= x.Least) || math.IsInf(x.Value, 0) {
			return fmt.Errorf("--%s %g: give a number in %s of at least %g", strings.ReplaceAll(x.Key, "_", "-"), x.Value, x.Unit, x.Least)
		}
	}
	if g := f.stated.Ground; g != "" {
		if !slices.Contains(notebook.GroundNames(), g) {
			return fmt.Errorf("--ground %s: use %s", g, strings.Join(notebook.GroundNames(), ", "))
		}
		to.Ground = g
	}
	if by := f.stated.Air.By; by != "" {
		if !slices.Contains(notebook.BlowerNames(), by) {
			return fmt.Errorf("--by %s: use %s", by, strings.Join(notebook.BlowerNames(), ", "))
		}
		if by != to.Air.By { // strokes of one kind are not those of another
			to.Air = f.stated.Air
		}
		to.Air.By = by
	}
	if cmd.Flags().Changed("number") {
		to.Air.Number = &f.number
	}
	return nil
}
