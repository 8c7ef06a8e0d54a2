package logratio

import (
	"fmt"
	"math"
)

// Linkage says how the distance of two clusters follows from their members.
type Linkage string

const (
	Ward    Linkage = "Ward"    // least growth of the sum of squares (Ward 1963, JASA 58:236)
	Average Linkage = "average" // mean distance of members
)

// Merge joins two clusters. Clusters below n are samples by their place; n + k
// is the one made by the k-th merge. A < B.
type Merge struct {
	A, B   int
	Height float64 // Ward: √(2·growth of the sum of squares), the distance itself for two samples
	Size   int
}

// Cluster groups samples step by step from their distances, which have to be
// Euclidean for Ward, as Aitchison's are. The update is that of Lance &
// Williams 1967 (Computer Journal 9:373) on squared distances for Ward. Equal
// heights are joined in the order of the clusters' first samples, so that the
// order of the table alone decides.
func Cluster(distances [][]float64, l Linkage) ([]Merge, error) {
	if l != Ward && l != Average {
		return nil, fmt.Errorf("there is no linkage %q", l)
	}
	n := len(distances)
	d := make([][]float64, n)
	for i, row := range distances {
		d[i] = append([]float64(nil), row...)
		if l == Ward {
			for j := range d[i] {
				d[i][j] *= d[i][j]
			}
		}
	}
	// Row i holds the cluster whose first sample is i.
	name, size, gone := make([]int, n), make([]int, n), make([]bool, n)
	for i := range n {
		name[i], size[i] = i, 1
	}
	var out []Merge
	for k := range max(n-1, 0) {
		a, b := nearestPair(d, gone)
		height := d[a][b]
		if l == Ward {
			height = math.Sqrt(height)
		}
		for c := range n {
			if gone[c] || c == a || c == b {
				continue
			}
			na, nb, nc := float64(size[a]), float64(size[b]), float64(size[c])
			if l == Ward {
				d[a][c] = ((na+nc)*d[a][c] + (nb+nc)*d[b][c] - nc*d[a][b]) / (na + nb + nc)
			} else {
				d[a][c] = (na*d[a][c] + nb*d[b][c]) / (na + nb)
			}
			d[c][a] = d[a][c]
		}
		out = append(out, Merge{A: min(name[a], name[b]), B: max(name[a], name[b]), Height: height, Size: size[a] + size[b]})
		name[a], size[a], gone[b] = n+k, size[a]+size[b], true
	}
	return out, nil
}

// nearestPair returns the nearest two clusters, the first of equals; distances
// that differ by rounding alone are equal.
func nearestPair(d [][]float64, gone []bool) (int, int) {
	best, a, b := math.Inf(1), 0, 0
	for i := range d {
		for j := i + 1; !gone[i] && j < len(d); j++ {
			if !gone[j] && d[i][j] < best*(1-1e-12) {
				best, a, b = d[i][j], i, j
			} else if !gone[j] && math.IsInf(best, 1) {
				best, a, b = d[i][j], i, j
			}
		}
	}
	return a, b
}

// Members returns the samples of the clusters that remain when merging stops
// short of the given number of clusters, in the order of their first samples.
func Members(n int, merges []Merge, clusters int) [][]int {
	sets := map[int][]int{}
	for i := range n {
		sets[i] = []int{i}
	}
	for k, m := range merges[:max(min(n-clusters, len(merges)), 0)] {
		sets[n+k] = append(append([]int{}, sets[m.A]...), sets[m.B]...)
		delete(sets, m.A)
		delete(sets, m.B)
	}
	owner := make([]int, n)
	for id, set := range sets {
		for _, i := range set {
			owner[i] = id
		}
	}
	var out [][]int
	place := map[int]int{}
	for i, id := range owner {
		p, ok := place[id]
		if !ok {
			p = len(out)
			place[id] = p
			out = append(out, nil)
		}
		out[p] = append(out[p], i)
	}
	return out
}
