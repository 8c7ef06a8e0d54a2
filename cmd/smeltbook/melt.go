package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase"
	"smeltbook/phase/slag"
	"smeltbook/report/study"
)

func newMelt(st streams) *cobra.Command {
	var (
		asJSON bool
		from   string
		at, po float64
	)
	cmd := &cobra.Command{
		Use:   "melt COMPOSITION | --from FILE",
		Short: "Answer one composition, or a spreadsheet of many: liquidus, first crystals, basicity, dissolved copper",
		Long: `melt takes a composition in wt%, such as 'SiO2=30 FeO=50 CaO=10 Al2O3=6', or a
spreadsheet with --from (.csv or .xlsx; - for standard input), read as those of a
campaign are: columns of oxides, in wt% where they state no unit, and, if you like,
one of names. It answers every row in the order of the input, for people or, with
--json, one object a line for programs.

Numbers given without uncertainty leave the ± of the liquidus that of the model
alone. Dissolved copper is for a slag in balance with copper metal, at the
temperature of --at and the oxygen potential of --log-po2.`,
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			rows, err := meltInput(cmd.Context(), args, from, st)
			if err != nil {
				return err
			}
			cond := study.ConditionsOf(0, 0)
			if cmd.Flags().Changed("at") {
				cond.TC = at
			}
			if cmd.Flags().Changed("log-po2") {
				cond.LogPO2 = [2]float64{po, po}
			}
			if !(cond.TC >= lowestTC && cond.TC <= highestTC) {
				return callError{fmt.Errorf("--at %g: properties of a slag are given from %g to %g °C", at, lowestTC, highestTC)}
			}
			if !(cond.LogPO2[0] >= lowestPO2 && cond.LogPO2[1] <= 0) {
				return callError{fmt.Errorf("--log-po2 %g: give log10 of the oxygen pressure in bar, %g to 0, for example -10", po, lowestPO2)}
			}
			assumed := !cmd.Flags().Changed("at") || !cmd.Flags().Changed("log-po2")
			return answerMelts(cmd.Context(), rows, cond, assumed, asJSON, st)
		},
	}
	cmd.Flags().BoolVar(&asJSON, "json", false, "print one JSON object for each composition")
	cmd.Flags().StringVar(&from, "from", "", "spreadsheet of compositions, .csv or .xlsx; - for standard input")
	cmd.Flags().Float64Var(&at, "at", study.DefaultTC, "temperature for properties, °C")
	cmd.Flags().Float64Var(&po, "log-po2", 0, "log10 of the oxygen pressure in bar for properties; without it the copper that cannot have been dissolved is reckoned for -11 to -9, the rest for their middle")
	cmd.Flags().Lookup("log-po2").DefValue = "0"
	return cmd
}

// Conditions for which properties make sense.
const (
	lowestTC, highestTC = 800.0, 1800.0 // °C
	lowestPO2           = -25.0         // log10 of bar
)

func meltInput(ctx context.Context, args []string, from string, st streams) ([]compositionRow, error) {
	switch {
	case from != "" && len(args) > 0:
		return nil, callError{fmt.Errorf("give a composition or --from, not both")}
	case from != "":
		rows, told, err := readCompositions(ctx, from, st.in)
		for _, n := range told {
			fmt.Fprintf(st.err, "%s: %s\n", n.Severity, n.Error())
		}
		return rows, err
	case len(args) == 0:
		return nil, callError{fmt.Errorf("give a composition, such as 'SiO2=30 FeO=50 CaO=10', or --from FILE")}
	}
	var rows []compositionRow
	text := args[0]
	for _, a := range args[1:] { // a composition typed without quotation marks
		text += " " + a
	}
	c, err := chem.ParseComposition(text)
	if err != nil {
		return nil, callError{err}
	}
	return append(rows, compositionRow{sample: "1", composition: c}), nil
}

