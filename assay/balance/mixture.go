package balance

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"

	"gonum.org/v1/gonum/mat"

	"smeltbook/assay/chem"
)

// mixture is an unmixing as numbers: tracers j in rows, ends k in columns, wt%.
type mixture struct {
	y, uy []float64
	a, ua [][]float64
	model float64
	// The analyses before they are closed, with the places of the tracers.
	slag analysis
	ends []analysis
}

// analysis is what a mixture takes of one material, not yet closed: all its
// oxides, and where among them the tracers stand (-1: not in it).
type analysis struct {
	x, u []float64
	at   []int
}

func newAnalysis(c chem.Composition, tracers []string) analysis {
	a := analysis{at: make([]int, len(tracers))}
	for j := range a.at {
		a.at[j] = -1
	}
	c = c.Without(notMixed...).AsOxides(chem.AsFeO).Solids()
	for _, p := range c.Parts {
		x, u := content(p.Quantity)
		if j := slices.Index(tracers, p.ID); j >= 0 {
			a.at[j] = len(a.x)
		}
		a.x, a.u = append(a.x, x), append(a.u, u)
	}
	return a
}

// closed is the tracers of an analysis drawn anew, each part with its own error
// and the relative error more, in wt% of what they sum to then.
func (a analysis) closed(r *rand.Rand, wide, more float64) []float64 {
	x, sum := make([]float64, len(a.x)), 0.0
	for i := range x {
		x[i] = math.Max(a.x[i]+wide*math.Hypot(a.u[i], more*a.x[i])*r.NormFloat64(), 0)
		sum += x[i]
	}
	out := make([]float64, len(a.at))
	for j, i := range a.at {
		if i >= 0 && sum > 0 {
			out[j] = 100 * x[i] / sum
		}
	}
	return out
}

func newMixture(slag chem.Composition, ends []End, how Unmixing) (*mixture, error) {
	p := &mixture{model: how.Model, slag: newAnalysis(slag, how.Oxides)}
	y, err := MixingBasis(slag)
	if err != nil {
		return nil, fmt.Errorf("the slag: %w", err)
	}
	var bases []chem.Composition
	for _, e := range ends {
		c, err := MixingBasis(e.Composition)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", e.Name, err)
		}
		bases, p.ends = append(bases, c), append(p.ends, newAnalysis(e.Composition, how.Oxides))
	}
	for _, id := range how.Oxides {
		q, _ := y.Get(id)
		if !q.Known() {
			return nil, fmt.Errorf("%s of the slag is not known (%s) and traces nothing", id, q.Text())
		}
		p.y, p.uy = append(p.y, q.Value), append(p.uy, known(q.U))
		row, spread := make([]float64, len(ends)), make([]float64, len(ends))
		for k, c := range bases {
			q, _ := c.Get(id)
			row[k], spread[k] = content(q)
		}
		p.a, p.ua = append(p.a, row), append(p.ua, spread)
	}
	return p, nil
}

// least keeps a tracer that everything lacks from weighing without limit, wt%.
const least = 0.01

func (p *mixture) weights(x []float64) []float64 {
	w := make([]float64, len(p.y))
	for j := range w {
		v := p.uy[j]*p.uy[j] + p.model*p.model*p.y[j]*p.y[j] + least*least
		for k := range x {
			v += x[k] * x[k] * p.ua[j][k] * p.ua[j][k]
		}
		w[j] = 1 / v
	}
	return w
}

func (p *mixture) mixed(a [][]float64, x []float64) []float64 {
	out := make([]float64, len(a))
	for j := range a {
		for k := range x {
			out[j] += a[j][k] * x[k]
		}
	}
	return out
}

// fit iterates the weights, which hang on the shares.
func (p *mixture) fit(y []float64, a [][]float64) (x []float64, err error) {
	x = make([]float64, len(a[0]))
	for k := range x {
		x[k] = 1 / float64(len(x))
	}
	for range 50 {
		next, err := p.solve(y, a, p.weights(x))
		if err != nil {
			return nil, err
		}
		moved := 0.0
		for k := range x {
			moved = math.Max(moved, math.Abs(next[k]-x[k]))
		}
		if x = next; moved < 1e-9 {
			break
		}
	}
	return x, nil
}

