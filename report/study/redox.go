package study

import (
	"fmt"
	"math"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/redox"
	"smeltbook/phase/slag"
)

// Seen is what was seen in or beside a slag.
type Seen struct {
	Copper, Iron redox.Presence // as metal
}

// AssumedSeen is taken where nobody says otherwise: the slag of a copper
// smelting furnace lay beside copper, and no iron metal was noticed.
func AssumedSeen() Seen { return Seen{Copper: redox.Present, Iron: redox.Absent} }

// Window is the window of oxygen potential of one slag, or why it has none.
type Window struct {
	redox.Window
	Ferric    quantity.Quantity // share of the iron, by titration; no number where FerricWhy says why not
	FerricWhy string
	Ignored   bool   // ferric iron contradicts the rest and was left out
	Why       string // why there is no window
	Notices   source.Notices
}

// Window gathers what bounds the oxygen potential of a sample at a temperature
// in °C: what was seen, its copper and its ferric iron, each within twice its
// standard uncertainty.
func (s *Study) Window(sample *assay.Sample, tc float64, seen Seen) Window {
	none := quantity.None(quantity.Missing, math.NaN(), "1")
	est, why, ok := s.Estimate(sample.ID)
	if !ok {
		return Window{Why: why, Ferric: none}
	}
	out := Window{Ferric: none}
	ev := redox.Evidence{CopperMetal: seen.Copper, IronMetal: seen.Iron}
	if est.Melt.Wt.AllFeO().Mol()[slag.FeO] <= 0 {
		ev.IronMetal = redox.NotLookedFor
	}
	out.ferricIron(sample, &ev)
	if total, ok := copper.TotalCopper(sample.AsReported); ok && seen.Copper == redox.Present {
		bound, err := copper.OxygenFromTotal(tc, total, 1, copper.Fayalitic())
		if err == nil {
			ev.Others = append(ev.Others, bound)
		} else {
			out.Notices.Add(source.Note, "NO_COPPER_BOUND", source.Cell{}, "the copper of the slag bounds nothing: %v", err)
		}
	}
	w, err := redox.WindowOf(est.Melt.Wt, tc, ev)
	if err != nil {
		out.Why = err.Error()
		out.Notices.Add(source.Warning, "NO_WINDOW", source.Cell{}, "no window: %v", err)
		return out
	}
	out.Window = w
	for _, n := range w.Notices {
		if n.Code == "OXYGEN_BOUND_IGNORED" {
			out.Ignored = true
			n.Message = "ferric iron gives an oxygen potential outside what the other observations leave (see the table); it is the less sure witness and is not used"
		}
		out.Notices.AddNew(source.Notices{n})
	}
	return out
}

// ferricIron takes the titration into the evidence, within twice its
// uncertainty.
func (w *Window) ferricIron(sample *assay.Sample, ev *redox.Evidence) {
	q, why, ok := FerricShare(sample)
	if !ok {
		w.FerricWhy = why
		return
	}
	w.Ferric = q
	u := 0.0
	if q.HasU() {
		u = q.U
	}
	// Copper metal and sulphide may have been titrated as ferrous iron: then
	// more of the iron is ferric, never less.
	feigned, atMost := falseFerrous(sample)
	if atMost {
		w.Ferric.UNote += fmt.Sprintf("; a least: were all copper metal and all sulphur sulphide, %.0f %% of the iron", 100*math.Min(q.Value+feigned, 1))
	}
	lo, hi := math.Max(q.Value-2*u, 0), q.Value+2*u+feigned
	switch {
	case hi <= 0:
		w.Notices.Add(source.Warning, "FERRIC_BELOW_ZERO", source.Cell{},
			"titrated FeO exceeds total iron by more than twice the uncertainty of both; one of the two is wrong and ferric iron is not used")
	case hi >= 1:
		w.Notices.Add(source.Warning, "FERRIC_ALL", source.Cell{}, "within its uncertainty all iron may be ferric; the titration bounds nothing")
	default:
		ev.FerricShare = [2]float64{lo, hi}
	}
}