// answerMelts answers in input order. A row without an answer does not keep
// the others from theirs; it makes the exit status 1.
func answerMelts(ctx context.Context, rows []compositionRow, cond phase.Conditions, assumed, asJSON bool, st streams) error {
	var good []chem.Composition
	for _, r := range rows {
		if r.err == nil {
			good = append(good, r.composition)
		}
	}
	estimator, err := phase.New()
	if err != nil {
		return err
	}
	show := newProgress(st.err)
	results, err := estimator.EstimateAll(ctx, good, cond, func(done, total int) { show.step("estimating", done, total) })
	show.clear()
	if err != nil {
		return err
	}
	failed := false
	next := 0
	enc := json.NewEncoder(st.out)
	for i, r := range rows {
		rowErr := r.err
		var est phase.Estimate
		if rowErr == nil {
			est, rowErr = results[next].Estimate, results[next].Err
			next++
		}
		if rowErr != nil {
			failed = true
			fmt.Fprintf(st.err, "error: sample %s: %v\n", r.sample, rowErr)
			if asJSON {
				if err := enc.Encode(map[string]any{"sample": r.sample, "error": rowErr.Error()}); err != nil {
					return err
				}
			}
			continue
		}
		if asJSON {
			err = enc.Encode(meltJSON(r.sample, est))
		} else {
			if i > 0 {
				fmt.Fprintln(st.out)
			}
			err = printMelt(st.out, r.sample, len(rows) > 1, est, assumed)
		}
		if err != nil {
			return err
		}
	}
	if failed {
		return errData
	}
	return nil
}

type meltAnswer struct {
	Sample      string   `json:"sample"`
	LiquidusC   *float64 `json:"liquidus_c"`
	LiquidusSDC *float64 `json:"liquidus_sd_c"`
	ModelSDC    *float64 `json:"model_sd_c"`
	AssaySDC    *float64 `json:"assay_sd_c"`
	FirstPhase  *string  `json:"first_phase"`
	InRange     bool     `json:"in_range"`
	CaOSiO2     *float64 `json:"cao_sio2"`
	CaOMgOSiO2  *float64 `json:"cao_mgo_sio2"`
	B4          *float64 `json:"cao_mgo_sio2_al2o3"`

	SolidusC    *float64        `json:"solidus_c"`
	THalfC      *float64        `json:"t_half_molten_c"`
	T90C        *float64        `json:"t_90_molten_c"`
	Phases      []phaseAnswer   `json:"phases"`
	FeOActivity *float64        `json:"a_feo"`
	SiActivity  *float64        `json:"a_sio2"`
	Reductions  []reducedAnswer `json:"reductions"`

	Silicate     *float64 `json:"silicate_degree"`
	NBOT         *float64 `json:"nbo_t"`
	Basicity     *float64 `json:"optical_basicity"`
	BasicityCorr *float64 `json:"optical_basicity_corrected"`
	Bachmann     *float64 `json:"bachmann_index"`

	AtC            float64             `json:"at_c"`
	LogPO2         float64             `json:"log_po2"`
	Viscosity      map[string]*float64 `json:"viscosity_pa_s"`
	ViscosityModel string              `json:"viscosity_model"`
	Density        *float64            `json:"density_kg_m3"`
	Tension        *float64            `json:"surface_tension_mn_m"`
	Ferric         *float64            `json:"fe3_fe_total"`
	CuDissolved    *float64            `json:"cu_dissolved_wt_pct"`
	CuDissolvedL   *float64            `json:"cu_dissolved_low_wt_pct"`
	CuDissolvedH   *float64            `json:"cu_dissolved_high_wt_pct"`
	Warnings       []string            `json:"warnings"`
}

// phaseAnswer is one mineral of the freezing, in the order of appearance.
type phaseAnswer struct {
	Phase     string   `json:"phase"`
	AppearsC  *float64 `json:"appears_c"`
	VanishesC *float64 `json:"vanishes_c"`
}

// reducedAnswer is the melt brought to three corners by one recipe.
type reducedAnswer struct {
	Recipe     string             `json:"recipe"`
	Corners    map[string]float64 `json:"corners_wt_pct"`
	CoveredPct float64            `json:"covered_wt_pct"`
	LiquidusC  *float64           `json:"liquidus_c"`
	FirstPhase string             `json:"first_phase"`
	OffC       *float64           `json:"off_c"`
}