var errSingular = errors.New("the sources are alike in all tracers, so that no share can be told")

// solve is the least-squares solution with weights w, all shares at least zero
// and adding to one: an active set, begun with all ends in.
func (p *mixture) solve(y []float64, a [][]float64, w []float64) ([]float64, error) {
	n := len(a[0])
	m, v := make([][]float64, n), make([]float64, n) // aᵀWa, aᵀWy
	size := 0.0
	for k := range m {
		m[k] = make([]float64, n)
		for j := range a {
			v[k] += a[j][k] * w[j] * y[j]
			for l := range m[k] {
				m[k][l] += a[j][k] * w[j] * a[j][l]
			}
		}
		size = math.Max(size, m[k][k])
	}
	if !(size > 0) {
		return nil, errSingular
	}
	for k := range m {
		m[k][k] += ridge * size // so that like ends share alike instead of failing
	}
	in := make([]bool, n)
	for k := range in {
		in[k] = true
	}
	for range 4 * n {
		x, lambda, err := bordered(m, v, in)
		if err != nil {
			return nil, err
		}
		worst, at := -1e-12, -1
		for k := range x {
			if in[k] && x[k] < worst {
				worst, at = x[k], k
			}
		}
		if at >= 0 {
			in[at] = false
			continue
		}
		// An end that is out comes in where the fit would gain by it.
		worst = -1e-9 * size
		for k := range x {
			if in[k] {
				continue
			}
			slope := lambda - v[k]
			for l := range x {
				slope += m[k][l] * x[l]
			}
			if slope < worst {
				worst, at = slope, k
			}
		}
		if at < 0 {
			for k := range x {
				x[k] = math.Max(x[k], 0)
			}
			return x, nil
		}
		in[at] = true
	}
	return p.trySets(m, v)
}

// ridge is added to the diagonal, relative to its largest.
const ridge = 1e-10

// trySets looks through all sets of ends, for the rare case that the active set
// turns in a circle.
func (p *mixture) trySets(m [][]float64, v []float64) ([]float64, error) {
	n := len(m)
	var best []float64
	least := math.Inf(1)
	in := make([]bool, n)
	for set := 1; set < 1<<n; set++ {
		for k := range in {
			in[k] = set>>k&1 == 1
		}
		x, _, err := bordered(m, v, in)
		if err != nil || slices.Min(x) < -1e-12 {
			continue
		}
		f := 0.0
		for k := range x {
			f -= 2 * v[k] * x[k]
			for l := range x {
				f += x[k] * m[k][l] * x[l]
			}
		}
		if f < least {
			best, least = x, f
		}
	}
	if best == nil {
		return nil, errSingular
	}
	return best, nil
}

// bordered solves m·x + λ·1 = v, Σx = 1 over the ends that are in; the others
// are zero.
func bordered(m [][]float64, v []float64, in []bool) (x []float64, lambda float64, err error) {
	var at []int
	for k, ok := range in {
		if ok {
			at = append(at, k)
		}
	}
	n := len(at)
	scale := 0.0
	for _, k := range at {
		scale = math.Max(scale, m[k][k])
	}
	lhs := mat.NewDense(n+1, n+1, nil)
	rhs := mat.NewVecDense(n+1, nil)
	for i, k := range at {
		for j, l := range at {
			lhs.Set(i, j, m[k][l])
		}
		lhs.Set(i, n, scale)
		lhs.Set(n, i, scale)
		rhs.SetVec(i, v[k])
	}
	rhs.SetVec(n, scale)
	var sol mat.VecDense
	if err := sol.SolveVec(lhs, rhs); err != nil {
		var cond mat.Condition
		if !errors.As(err, &cond) || math.IsInf(float64(cond), 1) {
			return nil, 0, errSingular
		}
	}
	x = make([]float64, len(m))
	for i, k := range at {
		x[k] = sol.AtVec(i)
	}
	return x, sol.AtVec(n) * scale, nil
}
