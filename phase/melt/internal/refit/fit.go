package refit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

const (
	// A phase already saturated raises the liquidus whatever the others do, and
	// one that is not yet does nothing: it is the greatest S of all that has to
	// vanish. So S counts more above nothing than below, and most where the
	// phase was not published there.
	early    = 1.5 // weight of a phase above saturation where several are listed
	intruder = 2.5 // weight of an unlisted one
	clear    = 0.3 // widths by which an unlisted phase has to stay below saturation
	widest   = 1.0 // of S; no point is so uncertain

	leastWidth = 0.01
)

// ridges are the weights of the priors in the rounds of a stage. In each the
// widths of the residuals are found anew; the first hold closer to the priors,
// which keeps the way to the minimum out of side valleys.
var ridges = []float64{1.2, 0.6, 0.3}

// Fit fits all stages to the points, each holding the earlier ones, from the
// starting values of the table on, and writes the values into the table.
//
// It returns the table as it was before each stage.
func Fit(t *Table, points []Point) (before [Stages]*Table, err error) {
	t.restart()
	err = fitFrom(t, points, 0, &before)
	return before, err
}

// fitFrom fits the stages from first on, and then all together.
func fitFrom(t *Table, points []Point, first int, before *[Stages]*Table) error {
	for stage := first; stage < Stages; stage++ {
		before[stage] = t.clone()
		if err := fitStage(t, points, stage, ridges); err != nil {
			return err
		}
	}
	return fitStage(t, points, allStages, lastRidges)
}

// allStages stands for the last pass, in which all parameters move together,
// so that points of many oxides tell of the pairs that they share.
const allStages = -1

var lastRidges = []float64{0.3}

// problem is one stage of the fit.
type problem struct {
	probe       *melt.Probe
	priors      []prior
	points      []Point
	constraints []constraint
	widths      []map[string]float64 // of S, for each point and mineral
	ridge       float64              // weight of the priors
}

// fitStage fits the parameters of one stage to its points, or all to all, from
// the present values on.
func fitStage(t *Table, points []Point, stage int, ridges []float64) error {
	priors, err := t.free(stage)
	if err != nil || len(priors) == 0 {
		return err
	}
	rows := make([]int, len(priors))
	x := make([]float64, len(priors))
	for i, p := range priors {
		rows[i], x[i] = p.row, t.value(p.row)
	}
	probe, err := melt.NewProbe(t.String(), rows)
	if err != nil {
		return err
	}
	f := &problem{probe: probe, priors: priors}
	for s := range Stages {
		if s == stage || stage == allStages {
			f.constraints = append(f.constraints, constraints(s, probe.Model())...)
		}
	}
	for _, p := range points {
		if Stage(p.W) == stage || stage == allStages {
			f.points = append(f.points, p)
		}
	}
	f.constraints = append(f.constraints, abovePoints(f.points)...)
	for _, f.ridge = range ridges {
		if err := f.probe.Set(x); err != nil {
			return fmt.Errorf("stage %d: %w", stage, err)
		}
		f.setWidths()
		if x, err = f.descend(x); err != nil {
			return fmt.Errorf("stage %d: %w", stage, err)
		}
	}
	for i, p := range priors {
		t.set(p.row, x[i])
	}
	return nil
}

// setWidths finds for every point the width of S of each mineral that the
// uncertainty of the point gives:
//
//	σ² = (∂S/∂T·σ_T)² + (max |∂S/∂w|·σ_w)²
func (f *problem) setWidths() {
	f.widths = f.widths[:0]
	for _, p := range f.points {
		here := f.states(p.W, p.TC)
		warmer := f.states(p.W, p.TC+5)
		squares := map[string]float64{}
		for name, s := range here {
			d := (warmer[name] - s) / 5 * p.SigmaT
			squares[name] = d * d
		}
		steepest := map[string]float64{}
		for o, x := range p.W {
			if x == 0 || x > 99.9 {
				continue
			}
			const step = 0.2
			other := f.states(withOxide(p.W, slag.Oxide(o), x-min(step, x/2)), p.TC)
			for name, s := range here {
				if d := math.Abs(other[name]-s) / min(step, x/2); d > steepest[name] && !math.IsInf(d, 0) {
					steepest[name] = d
				}
			}
		}
		widths := map[string]float64{}
		for name := range here {
			widths[name] = max(math.Sqrt(squares[name]+math.Pow(steepest[name]*p.SigmaWt, 2)), leastWidth)
		}
		f.widths = append(f.widths, widths)
	}
}

