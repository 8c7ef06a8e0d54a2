package flow

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Band is the factor within which a computed viscosity is to be trusted, from
// the spread of measured values about the models.
const Band = 2.0

// Settings say how a slag is to be asked. The zero value lets the composition
// decide and takes the slag for all molten.
type Settings struct {
	Model      Model      // nil: Choose
	Crystals   Crystals   // nil: all molten at every temperature
	Suspension Suspension // zero: Roscoe
}

// Slag is one slag ready to be asked about its viscosity at any temperature.
// It may be used by several goroutines if its Crystals may.
type Slag struct {
	Choice
	wt       slag.Wt
	law      Law // of the whole melt
	crystals Crystals
	susp     Suspension
}

// New prepares a melt in wt%. It fails on a composition that is none, on one
// for which the model has no value and on an impossible suspension.
func New(w slag.Wt, s Settings) (*Slag, error) {
	if err := checkMelt(w); err != nil {
		return nil, fmt.Errorf("viscosity: %w", err)
	}
	out := &Slag{wt: w.Normalise(), crystals: s.Crystals, susp: s.Suspension}
	if out.susp == (Suspension{}) {
		out.susp = Roscoe()
	}
	if err := out.susp.check(); err != nil {
		return nil, err
	}
	if s.Model == nil {
		out.Choice = Choose(out.wt)
	} else {
		out.Choice = Choice{s.Model, "the model was asked for"}
	}
	var err error
	if out.law, err = out.Model.Law(out.wt); err != nil {
		return nil, fmt.Errorf("viscosity: %w", err)
	}
	return out, nil
}

// Viscosity is the answer at one temperature.
type Viscosity struct {
	TC          float64 // °C
	Eta         float64 // Pa·s, crystals and all
	Lo, Hi      float64 // Pa·s, Eta within the factor Band
	Liquid      float64 // Pa·s, of the liquid alone
	SolidMass   float64 // share of crystals by mass, 0 to 1
	SolidVolume float64 // and by volume
	Notices     source.Notices
}

// At returns the viscosity at a temperature in °C. It fails below the solidus,
// where the crystals touch, and where the model has no value.
func (s *Slag) At(tc float64) (Viscosity, error) {
	if err := possible(tc); err != nil {
		return Viscosity{}, err
	}
	p, w, err := s.point(tc)
	if err != nil {
		return Viscosity{}, err
	}
	v := Viscosity{TC: tc, Liquid: math.Exp(p.liquid), SolidMass: p.mass, SolidVolume: p.volume}
	switch {
	case p.mass >= 1:
		return v, fmt.Errorf("at %.0f °C the slag is all solid (below its solidus) and has no viscosity; ask at a higher temperature", tc)
	case math.IsNaN(p.liquid):
		return v, fmt.Errorf("%s has no viscosity for this melt at %.0f °C", s.Model.Name(), tc)
	}
	f, err := s.susp.Factor(p.volume)
	if err != nil {
		return v, fmt.Errorf("at %.0f °C: %w", tc, err)
	}
	v.Eta = v.Liquid * f
	v.Lo, v.Hi = v.Eta/Band, v.Eta*Band
	v.Notices = s.Model.Range(w, tc)
	if p.volume > lowerBound {
		v.Notices.Add(source.Warning, "VISCOSITY_LOWER_BOUND", source.Cell{},
			"with %.0f vol%% of crystals the slag may not flow like a liquid at all (Wright et al. 2001); the viscosity is a lower bound", 100*p.volume)
	}
	return v, nil
}

// point is what a temperature gives.
type point struct {
	liquid       float64 // ln of the liquid's viscosity
	mass, volume float64 // share of crystals
}

// point returns the state at tc and the liquid there.
func (s *Slag) point(tc float64) (point, slag.Wt, error) {
	if s.crystals == nil {
		return point{liquid: s.law.logAt(tc)}, s.wt, nil
	}
	p := point{mass: s.crystals.SolidFraction(tc)}
	if !(p.mass >= 0) || p.mass > 1+1e-9 {
		return p, s.wt, fmt.Errorf("a share of crystals of %g at %.0f °C is impossible", p.mass, tc)
	}
	switch {
	case p.mass == 0:
		p.liquid = s.law.logAt(tc)
		return p, s.wt, nil
	case p.mass >= 1:
		p.mass, p.volume, p.liquid = 1, 1, math.Inf(1)
		return p, s.wt, nil
	}
	w := s.crystals.Liquid(tc)
	if err := checkMelt(w); err != nil {
		return p, w, fmt.Errorf("the liquid at %.0f °C: %w", tc, err)
	}
	w = w.Normalise()
	law, err := s.Model.Law(w)
	if err != nil {
		return p, w, fmt.Errorf("the liquid at %.0f °C: %w", tc, err)
	}
	p.liquid = law.logAt(tc)
	if v, ok := s.crystals.(SolidVolume); ok {
		p.volume = v.SolidVolume(tc)
	} else {
		p.volume = volumeShare(p.mass, s.susp.SolidDensity, millsKeene(&w, tc+zeroCelsius))
	}
	return p, w, nil
}

// logEta is ln of the viscosity at tc, +Inf where the slag does not flow.
func (s *Slag) logEta(tc float64) (float64, error) {
	p, _, err := s.point(tc)
	if err != nil {
		return 0, err
	}
	if math.IsNaN(p.liquid) {
		return math.Inf(1), nil
	}
	return p.liquid + math.Log(s.susp.factor(p.volume)), nil
}

// CurvePoint is one point of viscosity against temperature.
type CurvePoint struct {
	TC          float64 // °C
	Eta         float64 // Pa·s; +Inf where the slag does not flow
	SolidVolume float64 // share of crystals by volume, 0 to 1
}

// Curve returns the viscosity from lo to hi °C in steps; the last point stands
// at hi whatever the step. It goes through the melting interval: where the
// crystals touch and below the solidus the viscosity is infinite.
func (s *Slag) Curve(lo, hi, step float64) ([]CurvePoint, error) {
	if possible(lo) != nil || possible(hi) != nil || !(lo < hi) || !(step > 0) || (hi-lo)/step > 1e5 {
		return nil, fmt.Errorf("no curve from %g to %g °C in steps of %g; give the lower temperature first", lo, hi, step)
	}
	n := int(math.Ceil((hi-lo)/step - 1e-9))
	out := make([]CurvePoint, n+1)
	for i := range out {
		tc := min(lo+float64(i)*step, hi)
		p, _, err := s.point(tc)
		if err != nil {
			return nil, err
		}
		eta := math.Inf(1)
		if !math.IsNaN(p.liquid) {
			eta = math.Exp(p.liquid) * s.susp.factor(p.volume)
		}
		out[i] = CurvePoint{tc, eta, p.volume}
	}
	return out, nil
}
