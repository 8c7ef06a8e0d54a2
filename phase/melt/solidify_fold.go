package melt

import "math"

// A liquid that is about to split in two on its own makes the line of states
// fold back to higher temperatures. The part of the line that rises is not
// stable; the melt goes over, at the temperature of the fold, to where the line
// comes down again.
type fold struct {
	open     bool
	T        float64 // K
	minerals int     // in the path when it opened
	steps    int
}

const (
	leastRise   = 1e-6 // K, that counts as a fold and not as rounding
	longestFold = 300  // steps
)

// openFold notes that the line has begun to rise at T.
func (f *freezing) openFold(T float64) {
	f.fold = fold{open: true, T: T, minerals: f.good.minerals}
	f.splitsAt(T - celsius)
}

// splitsAt notes where the liquid is found to split for the first time.
func (f *freezing) splitsAt(tc float64) {
	if math.IsNaN(f.p.SplitsC) {
		f.p.SplitsC = tc
	}
}

// above is the event of coming down to the temperature of the fold again.
func (f *freezing) above() float64 { return (f.fold.T - f.q.T) / 1000 }

// land goes on from behind the fold. The minerals that came and went on the
// way did so at its temperature.
func (f *freezing) land() (done bool) {
	tc := f.fold.T - celsius
	for i := range f.p.Minerals {
		s := &f.p.Minerals[i]
		if i >= f.fold.minerals {
			s.AppearsC = tc
		}
		if !math.IsNaN(s.VanishesC) && (f.good.has(i) || i >= f.fold.minerals) {
			s.VanishesC = tc
		}
	}
	f.fold.open = false
	f.record()
	for f.liquidMass() < f.targets[0] {
		if f.thin() {
			return true
		}
	}
	return false
}

// good is the last place of the path that stands.
type good struct {
	place
	minerals int
}

// has reports whether a mineral of the path is among the grains.
func (p *good) has(number int) bool {
	for g := range p.ng {
		if p.grains[g].number == number {
			return true
		}
	}
	return false
}

// keep notes the present place as good.
func (f *freezing) keep() { f.good = good{f.place(), len(f.p.Minerals)} }

// giveUp ends the path at the last good place.
func (f *freezing) giveUp() {
	q := &f.q
	q.grains, q.ng, q.warm = f.good.grains, f.good.ng, f.good.warm
	q.set(&f.good.z)
	f.p.Minerals = f.p.Minerals[:f.good.minerals]
	for i := range f.p.Minerals {
		if f.good.has(i) {
			f.p.Minerals[i].VanishesC = math.NaN()
		}
	}
	f.p.End, f.p.SolidusC = LostTrack, q.T-celsius
	if f.fold.open {
		f.p.End = LiquidSplits
	}
}
