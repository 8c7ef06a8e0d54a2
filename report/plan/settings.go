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
