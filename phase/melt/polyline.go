package melt

// chain is a polyline through numbered nodes.
type chain struct {
	nodes  []int
	closed bool
}

// joinSegments puts segments between numbered nodes together into the longest
// polylines that can be had without using a segment twice: first those that
// begin at an open end, then closed ones. The result depends only on the order
// of the segments.
func joinSegments(segments [][2]int) []chain {
	at := map[int][]int{} // segments at each node, in order
	for i, s := range segments {
		at[s[0]] = append(at[s[0]], i)
		at[s[1]] = append(at[s[1]], i)
	}
	used := make([]bool, len(segments))
	walk := func(start int) chain {
		c := chain{nodes: []int{start}}
		for here := start; ; {
			next := -1
			for _, i := range at[here] {
				if !used[i] {
					next = i
					break
				}
			}
			if next < 0 {
				break
			}
			used[next] = true
			s := segments[next]
			here = s[0] + s[1] - here
			c.nodes = append(c.nodes, here)
		}
		c.closed = len(c.nodes) > 3 && c.nodes[0] == c.nodes[len(c.nodes)-1]
		return c
	}
	var list []chain
	for _, odd := range []bool{true, false} {
		for i, s := range segments {
			for _, end := range s {
				if !used[i] && (!odd || len(at[end])%2 == 1) {
					list = append(list, walk(end))
				}
			}
		}
	}
	return list
}

// nodeSet numbers places by the edge or the triangle that they lie in.
type nodeSet struct {
	index  map[[3]int]int
	points []Point
}

// edgeKey names an edge by its vertices.
func edgeKey(a, b int) [3]int { return [3]int{min(a, b), max(a, b), -1} }

// add returns the number of a place, asking for it when it is new.
func (n *nodeSet) add(key [3]int, place func() Point) int {
	if i, ok := n.index[key]; ok {
		return i
	}
	if n.index == nil {
		n.index = map[[3]int]int{}
	}
	i := len(n.points)
	n.index[key] = i
	n.points = append(n.points, place())
	return i
}

// along returns the points of a chain.
func (n *nodeSet) along(c chain) []Point {
	list := make([]Point, len(c.nodes))
	for i, node := range c.nodes {
		list[i] = n.points[node]
	}
	return list
}

// between returns the point at t from a (0) to b (1).
func between(a, b Point, t float64) Point {
	return Point{a.A + t*(b.A-a.A), a.B + t*(b.B-a.B), a.C + t*(b.C-a.C)}
}
