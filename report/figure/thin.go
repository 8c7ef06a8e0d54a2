package figure

import "gonum.org/v1/plot/vg"

// unseen is how far a drawn line may stray from the computed one: a quarter of
// the thinnest line that the figures have.
const unseen = 0.025 * vg.Millimeter

// unseenInCrowd is that among very many lines: less than the line is wide.
const unseenInCrowd = 0.1 * vg.Millimeter

// Thin leaves out the points of a line that lie within a distance of the line
// without them (method of Douglas and Peucker, The Canadian Cartographer 10,
// 1973, p. 112). Its ends stay.
func Thin(line [][2]float64, distance float64) [][2]float64 {
	return thin(line, distance, func(p [2]float64) vg.Point { return vg.Point{X: vg.Length(p[0]), Y: vg.Length(p[1])} })
}

func thinned(line []vg.Point, unseen vg.Length) []vg.Point {
	return thin(line, float64(unseen), func(p vg.Point) vg.Point { return p })
}

func thin[P any](line []P, distance float64, at func(P) vg.Point) []P {
	if len(line) < 3 {
		return line
	}
	stays := make([]bool, len(line))
	stays[0], stays[len(line)-1] = true, true
	open := [][2]int{{0, len(line) - 1}} // stretches still to be looked at
	for len(open) > 0 {
		from, to := open[len(open)-1][0], open[len(open)-1][1]
		open = open[:len(open)-1]
		far, most := -1, distance
		for i := from + 1; i < to; i++ {
			if d := fromSegment(at(line[i]), at(line[from]), at(line[to])); d > most {
				far, most = i, d
			}
		}
		if far >= 0 {
			stays[far] = true
			open = append(open, [2]int{from, far}, [2]int{far, to})
		}
	}
	out := make([]P, 0, len(line))
	for i, p := range line {
		if stays[i] {
			out = append(out, p)
		}
	}
	return out
}
