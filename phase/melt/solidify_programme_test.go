package melt

import "math"

// candidate is a phase of fixed composition that may take part in the least
// Gibbs energy of a whole.
type candidate struct {
	cations vector  // packed like those of the whole
	energy  float64 // G/RT on the reference of the pure liquid oxides
	solid   bool
}

// least looks for the least Gibbs energy of a whole at one temperature by a
// linear programme over candidates, to which it adds, round by round, the
// solids and liquids that the prices of the components favour most. It needs
// no start near the answer and knows nothing of the path.
type least struct {
	q     *equilibrium
	T     float64
	list  []candidate
	basis [numComponents]int // candidates in use
	share vector             // their amounts
	price vector             // of the components, packed: ln a at equilibrium
}

const (
	leastRounds  = 60
	leastGain    = 1e-9 // in G/RT per formula or cation that counts
	simplexSteps = 2000
	simplexGain  = 1e-14
	liquidRounds = 60
)

// run returns the least energy it finds, G/RT per cation of the whole. Every
// energy on the way is that of a mixture which can be made, so the answer is
// never below the truth.
func (l *least) run() (energy float64) {
	q := l.q
	l.list = l.list[:0]
	for i := range q.n {
		var c candidate
		c.cations[i] = 1
		l.basis[i] = len(l.list)
		l.list = append(l.list, c)
		l.share[i] = q.whole[i]
	}
	l.addLiquid(l.packedWhole())
	for range leastRounds {
		if !l.simplex() || !l.grow() {
			break
		}
	}
	for i := range q.n {
		energy += l.share[i] * l.list[l.basis[i]].energy
	}
	return energy
}

// liquids returns how far apart the liquids in use are, as the greatest
// difference of a cation fraction.
func (l *least) liquids() (apart float64) {
	q := l.q
	for i := range q.n {
		for j := range i {
			a, b := &l.list[l.basis[i]], &l.list[l.basis[j]]
			if a.solid || b.solid || l.share[i] < 1e-6 || l.share[j] < 1e-6 {
				continue
			}
			for c := range q.n {
				apart = math.Max(apart, math.Abs(a.cations[c]-b.cations[c]))
			}
		}
	}
	return apart
}

func (l *least) packedWhole() (x vector) {
	copy(x[:], l.q.whole[:l.q.n])
	return x
}

// simplex solves the programme over the present candidates.
func (l *least) simplex() bool {
	n := l.q.n
	last, idle := math.Inf(1), 0
	for range simplexSteps {
		var energy float64
		for i := range n {
			energy += l.share[i] * l.list[l.basis[i]].energy
		}
		// Where candidates hardly differ, rounding can turn them in a circle.
		if idle++; energy < last-simplexGain {
			last, idle = energy, 0
		}
		var up matrix // the basis, transposed
		var r unknowns
		up.n = n
		for i := range n {
			c := &l.list[l.basis[i]]
			for j := range n {
				up.a[i][j] = c.cations[j]
			}
			r[i] = c.energy
		}
		if !up.factor() {
			return false
		}
		up.solve(&r)
		copy(l.price[:], r[:n])
		enter, gain := -1, leastGain/10
		for k := range l.list {
			if v := l.gain(&l.list[k]); v > gain {
				enter, gain = k, v
			}
		}
		if enter < 0 || idle > 4*n {
			return true
		}
		var down matrix
		var d unknowns
		down.n = n
		for i := range n {
			for j := range n {
				down.a[j][i] = l.list[l.basis[i]].cations[j]
			}
			d[i] = l.list[enter].cations[i]
		}
		if !down.factor() {
			return false
		}
		down.solve(&d)
		leave, most := -1, math.Inf(1)
		for i := range n {
			if d[i] > 1e-12 && l.share[i]/d[i] < most {
				leave, most = i, l.share[i]/d[i]
			}
		}
		if leave < 0 {
			return false
		}
		for i := range n {
			l.share[i] = math.Max(l.share[i]-most*d[i], 0)
		}
		l.share[leave], l.basis[leave] = most, enter
	}
	return false
}

// gain is by how much a candidate is worth more than it costs at the prices.
func (l *least) gain(c *candidate) float64 {
	v := -c.energy
	for i := range l.q.n {
		v += c.cations[i] * l.price[i]
	}
	return v
}

// liquidActivities returns ln a, packed, of a liquid of the packed fractions x.
func (l *least) liquidActivities(x *vector) (lna vector) {
	q := l.q
	var ln vector
	for i := range q.n {
		ln[i] = math.Log(x[i])
	}
	q.liquid(&ln)
	s := &q.search
	s.mix.activities(l.T, &s.lna)
	for i := range q.n {
		lna[i] = s.lna[q.which[i]]
	}
	return lna
}

func (l *least) addLiquid(x vector) {
	lna := l.liquidActivities(&x)
	c := candidate{cations: x}
	for i := range l.q.n {
		c.energy += x[i] * lna[i]
	}
	l.list = append(l.list, c)
}
