package plan

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/charge"
	"smeltbook/phase/slag"
	"smeltbook/report/notebook"
	"smeltbook/report/study"
)

// What a plan aims at among mixtures that meet the target.
const (
	LeastFlux  = "least_flux"
	LeastSlag  = "least_slag"
	MostCopper = "most_copper"
)

// Aims lists what a plan may aim at.
func Aims() []string { return []string{LeastFlux, LeastSlag, MostCopper} }

// Assumed where the notebook is silent.
const (
	usualLiquidus = 1200.0 // °C, in the middle of what small furnaces do (common practice)
	usualBatch    = 0.5    // kg of ore
	usualBatches  = 10
	usualScale    = 0.01 // kg
	usualCharcoal = 2.0  // kg for a kg of ore, the upper end of small bowls (common practice)
	usualAsh      = 3.0  // wt% of charcoal, in the middle of 1.5 to 5 (common practice)
	usualAshU     = 1.0
	usualMostFlux = 1.0 // kg for a kg of ore
)

// Bulk densities in kg/L by which a volume is filled (common practice): crushed
// ore and flux, charcoal.
const stoneBulk, charcoalBulk = 1.6, 0.22

// Stock is an ore or a flux of the plan.
type Stock struct {
	Material balance.Material
	Bound    charge.Bound
	Store    *float64 // kg there are
	Samples  []*assay.Sample
	Line     int
}

// Settings are what a plan rests on: the notebook's word or what was assumed.
type Settings struct {
	Ores, Fluxes []Stock
	Others       []balance.Material // ash and lining, Mass for a kilogram of ore
	OtherSamples []*assay.Sample
	Target       []charge.Term
	AtC          float64
	Batch        float64 // kg of ore
	Batches      int
	Volume       float64           // litres; 0 where the batch is stated
	Charcoal     quantity.Quantity // kg for a kg of ore
	Scale        float64           // kg
	Behaviour    balance.Behaviour
	Aim          string
	Mineral      dressing.Mineral
	Assumed      []string // plain sentences without full stop
	Warnings     source.Notices
}

// settle makes the settings out of what the notebook says.
func settle(c *assay.Campaign, n *notebook.Notebook) (Settings, source.Notices) {
	t := &settler{c: c, cfg: n.Charge, file: n.File}
	if t.cfg == nil || len(t.cfg.Ores) == 0 {
		line := 0
		if t.cfg != nil {
			line = t.cfg.Line
		}
		t.notices.Add(source.Error, "NO_CHARGE", source.Line(t.file, line), "no charge is planned here; add lines such as charge: {ores: {%s: }, fluxes: {%s: }} to the first lines of the notebook, or name an ore with --ore", t.example(assay.Ore, "MY-ORE"), t.example(assay.Flux, "MY-FLUX"))
		return t.Settings, t.notices
	}
	cond := study.ConditionsOf(n.Seed, n.Draws)
	t.Behaviour = balance.Usual()
	t.Behaviour.Draws, t.Behaviour.Seed = cond.Draws, cond.Seed
	for _, s := range t.cfg.Ores {
		t.Ores = t.stock(t.Ores, s, assay.Ore, charge.Bound{Lo: 0, Hi: 1})
	}
	for _, s := range t.cfg.Fluxes {
		t.Fluxes = t.stock(t.Fluxes, s, assay.Flux, charge.Bound{Lo: 0, Hi: usualMostFlux})
	}
	t.words()
	t.target()
	t.size()
	t.stored()
	t.shares()
	t.fuel()
	t.lining()
	t.slagCopper()
	return t.Settings, t.notices
}

type settler struct {
	Settings
	c       *assay.Campaign
	cfg     *notebook.Charge
	file    string
	notices source.Notices
}

// fail tells of a line of the notebook; what the call says over it has none.
func (t *settler) fail(line int, code, format string, args ...any) {
	at := source.Cell{}
	if line > 0 {
		at = source.Line(t.file, line)
	}
	t.notices.Add(source.Error, code, at, format, args...)
}

func (t *settler) assume(format string, args ...any) {
	t.Assumed = append(t.Assumed, fmt.Sprintf(format, args...))
}

func (t *settler) example(kind, otherwise string) string {
	if names := t.stocks(kind); len(names) > 0 {
		return names[0]
	}
	return otherwise
}

