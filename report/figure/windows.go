package figure

import (
	"cmp"
	"math"
	"slices"
)

// Window is a Span placed in the Frame of its diagram.
type Window struct {
	X           float64 // of the bar
	Lo, Hi      float64 // its ends
	At          float64 // of the mark: the middle, or the closed end of an open window
	Left, Right float64 // of the box; equal when the span has one place
	Below       bool    // goes on below the frame
	Above       bool    // goes on above the frame
	Moved       bool    // the bar stands beside its place because others stand there
}

// Mark is where the mark stands.
func (w Window) Mark() [2]float64 { return [2]float64{w.X, w.At} }

// markHeight is where the mark of an interval stands on an axis, held to it:
// in the middle, at the closed end where the other is open, and in the middle
// of the axis where both are.
func markHeight(a Axis, from, to float64) float64 {
	below, above := math.IsInf(from, -1), math.IsInf(to, 1)
	switch {
	case below && above:
		return 0.5
	case below:
		return a.Held(to)
	case above:
		return a.Held(from)
	case a.Log && from > 0:
		return a.Held(math.Sqrt(from) * math.Sqrt(to))
	}
	return a.Held(from/2 + to/2)
}

// Distance of bars that would coincide, and the most room that they may take
// together, as fractions of the frame's width.
const (
	windowStep = 0.016
	windowRoom = 0.24
)

// Windows places the spans. Bars that would coincide are moved apart, each as
// little as can be, in the order of their places and then of the list; the
// same diagram always gives the same places.
func (d *Diagram) Windows() []Window {
	out := make([]Window, len(d.Boxes))
	var single []int
	for i, s := range d.Boxes {
		w := Window{Left: d.X.Held(s.X0), Right: d.X.Held(s.X1), Lo: d.Y.Held(s.From), Hi: d.Y.Held(s.To)}
		w.X, w.At = (w.Left+w.Right)/2, markHeight(d.Y, s.From, s.To)
		w.Below, w.Above = s.From < d.Y.Min, s.To > d.Y.Max
		out[i] = w
		if s.X0 == s.X1 {
			single = append(single, i)
		}
	}
	slices.SortStableFunc(single, func(a, b int) int { return cmp.Compare(out[a].X, out[b].X) })
	at := make([]float64, len(single))
	for k, i := range single {
		at[k] = out[i].X
	}
	for k, x := range apart(at) {
		w := &out[single[k]]
		w.Moved = math.Abs(x-w.X) > 1e-9
		w.X = x
	}
	return out
}

// apart moves sorted places to a least distance, with the least sum of squared
// moves: less the room due to the places before, they must not fall, which is
// met by replacing every falling run by its mean.
func apart(at []float64) []float64 {
	step := windowStep
	if n := float64(len(at)); n*step > windowRoom {
		step = windowRoom / n
	}
	type run struct {
		sum float64
		n   int
	}
	var runs []run
	for k, x := range at {
		r := run{x - step*float64(k), 1}
		for len(runs) > 0 && runs[len(runs)-1].sum*float64(r.n) > r.sum*float64(runs[len(runs)-1].n) {
			last := runs[len(runs)-1]
			r = run{r.sum + last.sum, r.n + last.n}
			runs = runs[:len(runs)-1]
		}
		runs = append(runs, r)
	}
	out := make([]float64, 0, len(at))
	for _, r := range runs {
		for range r.n {
			k := float64(len(out))
			x := at[len(out)] // a place alone keeps its digits
			if r.n > 1 {
				x = r.sum/float64(r.n) + step*k
			}
			out = append(out, math.Min(math.Max(x, step*k), 1-step*(float64(len(at)-1)-k)))
		}
	}
	return out
}
