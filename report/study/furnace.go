package study

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/phase/lining"
)

// furnaceVariable is a variable of the furnace models: of a slag at a
// temperature, or of the clay of a wall.
type furnaceVariable struct {
	key, label, unit string
	hot              bool // holds at a temperature
	of               func(s *Study, a *assay.Sample, tc float64) quantity.Quantity
	model            func(q quantity.Quantity) float64 // what the samples share of the uncertainty
	log              bool
	decimals         int
}

func furnaceVariables() []furnaceVariable {
	list := []furnaceVariable{
		{"viscosity", "viscosity", "Pa·s", true, (*Study).viscosity, func(q quantity.Quantity) float64 { return q.Value * math.Log(flow.Band) }, true, 0},
		{"density", "density of the liquid", "g/cm³", true, (*Study).density, func(q quantity.Quantity) float64 { return q.Value * flow.DensityBand / 2 }, false, 0},
		{"log_fo2_low", "least log fO2", "log bar", true, func(s *Study, a *assay.Sample, tc float64) quantity.Quantity { return s.windowEnd(a, tc, false) }, nil, false, 1},
		{"log_fo2_high", "greatest log fO2", "log bar", true, func(s *Study, a *assay.Sample, tc float64) quantity.Quantity { return s.windowEnd(a, tc, true) }, nil, false, 1},
		{"ferric_share", "share of ferric iron", "1", false, func(_ *Study, a *assay.Sample, _ float64) quantity.Quantity {
			q, why, ok := FerricShare(a)
			if !ok {
				return without("1", why)
			}
			return q
		}, nil, false, 0},
	}
	for i, name := range [...]string{"as_oxide", "as_sulphide", "as_metal", "unreduced"} {
		for _, high := range []bool{false, true} {
			end, word := "low", "least"
			if high {
				end, word = "high", "greatest"
			}
			list = append(list, furnaceVariable{"cu_" + name + "_" + end, word + " copper " + copperWords[i], "wt%", true,
				func(s *Study, a *assay.Sample, tc float64) quantity.Quantity { return s.copperEnd(a, tc, i, high) }, nil, false, 2})
		}
	}
	for _, x := range lining.Indices() {
		list = append(list, furnaceVariable{x.Key, x.Label, x.Unit, false,
			func(_ *Study, a *assay.Sample, _ float64) quantity.Quantity { return wallIndex(a, x) }, nil, false, 0})
	}
	return list
}

var copperWords = [...]string{"dissolved as oxide", "bound to sulphur", "as entrained metal", "unreduced or weathered"}

// furnace returns a variable of the furnace models. "viscosity@1250" holds at
// 1250 °C; without a temperature it is that of the study's conditions.
func (s *Study) furnace(key string) (Variable, bool, error) {
	name, at, hot := strings.Cut(key, "@")
	tc := s.Conditions.TC
	for _, f := range furnaceVariables() {
		if f.key != name {
			continue
		}
		if hot && !f.hot {
			return Variable{}, false, unknownVariable("%q holds at no temperature; write %q", key, name)
		}
		if hot {
			x, err := strconv.ParseFloat(at, 64)
			if err != nil || !(x >= 900 && x <= 1700) {
				return Variable{}, false, unknownVariable("%q: behind @ stands a temperature in °C, from 900 to 1700, as in \"%s@1250\"", key, name)
			}
			tc = x
		}
		v := Variable{Key: key, Label: f.label, Unit: f.unit, Log: f.log, Decimals: f.decimals, Of: func(a *assay.Sample) quantity.Quantity { return f.of(s, a, tc) }}
		if f.hot {
			v.Label = fmt.Sprintf("%s at %.0f °C", f.label, tc)
		}
		if f.model != nil {
			v.Model = func(samples []*assay.Sample) float64 {
				var sum, n float64
				for _, a := range samples {
					if q := v.Of(a); q.Known() {
						sum += f.model(q)
						n++
					}
				}
				return sum / max(n, 1)
			}
		}
		return v, true, nil
	}
	return Variable{}, false, nil
}

func unknownVariable(format string, args ...any) error {
	return source.Notice{Severity: source.Error, Code: "UNKNOWN_VARIABLE", Message: fmt.Sprintf(format, args...)}
}

func (s *Study) furnaceKeys() []string {
	var keys []string
	for _, f := range furnaceVariables() {
		keys = append(keys, f.key)
	}
	return keys
}

