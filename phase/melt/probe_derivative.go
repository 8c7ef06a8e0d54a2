package melt

import "math"

// nudge is the change of an affinity in the difference quotients of mixed
// solids.
const nudge = 1e-4

// derivative returns ∂S/∂p from the weights ∂S/∂A of the end members, which
// are found by differences where a solid is mixed.
func (b *Probe) derivative(s *search, solid *solid, g *termGradient, refs []memberAt, T, here float64) []float64 {
	by := make([]float64, len(b.free))
	if here == lacking {
		return by
	}
	for _, e := range solid.at {
		if s.a[e] == lacking && !(solid.mixing == olivines && s.lna[ca] > lacking) {
			continue
		}
		weight := 1.0
		if len(solid.at) > 1 {
			a, q := s.a[e], s.q[e]
			s.a[e], s.q[e] = a+nudge, q+nudge
			weight = (solid.supersaturation(b.m, &s.a, &s.q, &s.lna, T, lacking) - here) / nudge
			s.a[e], s.q[e] = a, q
		}
		if weight == 0 || math.IsNaN(weight) {
			continue
		}
		for f, d := range refs[e].dq {
			by[f] += weight * d
		}
		for t, fs := range b.ofTerm {
			for _, f := range fs {
				by[f] += weight * b.perUnit(f, T) * b.m.members[e].activitySum(&g.by[t])
			}
		}
	}
	b.mixingDerivative(s, solid, T, here, by)
	return by
}

// mixingDerivative adds the answer to the energies of calcium on its site.
func (b *Probe) mixingDerivative(s *search, solid *solid, T, here float64, by []float64) {
	for f, r := range b.free {
		row := b.p.rows[r]
		if row.kind != "mixing" || row.name != solid.name {
			continue
		}
		m := *b.m
		m.olivineCa += 10 * b2f(row.name == "olivine")
		m.wustiteCa += 10 * b2f(row.name == "wustite")
		by[f] = 1000 * (solid.supersaturation(&m, &s.a, &s.q, &s.lna, T, lacking) - here) / 10
	}
}

func b2f(b bool) float64 {
	if b {
		return 1
	}
	return 0
}
