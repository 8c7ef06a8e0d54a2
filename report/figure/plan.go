package figure

import (
	"errors"
	"fmt"
)

// Plan is a round furnace drawn to scale: on the left its plan with the
// reconstructions that the evidence allows, on the right its wall in section,
// layer by layer. It does not move: lengths on paper are lengths on the ground.
type Plan struct {
	Scale     string  // what both are drawn in, "mm"
	Low, High float64 // diameters that are still allowed; High is held to what fits where it is open
	Value     float64 // the best
	Open      bool    // nothing rules out a diameter above High
	Wall      float64 // thickness of the wall, 0 where it is not known
	Pieces    []PlanPiece
	Layers    []PlanLayer
	WallTitle string
	Thickest  float64 // depth that the section is drawn to
}

// PlanPiece is a fragment at its place on the best circle; where on the circle
// it stood nobody knows.
type PlanPiece struct {
	Name  string
	Chord float64
}

// PlanLayer is a layer of the wall from the hot face outwards: its outer
// border with its error, and the temperature there.
type PlanLayer struct {
	Label       string
	Outer, U    float64
	Broken      bool // ends in a break
	Temperature string
}

func (*Plan) body() {}

func (p *Plan) validate() error {
	switch {
	case !(p.Low > 0 && p.Low <= p.Value && p.Value <= p.High):
		return fmt.Errorf("diameters from %g to %g about %g are no range", p.Low, p.High, p.Value)
	case !(p.Wall >= 0) || !(p.Thickest >= 0):
		return errors.New("a wall is not thinner than nothing")
	}
	last := 0.0
	for _, l := range p.Layers {
		if !(l.Outer > last) || !(l.U >= 0) || l.Outer > p.Thickest {
			return fmt.Errorf("layer %q ends at %g behind %g, of %g in all", l.Label, l.Outer, last, p.Thickest)
		}
		last = l.Outer
	}
	for _, x := range p.Pieces {
		if !(x.Chord >= 0 && x.Chord <= p.Value) {
			return fmt.Errorf("fragment %q has a chord of %g in a ring of %g", x.Name, x.Chord, p.Value)
		}
	}
	return nil
}
