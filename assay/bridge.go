package assay

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
	"smeltbook/assay/quantity"
)

// Bridge leads from one method to the more trusted ones: the samples of one
// kind that were analysed by both, for one analyte. One kind of material makes
// one bridge, because what an instrument misreads depends on the rest of the
// sample.
type Bridge struct {
	From    string   // the method that is compared
	To      []string // the methods it is compared with
	Kind    string
	Analyte string // as From states it
	Points  []BridgePoint
	Line    quality.Line       // y by From on x by To; see Why
	Robust  quality.RobustLine // the same without weights
	Ratio   quality.Ratio      // y over x
	Why     string             // why there is no line; empty where there is one
}

// BridgePoint is a sample by both methods, wt% of Bridge.Analyte.
type BridgePoint struct {
	Sample       *Sample
	Lab, Reading quantity.Quantity
}

// leastBridge is the number of samples that carry a line.
const leastBridge = 5

// makeBridges compares handheld readings, and those of every method that the
// recipe corrects, with the laboratory's results. It goes before corrections.
func (c *Campaign) makeBridges() {
	from := []string{HandheldXRF}
	for _, r := range c.Config.Recipe.Correct {
		if !slices.Contains(from, r.Method) {
			from = append(from, r.Method)
		}
	}
	for _, method := range from {
		var kinds []string
		for _, s := range c.Samples {
			if !slices.Contains(kinds, s.Kind) {
				kinds = append(kinds, s.Kind)
			}
		}
		for _, kind := range kinds {
			c.Bridges = append(c.Bridges, c.bridgesOf(method, kind)...)
		}
	}
}

func (c *Campaign) bridgesOf(method, kind string) []Bridge {
	var out []Bridge
	for _, s := range c.Samples {
		if s.Kind != kind {
			continue
		}
		var mine, others []Assay
		for _, a := range s.Assays {
			if a.Method == method {
				mine = append(mine, a)
			} else if c.Config.Recipe.rank(a.Method) < c.Config.Recipe.rank(method) {
				others = append(others, a)
			}
		}
		readings, _ := choose(mine, c.Config.Recipe)
		labs, by := choose(others, c.Config.Recipe)
		for _, r := range readings {
			i := slices.IndexFunc(labs, func(l chem.Part) bool { return l.Known() && quality.Same(l.ID, r.ID) })
			if i < 0 || !r.Known() {
				continue
			}
			factor, err := chem.Factor(labs[i].ID, r.ID)
			if err != nil {
				continue
			}
			k := slices.IndexFunc(out, func(b Bridge) bool { return b.Analyte == r.ID })
			if k < 0 {
				out = append(out, Bridge{From: method, Kind: kind, Analyte: r.ID})
				k = len(out) - 1
			}
			b := &out[k]
			b.Points = append(b.Points, BridgePoint{Sample: s, Lab: labs[i].Scale(factor, "wt%"), Reading: r.Quantity})
			if to := by[groupOf(labs[i].ID)]; !slices.Contains(b.To, to) {
				b.To = append(b.To, to)
			}
		}
	}
	for i := range out {
		out[i].fit()
	}
	return out
}

// fit draws the line, or says why there is none.
func (b *Bridge) fit() {
	var points []quality.Point
	var xs, ys []float64
	for _, p := range b.Points {
		points = append(points, quality.Point{X: p.Lab.Value, Y: p.Reading.Value, UX: p.Lab.U, UY: p.Reading.U})
		xs, ys = append(xs, p.Lab.Value), append(ys, p.Reading.Value)
	}
	b.Ratio, _ = quality.RatioOf(xs, ys)
	if len(points) < leastBridge {
		b.Why = fmt.Sprintf("%d samples by both methods; a line needs %d", len(points), leastBridge)
		return
	}
	var err error
	if b.Line, err = quality.York(points); err != nil {
		b.Why = err.Error()
		return
	}
	if b.Robust, err = quality.PassingBablok(thinned(xs), thinned(ys)); err != nil {
		b.Why = err.Error()
		return
	}
	if r := b.Line.X[1] / b.Line.X[0]; b.Line.X[0] > 0 && r < leastRange {
		b.Why = fmt.Sprintf("the samples differ by a factor of %.2g only, too little for a slope", r)
	}
}

// manyPoints is the number of points above which the robust line, which takes
// the slopes of all pairs, is drawn through every second, third, … of them.
const manyPoints = 500

func thinned(xs []float64) []float64 {
	step := (len(xs)-1)/manyPoints + 1
	if step == 1 {
		return xs
	}
	var out []float64
	for i := 0; i < len(xs); i += step {
		out = append(out, xs[i])
	}
	return out
}

// leastRange is how far apart the highest and the lowest sample of a bridge lie
// at least; common practice asks for samples over the whole range.
const leastRange = 1.5

// Bridge returns the bridge of a method for a kind of sample and an analyte in
// any of its forms.
func (c *Campaign) Bridge(method, kind, analyte string) (Bridge, bool) {
	i := slices.IndexFunc(c.Bridges, func(b Bridge) bool {
		return b.From == method && b.Kind == kind && quality.Same(b.Analyte, analyte)
	})
	if i < 0 {
		return Bridge{}, false
	}
	return c.Bridges[i], true
}

func list(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}
