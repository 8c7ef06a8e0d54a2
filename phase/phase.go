// Package phase answers what a slag did in the furnace, from its composition:
// when it was all molten, what crystallised first, how basic and how stiff it
// was, and how much of its copper was dissolved.
//
// An Estimator joins the models of the packages below: slag brings the
// composition to the melt basis, melt gives the liquidus, index the ratios and
// copper the copper. Its answer keeps the error of the analysis and that of
// the model apart, names every assumption, and carries the notices of the
// models where they were used outside their range.
package phase

import (
	"context"
	"errors"
	"fmt"
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/index"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Conditions are what has to be known or assumed beside the composition. What
// is left at zero is assumed, and the Estimate says how.
type Conditions struct {
	TC     float64    // °C at which the slag was last liquid beside copper; 0: the liquidus stands for it
	LogPO2 [2]float64 // log10 of the oxygen pressure in bar, low and high; both 0: from iron-wüstite to quartz-fayalite-magnetite
	Seed   uint64     // of the draws
	Draws  int        // melts drawn within the uncertainty of the analysis; 0: DefaultDraws
	// LimitShare is the share of its limit, 0 to 1, as which a part below
	// detection counts in the melt.
	LimitShare float64
}

// DefaultDraws gives standard deviations to 2.2 %.
const DefaultDraws = 1000

// Liquidus is a model of the temperature above which a melt has no crystals.
// *melt.Model is one.
type Liquidus interface {
	Liquidus(slag.Wt) (melt.Liquidus, error)
	Spread(ctx context.Context, m slag.Melt, draws int, seed uint64) (melt.Spread, error)
}

// Estimator answers about compositions. It holds no state but its model and
// may be used by any number of goroutines if the model may.
type Estimator struct {
	model Liquidus
}

// New returns an estimator with the liquidus model of package melt.
func New() (*Estimator, error) {
	m, err := melt.Default()
	if err != nil {
		return nil, fmt.Errorf("liquidus model: %w", err)
	}
	return NewWith(m), nil
}

// NewWith returns an estimator with a liquidus model of the caller's.
func NewWith(model Liquidus) *Estimator { return &Estimator{model} }

// Estimate is everything computed of one composition.
type Estimate struct {
	Melt       slag.Melt
	Conditions Conditions // as used: nothing left to assume but what Assumptions names

	Liquidus   quantity.Quantity // °C; U joins AssaySD and ModelSD
	AssaySD    float64           // °C, from the uncertainty of the analysis; NaN where it has none
	ModelSD    float64           // °C, the model's own error
	Spread     melt.Spread       // of the draws; Draws is 0 where there were none
	FirstPhase melt.Phase
	Near       []melt.PhaseAt // minerals that follow closely
	InRange    bool           // of the liquidus model
	// WithLimits is the liquidus, °C, with parts below detection counted as zero
	// and as their limits; NaN where nothing is below a stated limit.
	WithLimits [2]float64

	Path       *melt.Path            // freezing; nil where it could not be followed
	Activities *melt.Activities      // at the working temperature; nil where there are none
	Reductions *melt.ReductionSpread // on three corners by the usual recipes; nil where there are none

	Indices []index.Value
	Copper  *copper.Loss // nil where nothing can be said; Notices say why

	Notices     source.Notices
	Assumptions []string // plain sentences without full stop
}

// Index returns the index with the given key; ok is false where there is none
// of that name.
func (e Estimate) Index(key string) (v index.Value, ok bool) {
	for _, v := range e.Indices {
		if v.Key == key {
			return v, true
		}
	}
	return index.Value{}, false
}

// Estimate answers about one composition, in wt% of any sum. It fails where
// the composition has no melt, the conditions make no sense or ctx ends; a
// model that cannot answer leaves its part of the estimate empty, with a
// notice. The composition's basis matters for copper alone, which is taken as
// given: hand in the analysis as reported, not normalised.
func (e *Estimator) Estimate(ctx context.Context, c chem.Composition, cond Conditions) (Estimate, error) {
	if err := ctx.Err(); err != nil {
		return Estimate{}, err
	}
	if err := cond.check(); err != nil {
		return Estimate{}, err
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		return Estimate{}, err
	}
	m = m.Counting(cond.LimitShare)
	est := Estimate{Melt: m, Conditions: cond, AssaySD: math.NaN(), ModelSD: math.NaN(), WithLimits: [2]float64{math.NaN(), math.NaN()}}
	if cond.Draws == 0 {
		est.Conditions.Draws = DefaultDraws
	}
	cells := meltCells(c, m)
	est.assumeMelt(c)
	if err := est.melting(ctx, e.model, cells); err != nil {
		return Estimate{}, err
	}
	est.freeze(e.model)
	est.Indices = index.TableOf(m, est.Conditions.Draws, cond.Seed)
	for i := range est.Indices {
		est.Indices[i].Quantity.From = cells
	}
	if err := est.copperIn(c); err != nil {
		return Estimate{}, err
	}
	return est, nil
}

func (c Conditions) check() error {
	switch lo, hi := c.LogPO2[0], c.LogPO2[1]; {
	case math.IsNaN(c.TC) || math.IsInf(c.TC, 0) || c.TC < 0:
		return fmt.Errorf("a working temperature of %g °C is not possible; give one in °C, or 0 to let the liquidus stand for it", c.TC)
	case math.IsNaN(lo) || math.IsNaN(hi) || math.IsInf(lo, 0) || math.IsInf(hi, 0) || lo > hi:
		return fmt.Errorf("log pO2 from %g to %g is no interval; give the lower value first", lo, hi)
	case !(c.LimitShare >= 0 && c.LimitShare <= 1):
		return fmt.Errorf("a share of %g of the limit of detection is impossible; give one from 0 to 1", c.LimitShare)
	case c.Draws < 0 || c.Draws == 1:
		return fmt.Errorf("%d draws give no spread; give at least 2, or 0 for %d", c.Draws, DefaultDraws)
	}
	return nil
}

// melting fills in the liquidus and what belongs to it.
func (e *Estimate) melting(ctx context.Context, model Liquidus, cells []source.Cell) error {
	l, err := model.Liquidus(e.Melt.Wt)
	if err != nil {
		e.Liquidus = quantity.None(quantity.Missing, math.NaN(), "°C", cells...)
		e.Liquidus.UNote = err.Error()
		e.Notices.Add(source.Warning, "NO_LIQUIDUS", source.Cell{}, "no liquidus: %v", err)
		return nil
	}
	e.ModelSD, e.FirstPhase, e.Near, e.InRange = l.ModelSD, l.First, l.Near, l.InRange
	e.tryLimits(model)
	e.Notices = append(e.Notices, l.Notices...)
	u, note := l.ModelSD, "the model's error alone: the analysis carries no uncertainty"
	if e.Melt.HasU() {
		spread, err := model.Spread(ctx, e.Melt, e.Conditions.Draws, e.Conditions.Seed)
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case errors.Is(err, melt.ErrNoUncertainty):
		case err != nil:
			note = fmt.Sprintf("the model's error alone: %v", err)
			e.Notices.Add(source.Warning, "NO_LIQUIDUS_SPREAD", source.Cell{}, "the uncertainty of the analysis could not be carried to the liquidus: %v", err)
		default:
			e.Spread, e.AssaySD = spread, spread.SD
			u = math.Hypot(spread.SD, l.ModelSD)
			note = fmt.Sprintf("the model's error (%.0f °C) and that of the analysis (%.0f °C, %d draws, seed %d) combined",
				l.ModelSD, spread.SD, spread.Draws, e.Conditions.Seed)
		}
	}
	e.Liquidus = quantity.WithU(l.TC, u, "°C", note, cells...)
	return nil
}

// tryLimits asks how far what was not detected could move the liquidus.
func (e *Estimate) tryLimits(model Liquidus) {
	if len(e.Melt.Below) == 0 {
		return
	}
	for i, share := range [2]float64{0, 1} {
		if l, err := model.Liquidus(e.Melt.Counting(share).Wt); err == nil {
			e.WithLimits[i] = l.TC
		}
	}
}

// meltCells returns the cells behind the melt, each once, in the order of the
// parts.
func meltCells(c chem.Composition, m slag.Melt) []source.Cell {
	out := map[string]bool{}
	for _, p := range m.LeftOut {
		out[p.ID] = true
	}
	var cells []source.Cell
	seen := map[source.Cell]bool{}
	for _, p := range c.Parts {
		if out[p.ID] || !c.Counts(p.ID) {
			continue
		}
		for _, cell := range p.From {
			if !seen[cell] {
				seen[cell] = true
				cells = append(cells, cell)
			}
		}
	}
	return cells
}
