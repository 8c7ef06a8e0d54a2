package study

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
	"smeltbook/phase"
)

// Variable is one number that every sample may have: measured or computed.
type Variable struct {
	Key   string // "SiO2", "liquidus", "cao_sio2", "CaO/SiO2"
	Label string // "SiO2", "liquidus temperature"
	Unit  string // "wt%", "°C", "1"
	// Model is the part of the standard uncertainty that all samples share
	// because one model computed them; 0 for measured variables. It does not
	// shrink with the number of samples, and largely cancels in differences.
	Model func([]*assay.Sample) float64
	Of    func(*assay.Sample) quantity.Quantity
	// Log tells that values differ by factors: groups are described and compared
	// by their logarithms, and an uncertainty is a factor.
	Log bool
	// Decimals is to how many places a value without uncertainty is printed; 0
	// leaves it to its figures.
	Decimals int

	apart bool // Of states uncertainties without the part that Model says is shared
}

// Logs returns the variable with its values as natural logarithms, whose
// uncertainty is without the part that Model says all samples share. Values that
// are not above zero have none.
func (v Variable) Logs() Variable {
	out := Variable{Key: v.Key, Label: "ln " + v.Label, Unit: "1", apart: true, Of: func(s *assay.Sample) quantity.Quantity {
		q := v.Of(s)
		if !q.Known() || q.Value <= 0 {
			return missing("1")
		}
		u := q.U
		if m := v.ModelU([]*assay.Sample{s}); m > 0 {
			u = math.Sqrt(math.Max(u*u-m*m, 0))
		}
		return quantity.WithU(math.Log(q.Value), u/q.Value, "1", q.UNote, q.From...)
	}}
	if v.Model != nil {
		out.Model = func(samples []*assay.Sample) float64 {
			for _, s := range samples {
				if q := v.Of(s); q.Known() && q.Value > 0 {
					return v.Model([]*assay.Sample{s}) / q.Value
				}
			}
			return 0
		}
	}
	return out
}

// Apart returns the variable with uncertainties that are without the part that
// Model says all samples share: what may shrink with the number of samples.
func (v Variable) Apart() Variable {
	if v.Model == nil || v.Log || v.apart {
		return v
	}
	out := v
	out.apart = true
	out.Of = func(s *assay.Sample) quantity.Quantity {
		q := v.Of(s)
		if m := v.ModelU([]*assay.Sample{s}); m > 0 && q.HasU() {
			q.U = math.Sqrt(math.Max(q.U*q.U-m*m, 0))
		}
		return q
	}
	return out
}

// Summary describes the variable over samples.
func (v Variable) Summary(samples []*assay.Sample) summary.Group {
	qs := make([]quantity.Quantity, len(samples))
	for i, s := range samples {
		qs[i] = v.Of(s)
	}
	g := summary.Of(qs)
	g.Unit = v.Unit
	return g
}

// Difference compares the means over two groups of samples. Groups that share
// samples are not compared: the statistics takes them as independent. An error
// that the model makes in all samples is not in the uncertainty.
func (v Variable) Difference(a, b []*assay.Sample) summary.Difference {
	shared := 0
	for _, s := range a {
		if slices.Contains(b, s) {
			shared++
		}
	}
	own := v.Apart()
	d := summary.Between(own.Summary(a), own.Summary(b))
	if shared > 0 {
		nan := math.NaN()
		return summary.Difference{Value: nan, U: nan, DoF: nan, Low: nan, High: nan,
			Why: fmt.Sprintf("the groups share %d samples", shared)}
	}
	return d
}

// ModelU returns the shared model uncertainty over the samples.
func (v Variable) ModelU(samples []*assay.Sample) float64 {
	if v.Model == nil {
		return 0
	}
	return v.Model(samples)
}

// Liquidus is the key of the liquidus temperature.
const Liquidus = "liquidus"

// Variable returns the variable with a key. An oxide or element is taken from
// the sample's composition on the recipe's basis; "A/B" is the ratio of two
// such parts. The error is a sentence with a suggestion.
func (s *Study) Variable(key string) (Variable, error) {
	switch key {
	case "total":
		return Variable{Key: key, Label: "sum of the analysis", Unit: "wt%", Of: func(a *assay.Sample) quantity.Quantity {
			if a.Incomplete != "" {
				return missing("wt%")
			}
			return quantity.WithU(a.Total.Measured, a.Total.U, "wt%", "from the parts' uncertainties")
		}}, nil
	case Liquidus:
		return s.temperature(key, "liquidus temperature", func(e phase.Estimate) quantity.Quantity { return e.Liquidus }), nil
	case "t_90_molten":
		return s.temperature(key, "temperature with 90 % molten", func(e phase.Estimate) quantity.Quantity { return e.MoltenAt(0.9) }), nil
	case "t_half_molten":
		return s.temperature(key, "temperature with half molten", func(e phase.Estimate) quantity.Quantity { return e.MoltenAt(0.5) }), nil
	case "solidus":
		return s.temperature(key, "solidus temperature", func(e phase.Estimate) quantity.Quantity { return e.Solidus() }), nil
	}
	if v, ok := s.index(key); ok {
		return v, nil
	}
	if v, ok, err := s.furnace(key); ok || err != nil {
		return v, err
	}
	if _, ok := chem.LookupAnalyte(key); ok {
		return Variable{Key: key, Label: key, Unit: "wt%", Of: part(key)}, nil
	}
	if top, bottom, ok := strings.Cut(key, "/"); ok {
		_, okTop := chem.LookupAnalyte(top)
		_, okBottom := chem.LookupAnalyte(bottom)
		if okTop && okBottom {
			return Variable{Key: key, Label: key, Unit: "1", Of: ratio(top, bottom)}, nil
		}
	}
	return Variable{}, source.Notice{Severity: source.Error, Code: "UNKNOWN_VARIABLE",
		Message: `there is no value "` + key + `"` + source.DidYouMean(key, s.Keys()) +
			` (Any oxide or element will do, and a ratio such as "CaO/SiO2".)`}
}

