package melt

import (
	"maps"
	"slices"
)

// grid is a triangle cut into n steps a side. Vertices are numbered row by
// row: row i holds A = i/n, and in it j = 0 … n−i gives B = j/n.
type grid struct{ n int }

func (g grid) size() int { return (g.n + 1) * (g.n + 2) / 2 }

func (g grid) vertex(i, j int) int { return i*(g.n+1) - i*(i-1)/2 + j }

// place returns row and position of a vertex.
func (g grid) place(v int) (i, j int) {
	for v >= g.n-i+1 {
		v -= g.n - i + 1
		i++
	}
	return i, v
}

func (g grid) point(v int) Point {
	i, j := g.place(v)
	n := float64(g.n)
	return Point{float64(i) / n, float64(j) / n, float64(g.n-i-j) / n}
}

// triangles calls visit for every small triangle, in a fixed order.
func (g grid) triangles(visit func(a, b, c int)) {
	for i := range g.n {
		for j := range g.n - i {
			visit(g.vertex(i, j), g.vertex(i+1, j), g.vertex(i, j+1))
			if i+j+2 <= g.n {
				visit(g.vertex(i+1, j), g.vertex(i+1, j+1), g.vertex(i, j+1))
			}
		}
	}
}

// neighbours calls visit for the up to six vertices beside v.
func (g grid) neighbours(v int, visit func(u int)) {
	i, j := g.place(v)
	for _, d := range [6][2]int{{0, 1}, {0, -1}, {1, 0}, {-1, 0}, {1, -1}, {-1, 1}} {
		if a, b := i+d[0], j+d[1]; a >= 0 && b >= 0 && a+b <= g.n {
			visit(g.vertex(a, b))
		}
	}
}

// area returns the share of the triangle that belongs to a vertex: a third of
// each small triangle that it is a corner of.
func (g grid) area(v int) float64 {
	i, j := g.place(v)
	sides := 0
	for _, onSide := range []bool{i == 0, j == 0, i+j == g.n} {
		if onSide {
			sides++
		}
	}
	corners := [3]float64{6, 3, 1}[min(sides, 2)]
	return corners / (3 * float64(g.n) * float64(g.n))
}

// patches cuts the vertices into connected patches of equal label, numbered in
// the order of their first vertex; a vertex with an empty label has patch −1.
func (g grid) patches(label []Phase) (patch []int, count int) {
	patch = make([]int, len(label))
	for v := range patch {
		patch[v] = -1
	}
	var stack []int
	for v := range label {
		if patch[v] >= 0 || label[v] == "" {
			continue
		}
		patch[v] = count
		stack = append(stack[:0], v)
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			g.neighbours(at, func(u int) {
				if patch[u] < 0 && label[u] == label[v] {
					patch[u] = count
					stack = append(stack, u)
				}
			})
		}
		count++
	}
	return patch, count
}

// speck is the share of the triangle below which a patch is no field.
const speck = 0.003

// withoutSpecks gives the vertices of each patch smaller than a speck to the
// patches around it, the smallest speck first. choose says which of the labels
// around is right for a vertex; where it has no answer the vertex goes to the
// one that the speck has most contact with.
func (g grid) withoutSpecks(label []Phase, choose func(v int, among []Phase) Phase) []Phase {
	out := slices.Clone(label)
	for range len(label) {
		patch, p, contact := g.smallestSpeck(out)
		if p < 0 {
			break
		}
		around := slices.Sorted(maps.Keys(contact))
		for v := range patch {
			if patch[v] != p {
				continue
			}
			if out[v] = choose(v, around); !slices.Contains(around, out[v]) {
				out[v] = mostContact(contact)
			}
		}
	}
	return out
}

// smallestSpeck returns the patches, the number of the smallest one below a
// speck that has neighbours, or −1, and its contacts.
func (g grid) smallestSpeck(label []Phase) (patch []int, smallest int, contact map[Phase]int) {
	patch, count := g.patches(label)
	area := make([]float64, count)
	for v, p := range patch {
		if p >= 0 {
			area[p] += g.area(v)
		}
	}
	smallest = -1
	for p := range area {
		if area[p] < speck && (smallest < 0 || area[p] < area[smallest]) {
			if c := g.contacts(label, patch, p); len(c) > 0 {
				smallest, contact = p, c
			}
		}
	}
	return patch, smallest, contact
}

// contacts counts the edges between a patch and the labels around it.
func (g grid) contacts(label []Phase, patch []int, p int) map[Phase]int {
	contact := map[Phase]int{}
	for v := range patch {
		if patch[v] != p {
			continue
		}
		g.neighbours(v, func(u int) {
			if patch[u] >= 0 && patch[u] != p {
				contact[label[u]]++
			}
		})
	}
	return contact
}

func mostContact(contact map[Phase]int) (best Phase) {
	for phase, n := range contact {
		if n > contact[best] || n == contact[best] && phase < best {
			best = phase
		}
	}
	return best
}
