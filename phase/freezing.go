package phase

import (
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Freezing is a model that follows a melt below its liquidus and knows its
// activities. *melt.Model is one; an Estimator whose model is none leaves these
// parts of an estimate empty.
type Freezing interface {
	Solidify(slag.Wt) (melt.Path, error)
	Activities(w slag.Wt, tc float64) (melt.Activities, error)
	Reductions(w slag.Wt, recipes ...melt.Reduction) (melt.ReductionSpread, error)
}

// freeze fills in the path of freezing, the reductions and the activities at
// the working temperature, or at the liquidus where none is given.
func (e *Estimate) freeze(model Liquidus) {
	f, ok := model.(Freezing)
	if !ok || !e.Liquidus.Known() {
		return
	}
	path, err := f.Solidify(e.Melt.Wt)
	if err != nil {
		e.Notices.Add(source.Warning, "SOLIDIFICATION_NONE", source.Cell{}, "no path of freezing: %v", err)
	} else {
		e.Path = &path
		e.Notices = append(e.Notices, path.Notices...)
	}
	tc := e.Conditions.TC
	if tc == 0 {
		tc = e.Liquidus.Value
	}
	if a, err := f.Activities(e.Melt.Wt, tc); err != nil {
		e.Notices.Add(source.Warning, "ACTIVITIES_NONE", source.Cell{}, "no activities: %v", err)
	} else {
		e.Activities = &a
	}
	if r, err := f.Reductions(e.Melt.Wt); err == nil {
		e.Reductions = &r
	}
}

// MoltenAt returns the temperature in °C at which a share of the slag, 0 to 1,
// is liquid. Its uncertainty is taken to be that of the liquidus: the course
// of freezing has none of its own.
func (e Estimate) MoltenAt(share float64) quantity.Quantity {
	if e.Path == nil {
		q := quantity.None(quantity.Missing, math.NaN(), "°C")
		q.UNote = "the freezing could not be followed"
		return q
	}
	tc := e.Path.MoltenC(share)
	if math.IsNaN(tc) {
		q := quantity.None(quantity.Missing, math.NaN(), "°C")
		q.UNote = "below the end of the computed path"
		return q
	}
	return quantity.WithU(tc, e.Liquidus.U, "°C", "that of the liquidus; the course of freezing has none of its own", e.Liquidus.From...)
}

// Solidus returns the temperature in °C at which the last liquid freezes. It is
// a number only where the path reached it.
func (e Estimate) Solidus() quantity.Quantity {
	if e.Path == nil || (e.Path.End != melt.FrozenAtOnce && e.Path.End != melt.LastLiquid) {
		q := quantity.None(quantity.Missing, math.NaN(), "°C")
		q.UNote = "the path of freezing did not reach the solidus"
		return q
	}
	return quantity.WithU(e.Path.SolidusC, e.Liquidus.U, "°C", "that of the liquidus; the course of freezing has none of its own", e.Liquidus.From...)
}
