// Package stream does many independent pieces of random work on all processors
// with the same result whatever their number: piece i always draws from the
// generator of its own number.
package stream

import (
	"context"
	"hash/fnv"
	"math/rand/v2"
	"runtime"
	"sync"
	"sync/atomic"
)

// Progress is told how many pieces are done; nil for silence. It is called from
// one goroutine at a time with a rising count.
type Progress func(done, total int)

// Each calls do for the pieces 0 … n−1, piece i with the generator PCG(seed,
// i). It returns ctx's error when that ends first; then some pieces have not
// been done.
func Each(ctx context.Context, seed uint64, n int, progress Progress, do func(i int, r *rand.Rand)) error {
	var (
		next atomic.Int64
		done int
		told sync.Mutex
		wg   sync.WaitGroup
	)
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				do(i, rand.New(rand.NewPCG(seed, uint64(i))))
				if progress == nil {
					continue
				}
				told.Lock()
				done++
				progress(done, n)
				told.Unlock()
			}
		})
	}
	wg.Wait()
	return ctx.Err()
}

// Seed gives a named part of the work its own seed.
func Seed(seed uint64, part string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(part))
	return rand.NewPCG(seed, h.Sum64()).Uint64()
}
