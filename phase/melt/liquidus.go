package melt

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

var (
	// ErrNoOxide tells that a melt holds none of the oxides of the model.
	ErrNoOxide = errors.New("the melt holds none of the oxides of the liquidus model (SiO2, FeO, CaO, Al2O3, MgO, MnO, K2O, Na2O, Fe2O3, ZnO, TiO2, P2O5)")
	// ErrNoSolid tells that no mineral of the model forms above 427 °C.
	ErrNoSolid = errors.New("no mineral of the liquidus model forms from this melt above 427 °C")
)

// PhaseAt is a mineral with the temperature, in °C, below which the melt is
// saturated with it, were it not for the minerals that came before.
type PhaseAt struct {
	Phase Phase
	TC    float64
}

// Liquidus is the model's answer about one melt.
type Liquidus struct {
	TC         float64   // °C, the temperature above which all is molten
	First      Phase     // the first mineral on cooling
	Near       []PhaseAt // the minerals within 5 °C below, hottest first
	TwoLiquids bool      // a silica-rich melt that has split; TC is capped at about 1698 °C

	// ModelSD is the standard deviation of the model in °C: see ModelSD.
	ModelSD float64
	InRange bool // inside the range of composition in which the model was calibrated
	Notices source.Notices
}

// nearWindow is how far below the liquidus a mineral counts as near, in K.
const nearWindow = 5.0

// The crystallisation of silica from a melt of two liquids: 1698 °C wherever
// both liquids coexist (Greig 1927), rising to the melting point of
// cristobalite, 1726 °C, as the last 3 mol% of the other oxides leave. In
// between a straight line keeps the temperature continuous.
const (
	monotectic     = 1698 + celsius // K
	silicaMelting  = 1726 + celsius // K
	splitsBelowSi  = 0.97           // mole fraction of SiO2 in one-cation units
	monotecticNote = "a silica-rich melt above about 1698 °C splits into two liquids; the model does not describe them and the temperature is capped there (about 1690–1700 °C)"
)

func silicaCeiling(xSi float64) float64 {
	return monotectic + (silicaMelting-monotectic)*math.Max(xSi-splitsBelowSi, 0)/(1-splitsBelowSi)
}

// onset is where crystallisation starts, as the search finds it.
type onset struct {
	T      float64 // K
	solid  int
	capped bool // silica held to its ceiling
	split  bool // two liquids
}

func (o onset) tc() float64 { return o.T - celsius }

// onset finds the liquidus of w, leaving s at the melt found.
func (m *Model) onset(s *search, w *slag.Wt) (onset, error) { return m.onsetAmong(s, w, nil) }

// onsetAmong is onset as if only the given phases could form; nil stands for
// all, TwoLiquids for silica.
func (m *Model) onsetAmong(s *search, w *slag.Wt, phases []Phase) (onset, error) {
	x, ok := cationFractions(m.restated(*w))
	if !ok {
		return onset{}, ErrNoOxide
	}
	s.start(m, &x)
	if phases != nil {
		split := slices.Contains(phases, TwoLiquids)
		s.keep(func(p Phase) bool { return slices.Contains(phases, p) || split && p.silica() })
	}
	T, at, ok := s.liquidus()
	if !ok {
		return onset{}, ErrNoSolid
	}
	o := onset{T: T, solid: at}
	ceiling := silicaCeiling(x[si])
	if !m.solids[at].phase.silica() || T <= ceiling {
		return o, nil
	}
	o.T, o.capped, o.split = ceiling, true, x[si] < splitsBelowSi
	s.keep(func(p Phase) bool { return !p.silica() })
	if other, i, ok := s.liquidus(); ok && other > ceiling {
		o = onset{T: other, solid: i}
	}
	return o, nil
}

// Liquidus returns the liquidus of w, a melt in wt% of any sum. FeO and Fe2O3
// count as analysed; without Fe2O3 the answer is that of a melt that touches
// metallic iron, and iron that is all stated as Fe2O3 is taken as a total and
// restated as FeO. The oxides that the model does not know are left out and the
// rest is taken as the whole. The notices say what was done and where the model
// is weak.
//
// It fails with ErrNoOxide or ErrNoSolid, or where a number of w is negative
// or not finite.
func (m *Model) Liquidus(w slag.Wt) (Liquidus, error) {
	if err := checkMelt(w); err != nil {
		return Liquidus{}, err
	}
	var s search
	o, err := m.onset(&s, &w)
	if err != nil {
		return Liquidus{}, err
	}
	l := Liquidus{TC: o.tc(), First: m.solids[o.solid].phase, TwoLiquids: o.split}
	if !o.capped {
		l.Near = m.near(&s, o)
	}
	l.ModelSD = ModelSD(w)
	l.InRange, l.Notices = remarks(w, l)
	return l, nil
}

// near returns the minerals that follow within the window.
func (m *Model) near(s *search, o onset) []PhaseAt {
	var below [maxMinerals]float64
	s.at(o.T - nearWindow)
	for n, i := range s.solids[:s.nSolids] {
		below[n] = s.supersaturation(i, o.T-nearWindow, lacking)
	}
	s.at(o.T)
	var list []PhaseAt
	for n, i := range s.solids[:s.nSolids] {
		phase := m.solids[i].phase
		if i == o.solid || phase == m.solids[o.solid].phase || below[n] < 0 {
			continue
		}
		now := math.Min(s.supersaturation(i, o.T, lacking), 0)
		p := PhaseAt{Phase: phase, TC: o.tc() - nearWindow*now/(now-below[n])}
		if below[n] <= now {
			p.TC = o.tc()
		}
		list = insertByTemperature(list, p)
	}
	return list
}

// insertByTemperature keeps the list hottest first, each phase once.
func insertByTemperature(list []PhaseAt, p PhaseAt) []PhaseAt {
	at := 0
	for i, q := range list {
		if q.Phase == p.Phase {
			if q.TC < p.TC {
				list[i].TC = p.TC
			}
			return list
		}
		if q.TC >= p.TC {
			at = i + 1
		}
	}
	list = append(list, PhaseAt{})
	copy(list[at+1:], list[at:])
	list[at] = p
	return list
}

// checkMelt refuses numbers that are no amounts.
func checkMelt(w slag.Wt) error {
	for o, x := range w {
		if x < 0 || math.IsNaN(x) || math.IsInf(x, 0) {
			return fmt.Errorf("%v of the melt is %g wt%%, which is no amount", slag.Oxide(o), x)
		}
	}
	return nil
}
