package compare

import "math"

// upperAlong is the upper one-sided bound of the shift of group 0 against group
// 1 in one number a sample: the least shift that, taken off group 0, makes it
// lie so far below group 1 that no more than one relabelling in twenty has it
// as low. The statistic is Welch's t, so that groups of unlike spread do not
// mislead (Janssen 1997, Statistics & Probability Letters 36:9). +Inf where
// the relabellings are too few for one in twenty.
func (r *Relabelling) upperAlong(x []float64) float64 {
	n0 := 0
	var mean [2]float64
	for i, g := range r.Group {
		if g == 0 {
			n0++
		}
		mean[g] += x[i]
	}
	n1 := len(x) - n0
	d := mean[0]/float64(n0) - mean[1]/float64(n1)
	least := 1 / float64(len(r.sets))
	if !r.Exact {
		least = 1 / float64(len(r.sets)+1)
	}
	if least > Alpha {
		return math.Inf(1)
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, v := range x {
		lo, hi = math.Min(lo, v), math.Max(hi, v)
	}
	moved := make([]float64, len(x))
	refuted := func(shift float64) bool {
		for i, v := range x {
			moved[i] = v
			if r.Group[i] == 0 {
				moved[i] -= shift
			}
		}
		return r.lowShare(moved) <= Alpha
	}
	near, far := d, d+4*(hi-lo)+1e-12
	if !refuted(far) {
		return math.Inf(1)
	}
	for range boundBisection {
		if mid := (near + far) / 2; refuted(mid) {
			far = mid
		} else {
			near = mid
		}
	}
	return far
}

// lowShare is the share of relabellings in which Welch's t of group 0 against
// group 1 is as low as it is, or lower.
func (r *Relabelling) lowShare(x []float64) float64 {
	var total, total2 float64
	for _, v := range x {
		total += v
		total2 += v * v
	}
	// A row of sets holds group 0 or group 1, whichever is the smaller.
	holds := r.order[0]
	n := float64(r.sizes[holds])
	rest := float64(len(x)) - n
	t := func(sum, sum2 float64) float64 {
		m, k := sum/n, (total-sum)/rest
		v := (sum2/n-m*m)/(n-1) + ((total2-sum2)/rest-k*k)/(rest-1)
		d := m - k
		if holds == 1 {
			d = -d
		}
		return d / math.Sqrt(math.Max(v, 1e-300))
	}
	var sum, sum2 float64
	for i, g := range r.Group {
		if g == holds {
			sum += x[i]
			sum2 += x[i] * x[i]
		}
	}
	now := t(sum, sum2)
	limit := now + 1e-9*math.Abs(now)
	count := 0
	squares := make([]float64, len(x))
	for i, v := range x {
		squares[i] = v * v
	}
	for _, set := range r.sets {
		sum, sum2 = 0, 0
		for _, i := range set {
			sum += x[i]
			sum2 += squares[i]
		}
		if t(sum, sum2) <= limit {
			count++
		}
	}
	return r.p(count)
}
