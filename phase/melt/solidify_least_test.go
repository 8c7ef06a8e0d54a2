package melt

import (
	"math"
	"math/rand/v2"
	"testing"
)

// grow adds the candidates that the prices favour; it reports whether any does.
// The prices of a programme with hardly more than one liquid in use are loose,
// so the solids that the mean of the liquids is saturated with join as well,
// and that mean itself.
func (l *least) grow() (grown bool) {
	price := l.price
	if x, ok := l.meanLiquid(); ok {
		l.addLiquid(x)
		l.price = l.liquidActivities(&x)
		l.addSolids()
	}
	l.price = price
	grown = l.addSolids()
	q := l.q
	for i := range q.n {
		if c := l.list[l.basis[i]]; !c.solid && l.share[i] > 0 {
			grown = l.betterLiquid(c.cations, &price) || grown
		}
	}
	return l.betterLiquid(l.packedWhole(), &price) || grown
}

// meanLiquid returns the mean of the liquids in use.
func (l *least) meanLiquid() (x vector, ok bool) {
	q := l.q
	var sum float64
	for i := range q.n {
		if c := &l.list[l.basis[i]]; !c.solid && l.share[i] > 0 {
			for j := range q.n {
				x[j] += l.share[i] * c.cations[j]
			}
			sum += l.share[i]
		}
	}
	for j := range q.n {
		x[j] /= sum
		ok = x[j] > 0 && (ok || j == 0)
	}
	return x, ok && sum > 0
}

// addSolids adds the solids that the prices favour.
func (l *least) addSolids() (grown bool) {
	q, s := l.q, &l.q.search
	for i := range s.lna {
		s.lna[i] = lacking
	}
	for i := range q.n {
		s.lna[q.which[i]] = l.price[i]
	}
	s.m.refs.at(l.T, len(s.m.members), &s.q)
	for _, e := range s.here[:s.nHere] {
		s.a[e] = s.m.members[e].activitySum(&s.lna) + s.q[e]
	}
	for _, i := range s.solids[:s.nSolids] {
		list, n := s.branches(i, l.T)
		for b := range n {
			if g := &list[b]; g.excess > leastGain {
				c := candidate{solid: true, energy: -g.excess}
				for j := range q.n {
					c.cations[j] = g.cations[q.which[j]]
					c.energy += c.cations[j] * l.price[j]
				}
				l.list = append(l.list, c)
				grown = true
			}
		}
	}
	return grown
}

// betterLiquid goes from x down to a liquid that the prices favour as far as
// it can, and adds it.
func (l *least) betterLiquid(x vector, price *vector) bool {
	q := l.q
	damp := 0.5
	worth := func(x *vector) (v float64, lna vector) {
		lna = l.liquidActivities(x)
		for i := range q.n {
			if x[i] > 0 {
				v += x[i] * (price[i] - lna[i])
			}
		}
		return v, lna
	}
	for i := range q.n {
		x[i] = math.Max(x[i], 1e-9)
	}
	now, lna := worth(&x)
	for range liquidRounds {
		next, sum := x, 0.0
		for i := range q.n {
			next[i] *= math.Exp(min(max(damp*(price[i]-lna[i]-now), -2), 2))
			sum += next[i]
		}
		for i := range q.n {
			next[i] /= sum
		}
		then, lnaThen := worth(&next)
		if then < now {
			if damp /= 3; damp < 1e-3 {
				break
			}
			continue
		}
		stop := then-now < leastGain/10
		x, now, lna = next, then, lnaThen
		if stop {
			break
		}
	}
	if now <= leastGain {
		return false
	}
	l.addLiquid(x)
	return true
}

// TestPathIsLeast compares states of paths with the least Gibbs energy that the
// linear programme finds for the same whole. G of a state follows from ln a in
// its liquid, with which every solid is in equilibrium. Where the programme
// parts the liquid in two the path has no answer, and says so at the latest
// when the liquid cannot be kept; elsewhere it may not lie above. The programme
// need not get all the way: with hardly any solid its prices are loose.
func TestPathIsLeast(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(73, 3))
	n := 20
	if testing.Short() {
		n = 10
	}
	compared, near, equal, parted := 0, 0, 0, 0
	for range n {
		p, err := m.Solidify(smelting(r))
		if err != nil {
			t.Fatal(err)
		}
		for k := 1; k < len(p.Steps); k += 12 {
			st := p.Steps[k]
			if st.Liquid == 0 || st.TC <= p.SplitsC {
				continue
			}
			x, _ := cationFractions(p.Whole)
			var q equilibrium
			q.begin(m, &x)
			l := least{q: &q, T: st.TC + celsius}
			found := l.run()
			xl, _ := cationFractions(st.Melt)
			var s search
			s.start(m, &xl)
			s.mix.activities(l.T, &s.lna)
			var energy float64
			for i := range q.n {
				energy += q.whole[i] * s.lna[q.which[i]]
			}
			compared++
			switch {
			case l.liquids() > 0.05 && found < energy:
				parted++
			case energy > found+1e-8:
				t.Errorf("%v at %.2f °C, %.3f liquid: G/RT = %.9f, the programme finds %.9f", p.Whole, st.TC, st.Liquid, energy, found)
			}
			if found < energy+1e-3 {
				near++
			}
			if math.Abs(found-energy) < 1e-7 {
				equal++
			}
		}
	}
	t.Logf("of %d states %d are met within 1e-3 RT, %d within 1e-7; in %d the liquid would part", compared, near, equal, parted)
	if near < compared*2/3 || equal < compared/4 {
		t.Errorf("of %d states the programme meets only %d within 1e-3 RT, %d within 1e-7", compared, near, equal)
	}
}
