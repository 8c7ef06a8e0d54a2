package melt

import "math"

// references tabulates, for every end member, what depends on temperature
// alone:
//
//	q_e(T) = (ΔH_e/R)(1/T − 1/T_m,e) − Σ_i f_ei ln a_i(X_e, T)
//
// so that the affinity is A_e = Σ f_ei ln a_i(X, T) + q_e(T). Values between
// the rows come from a cubic through the four nearest.
type references struct {
	rows [][maxMembers]float64
}

const (
	hottest       = 3200.0 // K, where the search starts
	coldest       = 700.0  // K, where it gives up
	scanStep      = 20.0   // K
	referenceStep = 10.0   // K
	referenceLow  = coldest - 2*scanStep
	referenceHigh = hottest + 2*scanStep
)

func newReferences(m *Model) references {
	n := int((referenceHigh-referenceLow)/referenceStep) + 1
	r := references{rows: make([][maxMembers]float64, n)}
	for e := range m.members {
		var mix mixture
		x := m.members[e].composition()
		mix.prepare(m.terms, &x)
		for i := range r.rows {
			r.rows[i][e] = m.members[e].reference(&mix, referenceLow+referenceStep*float64(i))
		}
	}
	return r
}

// reference returns q_e(T); mix is the end member's own melt.
func (e *endMember) reference(mix *mixture, T float64) float64 {
	var lna vector
	mix.activities(T, &lna)
	return e.fusionTerm(T) - e.activitySum(&lna)
}

// fusionTerm returns ΔG/RT of melting at T: with a heat capacity of fusion ΔCp
//
//	(ΔH/R)(1/T − 1/T_m) + (ΔCp/R)(1 − T_m/T + ln(T_m/T))
func (f *fusion) fusionTerm(T float64) float64 {
	return (f.heat*(1/T-1/f.tm) + f.gain*fusionBend(T, f.tm)) / gasConstant
}

// fusionBend is what 1 J/mol/K adds to fusionTerm, times R: never above 0.
func fusionBend(T, tm float64) float64 { return 1 - tm/T + math.Log(tm/T) }

// at writes q_e(T) for the n first end members.
func (r *references) at(T float64, n int, q *[maxMembers]float64) {
	var all [maxMembers]int
	for e := range n {
		all[e] = e
	}
	r.of(T, all[:n], q)
}

// of writes q_e(T) for the end members of the list.
func (r *references) of(T float64, list []int, q *[maxMembers]float64) {
	pos := (T - referenceLow) / referenceStep
	i := min(max(int(pos), 1), len(r.rows)-3)
	t := pos - float64(i)
	if t == 0 {
		for _, e := range list {
			q[e] = r.rows[i][e]
		}
		return
	}
	w0 := -t * (t - 1) * (t - 2) / 6
	w1 := (t + 1) * (t - 1) * (t - 2) / 2
	w2 := -(t + 1) * t * (t - 2) / 2
	w3 := (t + 1) * t * (t - 1) / 6
	a, b, c, d := &r.rows[i-1], &r.rows[i], &r.rows[i+1], &r.rows[i+2]
	for _, e := range list {
		q[e] = w0*a[e] + w1*b[e] + w2*c[e] + w3*d[e]
	}
}
