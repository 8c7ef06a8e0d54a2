package chart

import (
	"math"
	"slices"
)

// place is where a label may stand: x, y and its turn in degrees.
type place [3]float64

// placesOn lists places for a label along the longest of some lines, the
// middle first and the steep ones last. The page script takes the first that is
// free of points and of other labels, which depends on the size of the chart.
// Short lines have none.
func placesOn(parts [][][2]float64) []place {
	var longest [][2]float64
	for _, p := range parts {
		if run(p) > run(longest) {
			longest = p
		}
	}
	length := run(longest)
	if length < 0.08 {
		return nil
	}
	const half = 0.015 // the turn is that of a stretch about as long as a label
	var out []place
	for _, f := range []float64{0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9} {
		at, p, q := along(longest, f*length), along(longest, f*length-half), along(longest, f*length+half)
		turn := math.Atan2(q[1]-p[1], q[0]-p[0]) * 180 / math.Pi
		if turn > 90 {
			turn -= 180
		}
		if turn < -90 {
			turn += 180
		}
		out = append(out, place{round(at[0]), round(at[1]), math.Round(turn)})
	}
	steep := func(p place) bool { return math.Abs(p[2]) > 60 } // hard to read
	slices.SortStableFunc(out, func(p, q place) int {
		switch {
		case steep(p) == steep(q):
			return 0
		case steep(p):
			return 1
		}
		return -1
	})
	return out
}

// along is the point at a distance from the beginning of a line, one of its
// ends where the line is not so long.
func along(line [][2]float64, distance float64) [2]float64 {
	if distance <= 0 {
		return line[0]
	}
	for i := 1; i < len(line); i++ {
		p, q := line[i-1], line[i]
		d := math.Hypot(q[0]-p[0], q[1]-p[1])
		if distance <= d {
			f := distance / d
			return [2]float64{p[0] + f*(q[0]-p[0]), p[1] + f*(q[1]-p[1])}
		}
		distance -= d
	}
	return line[len(line)-1]
}

// run is the length of a line.
func run(line [][2]float64) float64 {
	sum := 0.0
	for i := 1; i < len(line); i++ {
		sum += math.Hypot(line[i][0]-line[i-1][0], line[i][1]-line[i-1][1])
	}
	return sum
}
