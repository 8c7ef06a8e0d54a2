package uncertainty

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
)

// Effect is what an input does to the variance of a result: First the share by
// itself, Total with all that it does together with others. Both are estimates
// and may stray below 0 or above 1 by their error.
type Effect struct {
	Name         string
	First, Total float64
}

// Sobol shares the variance of a result among independent inputs, by the
// design and the estimators that Saltelli et al. 2010 (Comput. Phys. Commun.
// 181:259, table 2) found best: theirs for First, which is exact for an input
// that does nothing, and Jansen's for Total. It asks the
// function trials × (inputs + 2) times; rows in which it has no finite value
// are left out. The same seed gives the same answer.
func Sobol(ctx context.Context, in []Input, f Function, trials int, seed uint64) ([]Effect, error) {
	if trials < 8 || len(in) == 0 {
		return nil, fmt.Errorf("%d trials of %d inputs rank nothing", trials, len(in))
	}
	s, err := NewSampler(in, nil)
	if err != nil {
		return nil, err
	}
	k := len(in)
	r := rand.New(rand.NewPCG(seed, 0x72616e6b)) // "rank"
	a, b := make([]float64, k), make([]float64, k)
	mixed := make([]float64, k) // values of f with one input from b
	first, total := make([]float64, k), make([]float64, k)
	moved := make([]float64, k) // sum of what one input from b changes
	var all Moments
	rows := 0
	for n := range trials {
		if n%64 == 0 && ctx.Err() != nil {
			return nil, ctx.Err()
		}
		s.Draw(r, a)
		s.Draw(r, b)
		fa, fb := f(a), f(b)
		good := finite(fa) && finite(fb)
		for i := range k {
			keep := a[i]
			a[i] = b[i]
			mixed[i] = f(a)
			a[i] = keep
			good = good && finite(mixed[i])
		}
		if !good {
			continue
		}
		rows++
		all.Add(fa)
		all.Add(fb)
		for i, m := range mixed {
			first[i] += fb * (m - fa)
			moved[i] += m - fa
			total[i] += (fa - m) * (fa - m)
		}
	}
	variance := all.SD() * all.SD()
	if rows < trials/2 || !(variance > 0) {
		return nil, fmt.Errorf("the function has a finite value in %d of %d rows and a variance of %g, so nothing can be ranked", rows, trials, variance)
	}
	out := make([]Effect, k)
	for i := range out {
		out[i] = Effect{in[i].Name, (first[i] - all.Mean()*moved[i]) / (float64(rows) * variance), total[i] / (2 * float64(rows) * variance)}
	}
	return out, nil
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
