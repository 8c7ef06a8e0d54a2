package compare

import "context"

// without tests the location of two groups with one sample left out after
// another. The places of the rest close up, so that from one sample to the next
// every relabelling exchanges one row at most, and its sums need not be formed
// anew.
type without struct {
	z     [][]float64 // centred
	group []int
	total []float64
	deals [2]*deal // by the group of the one left out
}

// deal is the relabellings of all samples but one of a group.
type deal struct {
	labels *Relabelling
	dealt  int       // samples of a row of labels
	has    [][]bool  // whether a relabelling deals a place
	sums   []float64 // of the rows dealt by each
	at     int       // the sample that the sums are without
}

func newWithout(ctx context.Context, z [][]float64, group []int, each int, seed uint64) (*without, error) {
	w := &without{z: centred(z), group: group, total: make([]float64, len(z[0]))}
	for _, row := range w.z {
		for j, v := range row {
			w.total[j] += v
		}
	}
	for g := range w.deals {
		rest := leave(group, g)
		if rest == nil {
			continue
		}
		labels, err := NewRelabelling(ctx, rest, each, seed)
		if err != nil {
			return nil, err
		}
		labels = labels.first(exhaustive / 10)
		d := &deal{labels: labels, dealt: labels.sizes[labels.order[0]], has: make([][]bool, len(labels.sets)), sums: make([]float64, len(labels.sets)*len(w.total))}
		for s, set := range labels.sets {
			d.has[s] = make([]bool, len(rest))
			sum := d.sum(s, len(w.total))
			for _, i := range set {
				d.has[s][i] = true
				for j, v := range w.z[i+1] { // without the first sample
					sum[j] += v
				}
			}
		}
		w.deals[g] = d
	}
	return w, nil
}

// leave returns the groups of all samples but one of a group; nil where that
// group would be empty.
func leave(group []int, g int) []int {
	n, first := 0, -1
	for i, x := range group {
		if x == g {
			n++
			if first < 0 {
				first = i
			}
		}
	}
	if n < 2 {
		return nil
	}
	return append(append([]int{}, group[:first]...), group[first+1:]...)
}

func (d *deal) sum(s, p int) []float64 { return d.sums[s*p : (s+1)*p] }

// p is that of the test without a sample. Samples must be asked for in order.
func (w *without) p(sample int) float64 {
	d, p := w.deals[w.group[sample]], len(w.total)
	for ; d.at < sample; d.at++ {
		gone, back := w.z[d.at+1], w.z[d.at]
		for s, has := range d.has {
			if has[d.at] {
				for j, sum := 0, d.sum(s, p); j < p; j++ {
					sum[j] += back[j] - gone[j]
				}
			}
		}
	}
	now := make([]float64, p)
	for i, g := range w.group {
		if i != sample && g == d.labels.order[0] {
			for j, v := range w.z[i] {
				now[j] += v
			}
		}
	}
	share := float64(d.dealt) / float64(len(w.z)-1)
	middle := make([]float64, p)
	for j, v := range w.total {
		middle[j] = share * (v - w.z[sample][j])
	}
	// The sum of squares between two groups goes with the distance of the sum
	// of one from its share of the whole.
	apart := func(sum []float64) (d2 float64) {
		for j, v := range sum {
			d2 += (v - middle[j]) * (v - middle[j])
		}
		return d2
	}
	threshold, count := apart(now)*(1-1e-10), 0
	for s := range d.has {
		if apart(d.sum(s, p)) >= threshold {
			count++
		}
	}
	return d.labels.p(count)
}
