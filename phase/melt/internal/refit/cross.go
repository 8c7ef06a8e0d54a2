package refit

import (
	"fmt"
	"runtime"
	"sync"

	"smeltbook/phase/melt"
)

// folds is how many parts the points are divided into where they are left out
// by parts and not by systems.
const folds = 10

// BySystem puts the points of each system in a group.
func BySystem(points []Point) []string {
	groups := make([]string, len(points))
	for i, p := range points {
		groups[i] = p.System
	}
	return groups
}

// ByTenths deals the points out in turn to ten groups, so that most systems
// keep some of their points in every fit.
func ByTenths(points []Point) []string {
	groups := make([]string, len(points))
	for i := range points {
		groups[i] = fmt.Sprintf("tenth %d", i%folds+1)
	}
	return groups
}

// CrossValidate predicts the points of every group from a fit to the points of
// all others. before holds the tables of the fit to all points before each
// stage: where a group comes in only later, the earlier stages are the same
// without it.
func CrossValidate(before *[Stages]*Table, points []Point, groups []string) ([]Score, error) {
	var names []string
	place := map[string][]int{}
	for i, g := range groups {
		if place[g] == nil {
			names = append(names, g)
		}
		place[g] = append(place[g], i)
	}
	scores := make([]Score, len(points))
	errs := make([]error, len(names))
	limit := make(chan struct{}, runtime.GOMAXPROCS(0))
	var group sync.WaitGroup
	for n, name := range names {
		group.Go(func() {
			limit <- struct{}{}
			defer func() { <-limit }()
			var left, out []Point
			first := Stages - 1
			for i, p := range points {
				if groups[i] == name {
					out = append(out, p)
					first = min(first, Stage(p.W))
				} else {
					left = append(left, p)
				}
			}
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
				scores[place[name][i]] = s
			}
		})
	}
	group.Wait()
	for n, err := range errs {
		if err != nil {
			return nil, fmt.Errorf("without %s: %w", names[n], err)
		}
	}
	return scores, nil
}
