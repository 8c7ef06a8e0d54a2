package melt

import (
	"context"
	"runtime"
	"sync"
	"sync/atomic"
)

// chunk is how many items a worker takes at a time.
const chunk = 32

// inParallel calls do for 0 … n−1 on all processors, each worker with a search
// of its own. Every call must write to a place of its own, so that the order
// of the calls cannot matter. It stops early where ctx ends.
func inParallel(ctx context.Context, n int, do func(s *search, i int)) error {
	var next atomic.Int64
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), (n+chunk-1)/chunk) {
		wg.Go(func() {
			var s search
			for ctx.Err() == nil {
				lo := int(next.Add(chunk)) - chunk
				if lo >= n {
					return
				}
				for i := lo; i < min(lo+chunk, n); i++ {
					do(&s, i)
				}
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}
