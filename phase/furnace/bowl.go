package furnace

import (
	"fmt"
	"math"
)

// Bowl is the pit as built, inside measures in metres.
type Bowl struct {
	Diameter   float64 // at the rim
	Depth      float64 // from the rim to the floor
	Lining     float64 // thickness of the clay
	PipeHeight float64 // mouth of the air pipe above the floor
	Heap       float64 // charcoal heaped above the rim
}

// Cover is the charcoal above the mouth of the pipe, m.
func (b Bowl) Cover() float64 { return b.Depth - b.PipeHeight + b.Heap }

// CrossSection is the area of the mouth of the bowl, m².
func (b Bowl) CrossSection() float64 { return math.Pi * b.Diameter * b.Diameter / 4 }

// Volume is that of half an ellipsoid of revolution, m³.
func (b Bowl) Volume() float64 { return math.Pi / 6 * b.Diameter * b.Diameter * b.Depth }

// Wall is the inner surface of half an ellipsoid of revolution, m².
func (b Bowl) Wall() float64 {
	a, c := b.Diameter/2, b.Depth
	e2 := 1 - c*c/(a*a)
	switch {
	case math.Abs(e2) < 1e-9:
		return 2 * math.Pi * a * a
	case e2 > 0: // flatter than a hemisphere
		e := math.Sqrt(e2)
		return math.Pi * a * a * (1 + (1-e2)/e*math.Atanh(e))
	default:
		e := math.Sqrt(1 - a*a/(c*c))
		return math.Pi * a * a * (1 + c/(a*e)*math.Asin(e))
	}
}

// Radius is that of the hemisphere with as much wall, m.
func (b Bowl) Radius() float64 { return math.Sqrt(b.Wall() / (2 * math.Pi)) }

func (b Bowl) check() error {
	for _, x := range []struct {
		name    string
		v, l, h float64
	}{
		{"diameter", b.Diameter, 0.05, 2}, {"depth", b.Depth, 0.05, 2}, {"lining", b.Lining, 0.001, 0.5},
		{"height of the pipe", b.PipeHeight, 0, b.Depth}, {"heap above the rim", b.Heap, 0, 1},
	} {
		if !(x.v >= x.l && x.v <= x.h) {
			return fmt.Errorf("the %s of the bowl is %g cm; this room answers from %g to %g cm", x.name, 100*x.v, 100*x.l, 100*x.h)
		}
	}
	if b.Cover() < 0.03 {
		return fmt.Errorf("only %.0f cm of charcoal lie over the mouth of the pipe; that is no closed bed, heap more or set the pipe lower", 100*b.Cover())
	}
	return nil
}