// Keys returns the keys of the computed variables and of all parts that some
// composition has.
func (s *Study) Keys() []string {
	keys := append([]string{Liquidus, "t_90_molten", "t_half_molten", "solidus", "total"}, s.indexKeys()...)
	keys = append(keys, s.furnaceKeys()...)
	return append(keys, s.Parts(s.Campaign.Samples)...)
}

// Parts returns the parts that any of the samples has, in conventional order.
func (s *Study) Parts(samples []*assay.Sample) []string {
	seen := map[string]bool{}
	var c chem.Composition
	for _, sample := range samples {
		for _, p := range sample.Composition.Parts {
			if a, _ := chem.LookupAnalyte(p.ID); a.Kind == chem.Correction {
				continue // no part of a sample; Corrections has them
			}
			if !seen[p.ID] && sample.Composition.Counts(p.ID) {
				seen[p.ID] = true
				c.Parts = append(c.Parts, chem.Part{ID: p.ID, Quantity: quantity.None(quantity.Missing, math.NaN(), "wt%")})
			}
		}
	}
	sorted, err := chem.NewComposition(c.Parts...)
	if err != nil {
		return nil
	}
	var ids []string
	for _, p := range sorted.Parts {
		ids = append(ids, p.ID)
	}
	return slices.Clip(ids)
}

func part(id string) func(*assay.Sample) quantity.Quantity {
	return func(s *assay.Sample) quantity.Quantity {
		q, _ := partOf(s, id)
		return q
	}
}

// partOf returns a part of a sample's composition. A sample whose analysis is
// incomplete is on another basis than the rest and has no part to compare,
// unless all samples are stated as reported; metal, prills and matte are
// always stated as reported.
func partOf(s *assay.Sample, id string) (quantity.Quantity, bool) {
	if s.Incomplete != "" && !s.Metallic() && !s.AsReportedBasis {
		q := missing("wt%")
		q.UNote = "not on the common basis: " + s.Incomplete
		return q, false
	}
	return s.Composition.Get(id)
}

// ratio divides two parts. Normalising leaves it as it is, so it is formed from
// the parts as reported, which are independent; after normalising they are not.
func ratio(top, bottom string) func(*assay.Sample) quantity.Quantity {
	return func(s *assay.Sample) quantity.Quantity {
		if _, ok := partOf(s, bottom); !ok {
			return missing("1")
		}
		a, _ := s.AsReported.Get(top)
		b, _ := s.AsReported.Get(bottom)
		if !a.Known() || !b.Known() || b.Value == 0 {
			return missing("1")
		}
		r := a.Value / b.Value
		u := math.Hypot(a.U/b.Value, r*b.U/b.Value)
		return quantity.WithU(r, u, "1", "first order, parts as reported taken as independent", append(slices.Clone(a.From), b.From...)...)
	}
}

func missing(unit string) quantity.Quantity {
	return quantity.None(quantity.Missing, math.NaN(), unit)
}

// temperature is a variable of the melting model, whose error all samples
// share.
func (s *Study) temperature(key, label string, of func(phase.Estimate) quantity.Quantity) Variable {
	return Variable{
		Key: key, Label: label, Unit: "°C",
		Of: func(a *assay.Sample) quantity.Quantity {
			e, ok := s.estimates[a.ID]
			if !ok {
				return missing("°C")
			}
			return of(e)
		},
		Model: func(samples []*assay.Sample) float64 {
			var worst float64
			for _, a := range samples {
				if e, ok := s.estimates[a.ID]; ok {
					worst = max(worst, e.ModelSD)
				}
			}
			return worst
		},
	}
}

func (s *Study) index(key string) (Variable, bool) {
	for _, v := range Indices() {
		if v.Key == key {
			return Variable{Key: key, Label: v.Label, Unit: "1", Of: func(a *assay.Sample) quantity.Quantity {
				if w, ok := s.estimates[a.ID].Index(key); ok {
					return w.Quantity
				}
				return missing("1")
			}}, true
		}
	}
	return Variable{}, false
}
