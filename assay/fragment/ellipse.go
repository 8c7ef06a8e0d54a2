package fragment

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Ellipse is an ellipse that was fitted to points: its half axes A ≥ B in mm
// and the direction of A in radians.
type Ellipse struct {
	X, Y, A, B, Angle float64
	P                 float64 // of so much better a fit than the circle's, were the plan round
}

// QuarterSpan is the least chord, in radii, that an ellipse is asked of: that
// of a quarter of the ring. Shorter arcs do not tell an oval from a round plan.
const QuarterSpan = math.Sqrt2

// FitEllipse fits an ellipse of least distances, from the circle outwards in
// several directions, and compares it with the circle by the F of its two
// further numbers. It refuses fewer than eight points and arcs of less than a
// quarter.
func FitEllipse(pts []Point, c Circle) (Ellipse, error) {
	if len(pts) < 8 {
		return Ellipse{}, fmt.Errorf("%d points are too few for an ellipse", len(pts))
	}
	if spanOf(pts) < QuarterSpan*c.R {
		return Ellipse{}, fmt.Errorf("the points span less than a quarter of the ring, and so short an arc does not tell an oval from a round plan")
	}
	w := make([]float64, len(pts))
	for i := range w {
		w[i] = 1
	}
	distances := func(q []float64) []float64 {
		out := make([]float64, len(pts))
		sin, cos := math.Sincos(q[4])
		a, b := math.Exp(q[2]), math.Exp(q[3])
		for i, p := range pts {
			u, v := p.X-q[0], p.Y-q[1]
			out[i] = fromEllipse(a, b, u*cos+v*sin, v*cos-u*sin)
		}
		return out
	}
	least := math.Inf(1)
	var best []float64
	for _, angle := range []float64{0, math.Pi / 4, math.Pi / 2, 3 * math.Pi / 4} {
		q := marquardt([]float64{c.X, c.Y, math.Log(1.2 * c.R), math.Log(c.R / 1.2), angle}, []float64{1e-6 * c.R, 1e-6 * c.R, 1e-6, 1e-6, 1e-6}, 0, w, distances)
		sum := 0.0
		for _, d := range distances(q) {
			sum += d * d
		}
		if sum < least {
			least, best = sum, q
		}
	}
	if best == nil {
		return Ellipse{}, fmt.Errorf("no ellipse goes through these points")
	}
	e := Ellipse{X: best[0], Y: best[1], A: math.Exp(best[2]), B: math.Exp(best[3]), Angle: best[4]}
	if e.A < e.B {
		e.A, e.B, e.Angle = e.B, e.A, e.Angle+math.Pi/2
	}
	e.Angle = math.Mod(math.Mod(e.Angle, math.Pi)+math.Pi, math.Pi)
	round := 0.0
	for _, d := range c.Residuals {
		round += d * d
	}
	df := float64(len(pts) - 5)
	e.P = 1
	if least > 0 && round > least {
		e.P = distuv.F{D1: 2, D2: df}.Survival((round - least) / 2 / (least / df))
	}
	return e, nil
}

// fromEllipse is the distance of a point from an ellipse of half axes along x
// and y, outwards positive: the foot is found by bisection of the multiplier,
// which has one root beyond −min(a, b)².
func fromEllipse(a, b, x, y float64) float64 {
	x, y = math.Abs(x), math.Abs(y)
	if a < b {
		a, b, x, y = b, a, y, x
	}
	var fx, fy float64
	switch {
	case y > 0:
		lo, hi := -b*b+b*y, -b*b+math.Hypot(a*x, b*y)
		for range 80 {
			t := (lo + hi) / 2
			if g := math.Pow(a*x/(t+a*a), 2) + math.Pow(b*y/(t+b*b), 2); g > 1 {
				lo = t
			} else {
				hi = t
			}
		}
		t := (lo + hi) / 2
		fx, fy = a*a*x/(t+a*a), b*b*y/(t+b*b)
	case x < (a*a-b*b)/a:
		fx = a * a * x / (a*a - b*b)
		fy = b * math.Sqrt(math.Max(0, 1-fx*fx/a/a))
	default:
		fx = a
	}
	d := math.Hypot(x-fx, y-fy)
	if x*x/a/a+y*y/b/b < 1 {
		return -d
	}
	return d
}