// freezing fills in what the path of freezing, the activities and the
// reductions say.
func (a *meltAnswer) freezing(e phase.Estimate) {
	a.Phases, a.Reductions = []phaseAnswer{}, []reducedAnswer{}
	value := func(q quantity.Quantity) *float64 { return quantity.OrNull(q.Or(math.NaN())) }
	a.SolidusC, a.THalfC, a.T90C = value(e.Solidus()), value(e.MoltenAt(0.5)), value(e.MoltenAt(0.9))
	if e.Path != nil {
		for _, m := range e.Path.Minerals {
			a.Phases = append(a.Phases, phaseAnswer{string(m.Phase), quantity.OrNull(m.AppearsC), quantity.OrNull(m.VanishesC)})
		}
	}
	if e.Activities != nil {
		if x, ok := e.Activities.Of(slag.FeO); ok {
			a.FeOActivity = quantity.OrNull(x.Liquid)
		}
		if x, ok := e.Activities.Of(slag.SiO2); ok {
			a.SiActivity = quantity.OrNull(x.Liquid)
			if !math.IsNaN(x.Solid) {
				a.SiActivity = quantity.OrNull(x.Solid)
			}
		}
	}
	if e.Reductions == nil {
		return
	}
	for _, r := range e.Reductions.List {
		if r.Err != nil {
			continue
		}
		corners := map[string]float64{}
		for _, c := range r.Corners {
			corners[c.String()] = r.Wt[c]
		}
		a.Reductions = append(a.Reductions, reducedAnswer{r.Name, corners, 100 * r.Covered, quantity.OrNull(r.Liquidus.TC), string(r.Liquidus.First), quantity.OrNull(r.OffC)})
	}
}

func meltJSON(sample string, e phase.Estimate) meltAnswer {
	a := meltAnswer{Sample: sample, InRange: e.InRange, AssaySDC: quantity.OrNull(e.AssaySD), Warnings: []string{}}
	a.freezing(e)
	if e.Liquidus.Known() {
		a.LiquidusC, a.LiquidusSDC, a.ModelSDC = quantity.OrNull(e.Liquidus.Value), quantity.OrNull(e.Liquidus.U), quantity.OrNull(e.ModelSD)
		first := string(e.FirstPhase)
		a.FirstPhase = &first
	}
	index := func(key string) *float64 {
		v, ok := e.Index(key)
		if !ok || !v.Quantity.Known() {
			return nil
		}
		return quantity.OrNull(v.Quantity.Value)
	}
	a.CaOSiO2, a.CaOMgOSiO2, a.B4 = index("cao_sio2"), index("cao_mgo_sio2"), index("cao_mgo_sio2_al2o3")
	a.Silicate, a.NBOT, a.Bachmann = index("silicate_degree"), index("nbo_t"), index("bachmann_index")
	a.Basicity, a.BasicityCorr = index("optical_basicity"), index("optical_basicity_corrected")
	p := propertiesOf(e)
	a.AtC, a.LogPO2, a.ViscosityModel = p.TC, p.LogPO2, p.Chosen.Model.Key()
	a.Viscosity = map[string]*float64{}
	for _, v := range p.Viscosity {
		a.Viscosity[v.Model.Key()] = quantity.OrNull(v.Eta)
	}
	a.Density, a.Tension = quantity.OrNull(1000*p.Density.Value), quantity.OrNull(p.Tension.Value)
	if p.Iron != nil {
		a.Ferric = quantity.OrNull(p.Iron.FerricShare)
	}
	a.CuDissolved, a.CuDissolvedL, a.CuDissolvedH = quantity.OrNull(p.Copper.Hi), quantity.OrNull(p.Copper.Lo), quantity.OrNull(p.Copper.Hi)
	for _, n := range append(slices.Clone(e.Notices), p.Notices...) {
		if !slices.Contains(a.Warnings, n.Message) {
			a.Warnings = append(a.Warnings, n.Message)
		}
	}
	return a
}

