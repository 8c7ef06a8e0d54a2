package quality

import (
	"math"
	"slices"
)

// medianToSD turns the median of |d| of normal pairs into the standard
// deviation of one reading: the median of |d| is 0.95387 s (Thompson & Howarth
// 1976; the split of its inverse 1.04836 in Stanley & Lawie 2007, GEEA).
const medianToSD = 1 / 0.95387

// Repeats are readings of one thing, all of one analyte by one method.
type Repeats []float64

// Mean of the readings.
func (r Repeats) Mean() float64 {
	var m float64
	for _, x := range r {
		m += x / float64(len(r))
	}
	return m
}

// squares is the sum of squares about the mean.
func (r Repeats) squares() float64 {
	m, s := r.Mean(), 0.0
	for _, x := range r {
		s += (x - m) * (x - m)
	}
	return s
}

// Precision is what repeats tell of the scatter of one reading.
type Precision struct {
	Groups   int     // things read more than once
	DoF      int     // readings less groups
	SD       float64 // pooled; for pairs √(Σd²/2n)
	RSD      float64 // pooled relative standard deviation, percent
	RobustSD float64 // from the median |d| of the first two readings of each
	Mean     float64 // mean of the groups' means
}

// PrecisionOf pools repeats. The relative one pools the groups' own relative
// deviations, for things of unlike content. ok is false without any repeat.
func PrecisionOf(groups []Repeats) (p Precision, ok bool) {
	var squares, relative float64
	var gaps []float64
	for _, g := range groups {
		if len(g) < 2 {
			continue
		}
		m := g.Mean()
		p.Groups++
		p.DoF += len(g) - 1
		p.Mean += m
		squares += g.squares()
		relative += g.squares() / (m * m)
		gaps = append(gaps, math.Abs(g[0]-g[1]))
	}
	if p.Groups == 0 {
		return Precision{}, false
	}
	p.Mean /= float64(p.Groups)
	p.SD = math.Sqrt(squares / float64(p.DoF))
	p.RSD = 100 * math.Sqrt(relative/float64(p.DoF))
	p.RobustSD = medianOf(gaps) * medianToSD
	return p, true
}

// RepeatabilityLimit is the largest difference of two readings that one pair in
// twenty exceeds, 2.8 s (ISO 5725-6).
func RepeatabilityLimit(sd float64) float64 { return 2.8 * sd }

// ControlLines are the differences |d| of a pair that one pair in ten and one
// in a hundred exceed where one reading scatters by sd, normal errors assumed
// (Thompson & Howarth 1978, Journal of Geochemical Exploration 9:23).
func ControlLines(sd float64) (tenth, hundredth float64) { return 2.3262 * sd, 3.6428 * sd }

// PrecisionLine is Thompson and Howarth's model of precision against content:
// the standard deviation of one reading is S0 + K·c.
type PrecisionLine struct {
	S0, K float64
	Pairs int // pairs used
}

// At is the standard deviation at a content.
func (l PrecisionLine) At(c float64) float64 { return l.S0 + l.K*c }

// LinePairs is the least number of pairs that carries a line.
const LinePairs = 50

const linePairsGroup = 11

// PrecisionLineOf fits the model to 50 pairs or more (Thompson & Howarth 1976,
// Analyst 101:690; from memory): pairs sorted by their mean fall into groups of
// 11, and the median |d| of the groups against their mean of means makes a
// line, which is brought from median to standard deviation. The last pairs,
// where fewer than 11 remain, are left out.
func PrecisionLineOf(pairs [][2]float64) (PrecisionLine, bool) {
	if len(pairs) < LinePairs {
		return PrecisionLine{}, false
	}
	sorted := slices.Clone(pairs)
	slices.SortStableFunc(sorted, func(a, b [2]float64) int {
		switch d := (a[0] + a[1]) - (b[0] + b[1]); {
		case d < 0:
			return -1
		case d > 0:
			return 1
		}
		return 0
	})
	var xs, ys []float64
	for at := 0; at+linePairsGroup <= len(sorted); at += linePairsGroup {
		var mean float64
		var gaps []float64
		for _, p := range sorted[at : at+linePairsGroup] {
			mean += (p[0] + p[1]) / 2 / linePairsGroup
			gaps = append(gaps, math.Abs(p[0]-p[1]))
		}
		xs, ys = append(xs, mean), append(ys, medianOf(gaps))
	}
	l, err := Ordinary(xs, ys)
	if err != nil {
		return PrecisionLine{}, false
	}
	return PrecisionLine{S0: l.A * medianToSD, K: l.B * medianToSD, Pairs: len(xs) * linePairsGroup}, true
}

func medianOf(xs []float64) float64 {
	s := slices.Sorted(slices.Values(xs))
	n := len(s)
	if n == 0 {
		return math.NaN()
	}
	return (s[(n-1)/2] + s[n/2]) / 2
}
