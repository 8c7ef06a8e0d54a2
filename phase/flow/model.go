package flow

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

const zeroCelsius = 273.15 // K

// Model is one published model of the viscosity of a fully liquid slag.
type Model interface {
	Key() string    // stable name, "urbain_1981"
	Name() string   // authors and year, for people
	Source() string // where it was published
	// Law prepares the model for one melt. It fails where the formula has no
	// value for the composition.
	Law(w slag.Wt) (Law, error)
	// Range returns a notice for every limit of the model that the melt (wt%
	// that sum to 100), or the temperature in °C, lies outside; a temperature
	// of NaN is not asked.
	Range(w slag.Wt, tc float64) source.Notices
}

// Law is the viscosity of one liquid against temperature:
//
//	ln η = A + P·ln T + B/(T − C)
//
// with η in Pa·s and T in kelvin. All models of the package reduce to it: with
// P = 1 and C = 0 it is the form of Weymann, with P = 0 and C = 0 that of
// Arrhenius, with P = 0 that of Vogel, Fulcher and Tammann.
type Law struct{ A, P, B, C float64 }

// At returns the viscosity in Pa·s at a temperature in °C, NaN where the law
// has none (at or below C).
func (l Law) At(tc float64) float64 { return math.Exp(l.logAt(tc)) }

// logAt is the natural logarithm of At.
func (l Law) logAt(tc float64) float64 {
	T := tc + zeroCelsius
	if !(T > l.C) || !(T > 0) {
		return math.NaN()
	}
	x := l.A + l.B/(T-l.C)
	if l.P != 0 {
		x += l.P * math.Log(T)
	}
	return x
}

// Models returns all models in the order in which they are listed.
func Models() []Model {
	return []Model{Urbain1981{}, Urbain1987{}, Riboud1981{}, MillsSridhar1999{}, UtigardWarczok1995{}, Giordano2008{}}
}

// ByKey returns the model with the given key; the error lists the keys.
func ByKey(key string) (Model, error) {
	keys := ""
	for _, m := range Models() {
		if m.Key() == key {
			return m, nil
		}
		keys += ", " + m.Key()
	}
	return nil, fmt.Errorf("there is no viscosity model %q; use one of %s", key, keys[2:])
}

// Answer is what one model says of one liquid.
type Answer struct {
	Model   Model
	Eta     float64 // Pa·s; NaN where Err is not nil
	Err     error   // why the model has no value here
	Notices source.Notices
}

// Within returns the viscosity within the factor Band, in Pa·s.
func (a Answer) Within() (lo, hi float64) { return a.Eta / Band, a.Eta * Band }

// Compare asks every model about the liquid w at a temperature in °C.
func Compare(w slag.Wt, tc float64) []Answer {
	models := Models()
	out := make([]Answer, len(models))
	for i, m := range models {
		out[i] = Ask(m, w, tc)
	}
	return out
}

// Ask asks one model about the liquid w at a temperature in °C.
func Ask(m Model, w slag.Wt, tc float64) Answer {
	a := Answer{Model: m, Eta: math.NaN()}
	if a.Err = possible(tc); a.Err != nil {
		return a
	}
	if a.Err = checkMelt(w); a.Err != nil {
		return a
	}
	w = w.Normalise()
	law, err := m.Law(w)
	if err != nil {
		a.Err = err
		return a
	}
	if a.Eta = law.At(tc); math.IsNaN(a.Eta) {
		a.Err = fmt.Errorf("%s has no viscosity for this melt at %.0f °C: its formula ends at %.0f °C", m.Name(), tc, law.C-zeroCelsius)
		return a
	}
	a.Notices = m.Range(w, tc)
	return a
}

// possible refuses what is no temperature of a melt.
func possible(tc float64) error {
	if math.IsNaN(tc) || math.IsInf(tc, 0) || tc <= -zeroCelsius {
		return fmt.Errorf("%g °C is no temperature; give one in °C, for example 1250", tc)
	}
	return nil
}

// checkMelt refuses an empty melt and a negative share.
func checkMelt(w slag.Wt) error {
	var sum float64
	for o, x := range w {
		switch {
		case x < 0:
			return fmt.Errorf("%s is negative (%g wt%%); a share cannot be below zero", slag.Oxide(o), x)
		case math.IsNaN(x) || math.IsInf(x, 0):
			return fmt.Errorf("%s is not a number", slag.Oxide(o))
		}
		sum += x
	}
	if sum <= 0 {
		return fmt.Errorf("the melt holds no oxide")
	}
	return nil
}

// allIron returns all iron as wt% FeO: FeO + Fe2O3·2M(FeO)/M(Fe2O3).
func allIron(w *slag.Wt) float64 {
	return w[slag.FeO] + w[slag.Fe2O3]*2*slag.FeO.Mass()/slag.Fe2O3.Mass()
}

// weighted returns Σ f·x.
func weighted(f *[slag.NumOxides]float64, x *slag.Wt) float64 {
	var s float64
	for o := range f {
		s += f[o] * x[o]
	}
	return s
}