// propertiesOf computes the properties at the conditions of an estimate; where
// they are an interval of oxygen potential, at its middle.
func propertiesOf(e phase.Estimate) phase.Properties {
	p := phase.PropertiesOf(e.Melt, e.Conditions.TC, (e.Conditions.LogPO2[0]+e.Conditions.LogPO2[1])/2)
	crystals := e.Crystals()
	if crystals == nil {
		return p
	}
	switch solid := crystals.SolidFraction(p.TC); {
	case p.TC <= e.Solidus().Or(math.Inf(-1)):
		p.Notices.Add(source.Warning, "BELOW_SOLIDUS", source.Cell{},
			"at %.0f °C, below its solidus, the slag is all crystals; the properties are those of a supercooled liquid of its composition", p.TC)
	case solid > 0:
		p.Notices.Add(source.Warning, "BELOW_LIQUIDUS_PROPERTIES", source.Cell{},
			"at %.0f °C %.0f wt%% of the slag is crystals; the properties are those of a liquid of its whole composition", p.TC, 100*solid)
	}
	return p
}

func printMelt(w io.Writer, sample string, many bool, e phase.Estimate, assumed bool) error {
	p := &linePrinter{w: w}
	if many {
		p.line("%s", sample)
	}
	if e.Liquidus.Known() {
		p.line("liquidus        %s   (model ± %.0f °C, one standard uncertainty)", e.Liquidus.WithUnit(), e.ModelSD)
		p.line("first crystals  %s", e.FirstPhase.Label())
		for _, n := range e.Near {
			p.line("then            %s at %.0f °C", n.Phase.Label(), n.TC)
		}
	} else {
		p.line("liquidus        none: %s", e.Liquidus.UNote)
	}
	if e.Path != nil {
		p.line("90 %% molten      %s", e.MoltenAt(0.9).WithUnit())
		p.line("half molten     %s", e.MoltenAt(0.5).WithUnit())
		p.line("solidus         %s", orReason(e.Solidus()))
		var order []string
		for _, m := range e.Path.Minerals {
			order = append(order, fmt.Sprintf("%s %.0f °C", m.Phase.Label(), m.AppearsC))
		}
		p.line("freezes as      %s", strings.Join(order, ", "))
	}
	for _, key := range []string{"cao_sio2", "cao_mgo_sio2", "cao_mgo_sio2_al2o3"} {
		if v, ok := e.Index(key); ok && v.Quantity.Known() {
			text, _ := quantity.Number(v.Quantity.Value, math.NaN())
			p.line("%-28s %s", v.Label, text)
		}
	}
	props := propertiesOf(e)
	note := ""
	if assumed {
		note = "   (assumed; set with --at and --log-po2)"
	}
	p.line("at %g °C and log pO2 %g%s, as a liquid:", props.TC, props.LogPO2, note)
	if v, err := props.ChosenViscosity(); err == nil {
		lo, hi := v.Within()
		p.line("  viscosity        %.2g Pa·s, %.2g to %.2g   (%s: %s)", v.Eta, lo, hi, v.Model.Name(), props.Chosen.Reason)
	}
	p.line("  density          %.0f kg/m³, %.0f to %.0f", 1000*props.Density.Value, 1000*props.Density.Lo, 1000*props.Density.Hi)
	p.line("  surface tension  %.0f mN/m, %.0f to %.0f", props.Tension.Value, props.Tension.Lo, props.Tension.Hi)
	if props.Iron != nil {
		p.line("  ferric iron      %.2g of all iron   (Kress & Carmichael 1991, extrapolated)", props.Iron.FerricShare)
	}
	p.line("  copper           %.2f to %.2f wt%% dissolved beside copper metal", props.Copper.Lo, props.Copper.Hi)
	if !e.InRange {
		p.line("outside the range in which the model was calibrated")
	}
	for _, n := range e.Notices {
		p.line("%s: %s", n.Severity, n.Message)
	}
	for _, n := range props.Notices {
		if strings.HasPrefix(n.Code, "BELOW_") {
			p.line("%s: %s", n.Severity, n.Message)
		}
	}
	if v, err := props.ChosenViscosity(); err == nil {
		for _, n := range v.Notices {
			p.line("%s: %s", n.Severity, n.Message)
		}
	}
	for _, a := range e.Assumptions {
		p.line("%s: %s", source.Note, a)
	}
	return p.err
}

// orReason prints a quantity, or why there is none.
func orReason(q quantity.Quantity) string {
	if q.Known() {
		return q.WithUnit()
	}
	return "none: " + q.UNote
}

// linePrinter keeps the first error of many writes.
type linePrinter struct {
	w   io.Writer
	err error
}

func (p *linePrinter) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}
