package charge

import (
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/flow"
	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// Verdict is how a melt stands to a target.
type Verdict struct {
	Values   []float64      // one a term, in its unit; NaN where a model has no answer
	Misses   []float64      // one a term: at most 0 within, about 1 for 50 °C, a factor of two, 3 wt% or a tenth
	Worst    float64        // the largest miss; −Inf where nothing is asked
	Liquidus *melt.Liquidus // nil where no term asks for it
	Flow     *flow.Answer   // of the viscosity asked first; nil where none is
	Notices  source.Notices
}

// Met reports whether every term holds.
func (v Verdict) Met() bool { return v.Worst <= tolerance }

// tolerance is a miss that counts as none.
const tolerance = 1e-9

// Model is a model of the liquidus. *melt.Model is one.
type Model interface {
	Liquidus(slag.Wt) (melt.Liquidus, error)
}

// Judge asks every term of a target about a melt (wt%).
func Judge(m Model, w slag.Wt, target []Term) Verdict {
	v, _ := judge(m, w, target, math.Inf(1))
	return v
}

// judge is Judge; it gives up where a term is missed by more than enough, the
// cheap ones asked first.
func judge(m Model, w slag.Wt, target []Term, enough float64) (v Verdict, whole bool) {
	v = Verdict{Values: make([]float64, len(target)), Misses: make([]float64, len(target)), Worst: math.Inf(-1)}
	for _, dear := range []bool{false, true} {
		for i, t := range target {
			if (t.Of == Liquidus) != dear {
				continue
			}
			v.Values[i] = v.value(m, w, t)
			v.Misses[i] = t.miss(v.Values[i])
			if v.Worst = math.Max(v.Worst, v.Misses[i]); v.Worst > enough {
				return v, false
			}
		}
	}
	return v, true
}

func (v *Verdict) value(m Model, w slag.Wt, t Term) float64 {
	switch t.Of {
	case Content:
		return w[t.Over]
	case Ratio:
		return w[t.Over] / w[t.Under]
	case Viscosity:
		a := flow.Ask(flow.Choose(w).Model, w, t.AtC)
		if a.Err != nil {
			return math.NaN()
		}
		if v.Flow == nil {
			v.Flow = &a
			v.Notices = append(v.Notices, a.Notices...)
		}
		return a.Eta
	}
	if v.Liquidus == nil {
		l, err := m.Liquidus(w)
		if err != nil {
			return math.NaN()
		}
		v.Liquidus = &l
		v.Notices = append(v.Notices, l.Notices...)
	}
	return v.Liquidus.TC
}
