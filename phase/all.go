package phase

import (
	"context"
	"math/rand/v2"
	"runtime"
	"sync"

	"smeltbook/assay/chem"
)

// Result is the answer about one composition of several.
type Result struct {
	Estimate Estimate
	Err      error // nil where there is an Estimate
}

// EstimateAll answers about every composition, on all processors, in the order
// given. Each composition draws from its own seed, made from that of cond and
// its place, so that the results are the same whatever the number of
// processors; Estimate with the Conditions of a result gives its numbers again.
//
// A composition that fails has its error in its Result. The error of
// EstimateAll is that of the conditions or of ctx; with the latter the results
// that were ready are returned and the others carry it too. progress, which may
// be nil, is called from one goroutine at a time with a rising count.
func (e *Estimator) EstimateAll(ctx context.Context, cs []chem.Composition, cond Conditions, progress func(done, total int)) ([]Result, error) {
	if err := cond.check(); err != nil {
		return nil, err
	}
	results := make([]Result, len(cs))
	var (
		mu         sync.Mutex
		next, done int
		wg         sync.WaitGroup
	)
	take := func() (int, bool) {
		mu.Lock()
		defer mu.Unlock()
		next++
		return next - 1, next <= len(cs)
	}
	finished := func() {
		mu.Lock()
		defer mu.Unlock()
		done++
		if progress != nil {
			progress(done, len(cs))
		}
	}
	for range min(runtime.GOMAXPROCS(0), len(cs)) {
		wg.Go(func() {
			for i, ok := take(); ok; i, ok = take() {
				own := cond
				own.Seed = seedOf(cond.Seed, i)
				results[i].Estimate, results[i].Err = e.Estimate(ctx, cs[i], own)
				finished()
			}
		})
	}
	wg.Wait()
	return results, ctx.Err()
}

// seedOf gives the i-th composition its own seed.
func seedOf(seed uint64, i int) uint64 {
	return rand.NewPCG(seed, uint64(i)).Uint64()
}
