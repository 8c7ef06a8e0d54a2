package logratio

// SpatialMedian returns the point with the least sum of distances to the rows:
// a centre that a single odd sample cannot pull away (Weiszfeld's iteration as
// corrected by Vardi & Zhang 2000, PNAS 97:1423).
func SpatialMedian(z [][]float64) []float64 {
	at := Mean(z)
	next := make([]float64, len(at))
	for range 10_000 {
		var weight, here float64
		clear(next)
		pull := make([]float64, len(at))
		for _, row := range z {
			d := Euclid(row, at)
			if d < 1e-14 {
				here++
				continue
			}
			weight += 1 / d
			for j, v := range row {
				next[j] += v / d
				pull[j] += (v - at[j]) / d
			}
		}
		if weight == 0 {
			return at
		}
		// At a sample the others pull with a force of which up to one unit for
		// each sample there is held.
		share := 0.0
		if here > 0 {
			force := Euclid(pull, make([]float64, len(at)))
			if force <= here {
				return at
			}
			share = here / force
		}
		var moved float64
		for j := range next {
			x := (1-share)*next[j]/weight + share*at[j]
			moved = max(moved, x-at[j], at[j]-x)
			next[j] = x
		}
		at, next = next, at
		if moved < 1e-12 {
			break
		}
	}
	return at
}