// stocks are the names of the stocks of a kind that are analysed.
func (t *settler) stocks(kind string) []string {
	var out []string
	for _, s := range Own(t.c, kind) {
		name := StockOf(s.ID)
		if len(t.c.OfStock(name, kind)) < 2 {
			name = s.ID
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// stock adds what the notebook says of an ore or a flux. Any ore, flux or slag
// may serve as either.
func (t *settler) stock(list []Stock, s notebook.ChargeStock, kind string, usual charge.Bound) []Stock {
	samples := OfName(t.c, s.Name, assay.Ore, assay.Flux, assay.Slag)
	if len(samples) == 0 {
		t.fail(s.Line, "UNKNOWN_STOCK", "no sample is %q or taken from it, so it cannot be charged%s", s.Name, source.DidYouMean(s.Name, append(t.stocks(assay.Ore), t.stocks(assay.Flux)...)))
		return list
	}
	m, err := Material(s.Name, samples)
	if err != nil {
		t.notices.Add(source.Error, "STOCK_NOT_ANALYSED", samples[0].At, "%s is to be charged (%s) but has no analysis; have it analysed, or name a stock that is", s.Name, source.Line(t.file, s.Line))
		return list
	}
	m.Kind = kind
	if s.Moisture != nil {
		if !(*s.Moisture >= 0 && *s.Moisture < 100) {
			t.fail(s.Line, "BAD_RANGE", "%g wt%% moisture of %s is impossible; give 0 to 100", *s.Moisture, s.Name)
			return list
		}
		m.Moisture = quantity.WithU(*s.Moisture, 0, "wt%", "stated in the notebook")
	}
	if s.Store != nil && !(*s.Store >= 0) {
		t.fail(s.Line, "BAD_RANGE", "%g kg of %s in store is impossible; give zero or more", *s.Store, s.Name)
		return list
	}
	out := Stock{Material: m, Bound: usual, Store: s.Store, Samples: samples, Line: s.Line}
	switch {
	case s.Limits != nil:
		out.Bound = charge.Bound{Lo: s.Limits.Lo, Hi: s.Limits.Hi}
	case kind == assay.Flux:
		t.assume("at most %g kg %s for a kg of ore", usual.Hi, s.Name)
	case len(t.cfg.Ores) > 1:
		t.assume("any share of %s", s.Name)
	}
	if kind == assay.Flux && out.Bound.Hi > charge.MostFlux {
		t.fail(s.Line, "BAD_RANGE", "%g kg %s for a kg of ore is more than a charge can be; give at most %g", out.Bound.Hi, s.Name, charge.MostFlux)
		return list
	}
	return append(list, out)
}

// stored lets no more be charged of a stock than there is, where the weight of
// all ore is known.
func (t *settler) stored() {
	ore := t.Batch * float64(t.Batches)
	for _, list := range [][]Stock{t.Ores, t.Fluxes} {
		for i, s := range list {
			if s.Store == nil || ore == 0 || *s.Store/ore >= s.Bound.Hi {
				continue
			}
			most := *s.Store / ore
			if most < s.Bound.Lo {
				t.fail(s.Line, "STORE", "%s: %g kg in store are less than the %.3g kg that %d batches take at the least; plan fewer, or lower its limit", s.Material.Name, *s.Store, s.Bound.Lo*ore, t.Batches)
				continue
			}
			list[i].Bound.Hi = most
			t.assume("at most %.2g kg %s for a kg of ore, for %g kg are in store", most, s.Material.Name, *s.Store)
		}
	}
}

// shares asks whether the shares of the ores can sum to one.
func (t *settler) shares() {
	lo, hi := 0.0, 0.0
	for _, s := range t.Ores {
		lo, hi = lo+s.Bound.Lo, hi+s.Bound.Hi
	}
	if len(t.notices) == 0 && (lo > 1+1e-9 || hi < 1-1e-9) {
		t.fail(t.cfg.Ores[0].Line, "SHARES", "the shares of the ores sum to at least %g and at most %g, but all ore is 1; widen them, or plan fewer batches where the store is short", lo, hi)
	}
}

func (t *settler) words() {
	if t.Aim = t.cfg.Aim; t.Aim == "" {
		t.Aim = LeastFlux
		t.assume("of the mixtures that meet the target the one with least flux (aim: least_flux)")
	}
	if !slices.Contains(Aims(), t.Aim) {
		t.fail(t.cfg.Line, "UNKNOWN_WORD", "\"aim\" of the charge is %q; use %s", t.Aim, strings.Join(Aims(), ", "))
	}
	name := t.cfg.Mineral
	if name == "" {
		name = "malachite"
		t.assume("the copper mineral of the ore is malachite")
	}
	var ok bool
	if t.Mineral, ok = dressing.LookupMineral(name); !ok {
		t.fail(t.cfg.Line, "UNKNOWN_WORD", "\"mineral\" of the charge is %q, which is not known%s", name, source.DidYouMean(name, dressing.Minerals()))
	}
}

func (t *settler) target() {
	if t.AtC = study.DefaultTC; t.cfg.At != nil {
		t.AtC = *t.cfg.At
	} else {
		t.assume("viscosity and heat at %g °C", t.AtC)
	}
	if !(t.AtC >= 1100 && t.AtC <= 1400) {
		t.fail(t.cfg.Line, "BAD_RANGE", "\"at\" of the target is %g °C; slag is judged from 1100 to 1400", t.AtC)
	}
	if len(t.cfg.Target) == 0 {
		t.Target = []charge.Term{charge.AtMost(charge.Liquidus, usualLiquidus)}
		t.assume("a liquidus of at most %g °C is wanted, for no target is stated", usualLiquidus)
	}
	for _, l := range t.cfg.Target {
		term, err := termOf(l, t.AtC)
		if err == nil {
			err = charge.Check([]charge.Term{term})
		}
		if err != nil {
			t.fail(l.Line, "BAD_TARGET", "%v", err)
			continue
		}
		t.Target = append(t.Target, term)
	}
	if !t.notices.Failed() {
		if err := charge.Check(t.Target); err != nil {
			t.fail(t.cfg.Target[0].Line, "BAD_TARGET", "the target is contradictory: %v; widen one of them", err)
		}
	}
}

// termOf understands what the notebook asks of the slag.
func termOf(l notebook.ChargeLimit, at float64) (charge.Term, error) {
	term := charge.Term{Lo: l.Span.Lo, Hi: l.Span.Hi, AtC: at}
	switch l.Of {
	case "liquidus":
		if term.Of = charge.Liquidus; term.Hi < 900 || term.Hi > 1700 {
			return term, fmt.Errorf("a liquidus of %g °C is no aim for a slag; give 900 to 1700", term.Hi)
		}
		return term, nil
	case "viscosity":
		if term.Of = charge.Viscosity; !(term.Hi > 0) {
			return term, fmt.Errorf("a viscosity of %g Pa·s is impossible; give a number above zero", term.Hi)
		}
		return term, nil
	}
	over, under, ratio := strings.Cut(l.Of, "/")
	var ok bool
	if term.Over, ok = oxide(over); !ok {
		return term, fmt.Errorf("%q is nothing that can be asked of a slag; use liquidus, viscosity, at, an oxide such as SiO2 or a ratio such as FeO/SiO2", l.Of)
	}
	if term.Of = charge.Content; !ratio {
		return term, nil
	}
	term.Of = charge.Ratio
	if term.Under, ok = oxide(under); !ok {
		return term, fmt.Errorf("%q in %q is no oxide of a slag; write as in FeO/SiO2", under, l.Of)
	}
	return term, nil
}

func oxide(name string) (slag.Oxide, bool) {
	for o := slag.Oxide(0); o < slag.NumOxides; o++ {
		if strings.EqualFold(o.String(), strings.TrimSpace(name)) {
			return o, true
		}
	}
	return 0, false
}

func (t *settler) size() {
	if t.Scale = usualScale; t.cfg.Scale != nil {
		t.Scale = *t.cfg.Scale
	} else {
		t.assume("a weighing is good to ± %g kg", t.Scale)
	}
	if t.Batches = usualBatches; t.cfg.Batches != nil {
		t.Batches = *t.cfg.Batches
	} else {
		t.assume("%d batches", t.Batches)
	}
	switch {
	case t.cfg.Batch != nil && t.cfg.Volume != nil:
		t.fail(t.cfg.Line, "BATCH_TWICE", "the charge states both \"batch\" and \"volume\"; keep one")
	case t.cfg.Volume != nil:
		t.Volume = *t.cfg.Volume
		t.assume("ore and flux fill %g kg/L and charcoal %g kg/L of the furnace", stoneBulk, charcoalBulk)
	case t.cfg.Batch != nil:
		t.Batch = *t.cfg.Batch
	default:
		t.Batch = usualBatch
		t.assume("%g kg of ore in a batch", t.Batch)
	}
}

func (t *settler) fuel() {
	t.Charcoal = PerOre(t.c, "charcoal")
	switch {
	case t.cfg.Charcoal != nil:
		t.Charcoal = quantity.WithU(*t.cfg.Charcoal, 0, "kg", "stated in the notebook")
	case t.Charcoal.Known():
		t.assume("%s kg charcoal for a kg of ore, as the firings had it", t.Charcoal.Text())
	default:
		t.Charcoal = quantity.New(usualCharcoal, "kg", "assumed")
		t.assume("%g kg charcoal for a kg of ore", usualCharcoal)
	}
	part := t.cfg.Ash
	if part == nil {
		part = &notebook.ChargePart{}
	}
	percent := t.amount(part, "ash", "wt% of the charcoal", 30)
	if !percent.Known() {
		if percent = MeanPercent(t.c, "charcoal ash"); percent.Known() {
			t.assume("%s wt%% ash in the charcoal, as the field sheet has it", percent.Text())
		} else {
			percent = quantity.WithU(usualAsh, usualAshU, "%", "assumed")
			t.assume("%s wt%% ash in the charcoal", percent.Text())
		}
	}
	if len(part.Of) == 1 {
		for _, a := range balance.ExampleAshes() {
			if a.Name == part.Of[0] {
				t.Warnings.Add(source.Warning, "ASH_UNVERIFIED", source.Line(t.file, part.Line), "the ash of %s is an example (%s); an analysis of your own ash is far better", a.Name, a.Source)
				t.Others = append(t.Others, balance.Material{Name: "ash of " + a.Name, Kind: assay.Ash, Mass: AshOf(t.Charcoal, percent), Composition: a.Composition})
				return
			}
		}
	}
	t.other(part, assay.Ash, "fuel ash", AshOf(t.Charcoal, percent), "name one of your own with ash: {of: …}, or an example: beech bark, poplar or pine bark")
}

func (t *settler) lining() {
	part := t.cfg.Lining
	if part == nil {
		part = &notebook.ChargePart{}
	}
	kg := t.amount(part, "lining", "kg for a kg of ore", 5)
	if !kg.Known() {
		if kg = PerOre(t.c, "lining lost"); kg.Known() {
			t.assume("%s kg of wall melt for a kg of ore, as the firings lost it", kg.Text())
		}
	}
	t.other(part, assay.Lining, "wall", kg, "say how much melts with lining: {per_ore: …}, weighed before and after a firing")
}

// amount is a stated amount with its uncertainty.
func (t *settler) amount(part *notebook.ChargePart, name, unit string, most float64) quantity.Quantity {
	if part.Amount == nil {
		return quantity.Quantity{Class: quantity.Missing}
	}
	if !(*part.Amount >= 0 && *part.Amount <= most) || part.U != nil && !(*part.U >= 0) {
		t.fail(part.Line, "BAD_RANGE", "%q of the charge is in %s, from 0 to %g with an uncertainty of zero or more", name, unit, most)
	}
	u := 0.0
	if part.U != nil {
		u = *part.U
	}
	return quantity.WithU(*part.Amount, u, unit, "stated in the notebook")
}

// other adds ash or lining where amount and analysis are known.
func (t *settler) other(part *notebook.ChargePart, kind, name string, kg quantity.Quantity, what string) {
	samples := Own(t.c, kind)
	if len(part.Of) > 0 {
		samples = nil
		for _, of := range part.Of {
			found := OfName(t.c, of, kind)
			if len(found) == 0 {
				t.fail(part.Line, "UNKNOWN_STOCK", "no sample of the kind %s is %q or taken from it%s", kind, of, source.DidYouMean(of, t.stocks(kind)))
				return
			}
			samples = append(samples, found...)
		}
	}
	m, err := Material(name, samples)
	if err != nil || !kg.Known() {
		t.Warnings.Add(source.Warning, "LEFT_OUT", source.Line(t.file, t.cfg.Line), "%s is left out of the slag, for its %s is not known; %s", name, map[bool]string{true: "analysis", false: "amount"}[err != nil], what)
		return
	}
	if !kg.HasU() {
		kg.U = 0
	}
	m.Mass = kg
	t.Others, t.OtherSamples = append(t.Others, m), append(t.OtherSamples, samples...)
}

func (t *settler) slagCopper() {
	xs := t.cfg.SlagCopper
	if len(xs) == 0 {
		h := t.Behaviour
		t.assume("the slag keeps %s wt%% Cu and %s wt%% S, %s of the sulphur and %s of the alkalis stay", h.CopperInSlag.Text(), h.SlagSulphur.Text(), h.SulphurKept.Text(), h.AlkalisKept.Text())
		return
	}
	u := 0.0
	if len(xs) == 2 {
		u = xs[1]
	}
	if len(xs) > 2 || !(xs[0] >= 0 && xs[0] <= 60) || !(u >= 0) {
		t.fail(t.cfg.Line, "BAD_RANGE", "\"slag_copper\" takes the wt%% Cu of the slag and its standard uncertainty, as in [1.0, 0.3], not %v", xs)
		return
	}
	t.Behaviour.CopperInSlag = quantity.WithU(xs[0], u, "wt%", "stated in the notebook")
	h := t.Behaviour
	t.assume("the slag keeps %s wt%% S, %s of the sulphur and %s of the alkalis stay", h.SlagSulphur.Text(), h.SulphurKept.Text(), h.AlkalisKept.Text())
}
