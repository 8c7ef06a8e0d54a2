package logratio

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
)

// subset is the tightest one found so far.
type subset struct {
	det    float64 // logarithm of the determinant
	places []int   // in order
}

// concentration goes from a few samples to the tightest that are as many as
// wanted. Its room is made once, for there are thousands of steps.
type concentration struct {
	z       []float64 // centred rows, one behind the other
	n, p, h int
	floor   []float64 // of the pivots
	mean    []float64
	lower   []float64 // triangular factor of the scatter, rows of growing length
	solved  []float64
	d2, far []float64
}

func newConcentration(z [][]float64, h int) *concentration {
	n, p := len(z), len(z[0])
	c := &concentration{n: n, p: p, h: h, z: make([]float64, 0, n*p), floor: make([]float64, p), mean: make([]float64, p),
		lower: make([]float64, p*(p+1)/2), solved: make([]float64, p), d2: make([]float64, n), far: make([]float64, n)}
	mean := Mean(z)
	for _, row := range z {
		for j, v := range row {
			v -= mean[j]
			c.z = append(c.z, v)
			c.floor[j] += pivotFloor * v * v / float64(n)
		}
	}
	return c
}

// tightest returns the tightest subset that random starts lead to; nil where
// none of them spans a volume.
func (c *concentration) tightest(starts int, seed uint64) []int {
	r := rand.New(rand.NewPCG(seed, 0))
	var first []subset
	for range starts {
		if s, ok := c.steps(r.Perm(c.n)[:c.p+1], mcdSteps); ok {
			first = append(first, s)
		}
	}
	slices.SortStableFunc(first, func(a, b subset) int { return cmp.Compare(a.det, b.det) })
	var best subset
	for _, s := range first[:min(mcdBest, len(first))] {
		s, ok := c.steps(s.places, mcdLast)
		if ok && (best.places == nil || s.det < best.det-1e-12) {
			best = s
		}
	}
	return best.places
}

// steps goes from samples to the h nearest to them, again and again, at most as
// often as told; false where they span no volume.
func (c *concentration) steps(places []int, most int) (subset, bool) {
	det, ok := c.factorise(places)
	for range most {
		if !ok {
			return subset{}, false
		}
		next := c.nearest()
		if slices.Equal(next, places) {
			break
		}
		places = next
		det, ok = c.factorise(places)
	}
	return subset{det, places}, ok
}

// factorise finds mean and triangular factor of the covariance of samples, and
// the logarithm of its determinant; false where they span no volume.
func (c *concentration) factorise(places []int) (logDet float64, ok bool) {
	p := c.p
	clear(c.mean)
	for _, i := range places {
		for j, v := range c.z[i*p : i*p+p] {
			c.mean[j] += v
		}
	}
	for j := range c.mean {
		c.mean[j] /= float64(len(places))
	}
	clear(c.lower)
	for _, i := range places {
		row := c.z[i*p : i*p+p]
		at := 0
		for a, v := range row {
			v -= c.mean[a]
			c.solved[a] = v
			line := c.lower[at : at+a+1]
			for b, w := range c.solved[:a+1] {
				line[b] += v * w
			}
			at += a + 1
		}
	}
	scale := 1 / float64(len(places)-1)
	for a, at := 0, 0; a < p; a++ {
		row := c.lower[at : at+a+1]
		for b, bt := 0, 0; b <= a; b++ {
			v := row[b] * scale
			other := c.lower[bt : bt+b+1]
			for k, w := range other[:b] {
				v -= row[k] * w
			}
			if b < a {
				row[b] = v / other[b]
			} else if v <= c.floor[a] {
				return 0, false
			} else {
				logDet += math.Log(v)
				row[a] = math.Sqrt(v)
			}
			bt += b + 1
		}
		at += a + 1
	}
	return logDet, true
}

// nearest returns the places of the h samples nearest to the mean, in order; of
// equals the first.
func (c *concentration) nearest() []int {
	p := c.p
	for i := range c.n {
		var d float64
		at := 0
		for a, v := range c.z[i*p : i*p+p] {
			v -= c.mean[a]
			line := c.lower[at : at+a+1]
			for k, w := range c.solved[:a] {
				v -= line[k] * w
			}
			v /= line[a]
			c.solved[a] = v
			d += v * v
			at += a + 1
		}
		c.d2[i] = d
	}
	copy(c.far, c.d2)
	slices.Sort(c.far)
	limit := c.far[c.h-1]
	ties := 0
	for _, d := range c.far[:c.h] {
		if d == limit {
			ties++
		}
	}
	out := make([]int, 0, c.h)
	for i, d := range c.d2 {
		if d < limit || d == limit && ties > 0 {
			if d == limit {
				ties--
			}
			out = append(out, i)
		}
	}
	return out
}
