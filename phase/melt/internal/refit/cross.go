package refit

import (
	"fmt"
	"runtime"
	"sync"

	"smeltbook/phase/melt"
)

// CrossValidate predicts the points of every system from a fit to the points
// of all others. before holds the tables of the fit to all points before each
// stage: where a system comes in only later, the earlier stages are the same
// without it.
func CrossValidate(before *[Stages]*Table, points []Point) ([]Score, error) {
	var systems []string
	place := map[string][]int{}
	for i, p := range points {
		if place[p.System] == nil {
			systems = append(systems, p.System)
		}
		place[p.System] = append(place[p.System], i)
	}
	scores := make([]Score, len(points))
	errs := make([]error, len(systems))
	limit := make(chan struct{}, runtime.GOMAXPROCS(0))
	var group sync.WaitGroup
	for n, system := range systems {
		group.Go(func() {
			limit <- struct{}{}
			defer func() { <-limit }()
			var left, out []Point
			for _, p := range points {
				if p.System == system {
					out = append(out, p)
				} else {
					left = append(left, p)
				}
			}
			first := Stage(out[0].W)
			other := before[first].clone()
			var scrap [Stages]*Table
			if errs[n] = fitFrom(other, left, first, &scrap); errs[n] != nil {
				return
			}
			m, err := melt.FromParameters(other.String())
			if err != nil {
				errs[n] = err
				return
			}
			for i, s := range Judge(m, out) {
				scores[place[system][i]] = s
			}
		})
	}
	group.Wait()
	for n, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("without %s: %w", systems[n], err)
		}
	}
	return scores, nil
}