func (f *problem) states(w slag.Wt, tc float64) map[string]float64 {
	m := map[string]float64{}
	for _, s := range f.probe.Saturations(w, tc, math.Inf(1)) {
		m[s.Mineral] = s.S
	}
	return m
}

// evaluate returns the normal equations at x; the derivatives only where with
// is true.
func (f *problem) evaluate(x []float64, with bool) (*normal, error) {
	if err := f.probe.Set(x); err != nil {
		return nil, err
	}
	n := &normal{jtj: mat.NewSymDense(len(x), nil), jtr: mat.NewVecDense(len(x), nil)}
	for i, p := range f.priors {
		r := f.ridge * (x[i] - p.centre) / p.sigma
		by := make([]float64, len(x))
		by[i] = f.ridge / p.sigma
		n.cost += r * r
		n.jtr.SetVec(i, n.jtr.AtVec(i)+r*by[i])
		n.jtj.SetSym(i, i, n.jtj.At(i, i)+by[i]*by[i])
	}
	from := math.Inf(1)
	if with {
		from = math.Inf(-1)
	}
	for i := range f.points {
		p := &f.points[i]
		share := 1 / math.Sqrt(float64(len(p.Phases)))
		for _, s := range f.listed(p, from) {
			width := f.widths[i][s.Mineral]
			scale := share / width
			if s.S > 0 && len(p.Phases) > 1 {
				scale *= early
			}
			n.add(s.S*scale, scale, s.By)
		}
		for _, s := range f.probe.Saturations(p.W, p.TC, max(from, -clear*widest)) {
			if width := f.widths[i][s.Mineral]; !p.holds(s.Phase) && s.S > -clear*width {
				n.add(intruder*(s.S/width+clear), intruder/width, s.By)
			}
		}
	}
	for _, c := range f.constraints {
		f.constrain(n, c, from)
	}
	return n, nil
}

// listed returns for each phase of the point the mineral that comes nearest.
func (f *problem) listed(p *Point, from float64) (list []melt.Saturation) {
	all := f.probe.Saturations(p.W, p.TC, from)
	for _, phase := range p.Phases {
		best := -1
		for i, s := range all {
			if s.Phase == phase && !math.IsInf(s.S, 0) && (best < 0 || s.S > all[best].S) {
				best = i
			}
		}
		if best >= 0 {
			list = append(list, all[best])
		}
	}
	return list
}

func (f *problem) constrain(n *normal, c constraint, from float64) {
	if c.tie[0] != "" {
		f.tie(n, c, from)
		return
	}
	if c.behind != "" {
		f.keepBehind(n, c, from)
		return
	}
	if !c.floor {
		for _, s := range f.probe.Saturations(c.w, c.tc, max(from, 0)) {
			if s.S > 0 && (c.only == "" || s.Phase == c.only) {
				n.add(s.S/c.scale, 1/c.scale, s.By)
			}
		}
		return
	}
	var top melt.Saturation
	top.S = math.Inf(-1)
	for _, s := range f.probe.Saturations(c.w, c.tc, from) {
		if s.S > top.S {
			top = s
		}
	}
	if top.S < 0 && !math.IsInf(top.S, 0) {
		n.add(top.S/c.scale, 1/c.scale, top.By)
	}
}

// keepBehind adds the residual of a phase that should come later.
func (f *problem) keepBehind(n *normal, c constraint, from float64) {
	late, first := melt.Saturation{S: math.Inf(-1)}, melt.Saturation{S: math.Inf(-1)}
	for _, s := range f.probe.Saturations(c.w, c.tc, from) {
		switch {
		case s.Phase == c.behind:
			late = s
		case slices.Contains(firstInFayalitic, s.Phase) && s.S > first.S:
			first = s
		}
	}
	r := late.S - first.S + fayaliticMargin
	if r <= 0 {
		return
	}
	by := make([]float64, len(late.By))
	for i := range by {
		by[i] = late.By[i] - first.By[i]
	}
	n.add(r/c.scale, 1/c.scale, by)
}

// tie adds the residual of a constraint between two minerals.
func (f *problem) tie(n *normal, c constraint, from float64) {
	var a, b melt.Saturation
	for _, s := range f.probe.Saturations(c.w, c.tc, from) {
		switch s.Mineral {
		case c.tie[0]:
			a = s
		case c.tie[1]:
			b = s
		}
	}
	by := make([]float64, len(a.By))
	for i := range by {
		by[i] = a.By[i] - b.By[i]
	}
	n.add((a.S-b.S-c.beyond)/c.scale, 1/c.scale, by)
}
