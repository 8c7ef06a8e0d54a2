package melt

import (
	"math"
	"math/rand/v2"
	"testing"

	"smeltbook/phase/slag"
)

// liquidEnergy returns G/RT of n cations of liquid, the pure liquid oxides
// being the reference, and ln a of each component.
func liquidEnergy(m *Model, n *vector, T float64) (g float64, lna vector) {
	x := *n
	var sum float64
	for _, v := range x {
		sum += v
	}
	for i := range x {
		x[i] /= sum
	}
	var s search
	s.start(m, &x)
	s.mix.activities(T, &s.lna)
	for i, v := range n {
		if v > 0 {
			g += v * s.lna[i]
		}
	}
	return g, s.lna
}

// TestLeastGibbsEnergy: no exchange between the liquid and a solid lowers the
// Gibbs energy of a state: neither an end member frozen out of the liquid, nor
// some of a solid that is there dissolved, alone or two at once. G of an end
// member is −q·RT on the same reference, that of a solid in equilibrium
// follows from the activities in the liquid.
func TestLeastGibbsEnergy(t *testing.T) {
	m := testModel(t)
	r := rand.New(rand.NewPCG(61, 3))
	tried := 0
	var f freezing
	for range 25 {
		w := smelting(r)
		p := Path{SplitsC: math.NaN()}
		if err := f.run(m, &w, &p); err != nil {
			t.Fatal(err)
		}
		for _, st := range p.Steps {
			if st.Liquid < 0.02 || st.TC <= p.SplitsC {
				continue
			}
			n := cationsOf(&st.Melt, st.Liquid)
			T := st.TC + celsius
			g0, lna := liquidEnergy(m, &n, T)
			var q [maxMembers]float64
			m.refs.at(T, len(m.members), &q)
			type exchange struct {
				cations vector
				energy  float64 // G/RT of the solid
				most    float64 // formulae that may dissolve
			}
			var list []exchange
			for e := range m.members {
				member := &m.members[e]
				x := exchange{cations: member.cations, energy: -q[e] - member.transitionGain(T)}
				possible := true
				for c, k := range member.cations {
					possible = possible && (k == 0 || n[c] > 0)
				}
				if possible {
					list = append(list, x)
				}
			}
			for _, d := range st.Solids {
				x := exchange{cations: cationsOf(&d.Wt, 1), most: d.Share / 100}
				for c, k := range x.cations {
					if k > 0 {
						x.energy += k * lna[c]
					}
				}
				list = append(list, x)
			}
			change := func(x *exchange, amount float64, n *vector) (float64, bool) {
				if amount < -x.most {
					return 0, false
				}
				for c := range n {
					if n[c] -= amount * x.cations[c]; n[c] < 0 {
						return 0, false
					}
				}
				return amount * x.energy, true
			}
			for range 60 {
				a, b := &list[r.IntN(len(list))], &list[r.IntN(len(list))]
				size := math.Pow(10, -1-3*r.Float64()) * st.Liquid
				v := n
				ga, okA := change(a, size*(2*r.Float64()-1)*1e-2, &v)
				gb, okB := change(b, size*(2*r.Float64()-1)*1e-2, &v)
				if !okA || !okB {
					continue
				}
				tried++
				if g, _ := liquidEnergy(m, &v, T); g+ga+gb < g0-1e-9*math.Abs(g0) {
					t.Errorf("%v at %.2f °C: an exchange changes G/RT from %.12f to %.12f", w, st.TC, g0, g+ga+gb)
				}
			}
		}
	}
	if tried < 1000 {
		t.Errorf("only %d exchanges", tried)
	}
}

// cationsOf returns the cations in a mass of wt%, in mol per 100 g of mass 1.
func cationsOf(w *slag.Wt, mass float64) (n vector) {
	for _, o := range modelled {
		n[o.cation] += mass * w[o.oxide] * o.cations / o.oxide.Mass()
	}
	return n
}