// without is a quantity that holds no number, with the reason.
func without(unit, why string) quantity.Quantity {
	q := missing(unit)
	q.UNote = why
	return q
}

// viscosity is that of the slag with its crystals, by the model of its iron.
// Its standard uncertainty takes the factor within which models are to be
// trusted as one standard deviation of ln η, together with what the
// uncertainty of the analysis does.
func (s *Study) viscosity(a *assay.Sample, tc float64) quantity.Quantity {
	e, why, ok := s.Estimate(a.ID)
	if !ok {
		return without("Pa·s", why)
	}
	f, err := flow.New(e.Melt.Wt, flow.Settings{Crystals: s.Crystals(a.ID)})
	if err != nil {
		return without("Pa·s", err.Error())
	}
	at, err := f.At(tc)
	if err != nil {
		return without("Pa·s", err.Error())
	}
	logSD, note := math.Log(flow.Band), fmt.Sprintf("%s, a factor of %g; the analysis carries no uncertainty", f.Model.Name(), flow.Band)
	if spread, err := flow.SpreadOf(e.Melt, f.Model, tc, e.Conditions.Draws, e.Conditions.Seed); err == nil {
		logSD = math.Hypot(logSD, math.Log(spread.EtaFactor))
		note = fmt.Sprintf("%s, a factor of %g for the model and of %.2f for the analysis (%d draws, seed %d)", f.Model.Name(), flow.Band, spread.EtaFactor, spread.Draws, spread.Seed)
	}
	return quantity.WithU(at.Eta, at.Eta*logSD, "Pa·s", note, e.Liquidus.From...)
}

// density is that of the liquid after Mills & Keene, within its band, which is
// taken as two standard deviations, together with what the analysis does.
func (s *Study) density(a *assay.Sample, tc float64) quantity.Quantity {
	e, why, ok := s.Estimate(a.ID)
	if !ok {
		return without("g/cm³", why)
	}
	p := flow.Density(e.Melt.Wt, tc)
	if math.IsNaN(p.Value) {
		return without("g/cm³", "the formula has no value here")
	}
	u := (p.Hi - p.Lo) / 4
	if spread, err := flow.SpreadOf(e.Melt, nil, tc, e.Conditions.Draws, e.Conditions.Seed); err == nil {
		u = math.Hypot(u, spread.DensitySD)
	}
	return quantity.WithU(p.Value, u, "g/cm³", p.Source+"; model and analysis combined", e.Liquidus.From...)
}

// windowEnd is one end of the window of oxygen potential.
func (s *Study) windowEnd(a *assay.Sample, tc float64, high bool) quantity.Quantity {
	w := s.Window(a, tc, AssumedSeen())
	end, from := w.Low, w.FromLow
	if high {
		end, from = w.High, w.FromHigh
	}
	switch {
	case w.Why != "":
		return without("log bar", w.Why)
	case w.Contradicted:
		return without("log bar", "two observations exclude each other at this temperature")
	case math.IsInf(end, 0) || from < 0:
		return without("log bar", "nothing bounds this side")
	}
	return quantity.New(end, "log bar", "none of its own: an end of a window, analyses taken at twice their standard uncertainty; "+w.Bounds[from].Reason)
}

// copperEnd is one end of what the analyses leave of a form of copper.
func (s *Study) copperEnd(a *assay.Sample, tc float64, form int, high bool) quantity.Quantity {
	if a.Kind != assay.Slag {
		return without("wt%", "forms of copper are told of slag alone")
	}
	f, err := CopperForms(a, copper.UnderCopper(tc, s.Conditions.LogPO2[0], s.Conditions.LogPO2[1]), nil)
	if err != nil {
		return without("wt%", err.Error())
	}
	x := f.All()[form]
	end := x.Wt.Lo
	if high {
		end = x.Wt.Hi
	}
	return quantity.New(end, "wt%", "none of its own: an end of an interval, analyses taken at twice their standard uncertainty; "+x.Because)
}

// wallIndex is an index of the clay of a wall.
func wallIndex(a *assay.Sample, x lining.Index) quantity.Quantity {
	if a.Kind != assay.Lining && a.Kind != assay.Clay {
		return without(x.Unit, "an index of lining and clay")
	}
	values, err := lining.Table(a.AsReported)
	if err != nil {
		return without(x.Unit, err.Error())
	}
	for _, v := range values {
		if v.Key == x.Key {
			return v.Quantity
		}
	}
	return missing(x.Unit)
}
