package refit

import (
	"fmt"
	"runtime"
	"sync"

	"smeltbook/phase/melt"
)

// CrossValidate predicts the points of every system from a fit to the points
// of all others. t holds the values fitted to all points: earlier stages, in
// which the system has no part, stay as they are, and the stage of the system
// is fitted anew from its starting values.
func CrossValidate(t *Table, points []Point) ([]Score, error) {
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
			other := t.clone()
			if errs[n] = fitStage(other, left, Stage(out[0].W)); errs[n] != nil {
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
