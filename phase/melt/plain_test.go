package melt

import (
	"math"

	"smeltbook/phase/slag"
)

// plainLiquidus is the method without any of the shortcuts: at every
// temperature the pair equations start cold, the references are solved and not
// interpolated, every mineral is evaluated in full, calcium-bearing solutions
// by trying many shares of calcium, and the root is closed by bisection. It
// returns T in K without the ceiling on silica.
func plainLiquidus(m *Model, w slag.Wt) (T float64, at int, ok bool) {
	x, ok := cationFractions(m.restated(w))
	if !ok {
		return 0, 0, false
	}
	for T = hottest; T >= coldest; T -= scanStep {
		if f, _ := plainGreatest(m, &x, T); f >= 0 {
			break
		}
	}
	if T < coldest {
		return 0, 0, false
	}
	lo, hi := T, T+scanStep
	for hi-lo > 1e-4 {
		mid := (lo + hi) / 2
		if f, _ := plainGreatest(m, &x, mid); f >= 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	_, at = plainGreatest(m, &x, lo)
	return lo, at, true
}

// plainGreatest returns the greatest S at T and its mineral.
func plainGreatest(m *Model, x *vector, T float64) (float64, int) {
	var mix mixture
	mix.prepare(m.terms, x)
	var lna vector
	mix.activities(T, &lna)
	affinity := map[string]float64{}
	for e := range m.members {
		member := &m.members[e]
		if !member.presentIn(x) {
			continue
		}
		var own mixture
		xe := member.composition()
		own.prepare(m.terms, &xe)
		affinity[member.name] = member.activitySum(&lna) + member.reference(&own, T)
	}
	top, at := math.Inf(-1), -1
	for i := range m.solids {
		if v, ok := plainSupersaturation(m, &m.solids[i], affinity, T); ok && v > top {
			top, at = v, i
		}
	}
	return top, at
}

func plainSupersaturation(m *Model, s *solid, a map[string]float64, T float64) (float64, bool) {
	switch s.mixing {
	case wustites:
		return plainWustite(a, m.wustiteCa/(gasConstant*T))
	case olivines:
		return plainOlivine(a, m.olivineCa/(gasConstant*T))
	}
	sites := 1.0
	if s.mixing == twoSite {
		sites = 2
	}
	var sum float64
	for _, name := range s.members {
		if v, ok := a[name]; ok {
			sum += math.Exp(v / sites)
		}
	}
	// The other name of a spinel has no saturation of its own.
	if sum == 0 || s.mixing == spinels && (s.phase == Magnetite) != (math.Exp(a["Mag"]) > sum/2 && a["Mag"] != 0) {
		return 0, false
	}
	return sites*math.Log(sum) + m.members[s.at[0]].transitionGain(T), true
}

// mixed returns Σ x ln x + w c(1−c), c being the last share.
func mixed(w float64, shares ...float64) float64 {
	c := shares[len(shares)-1]
	g := w * c * (1 - c)
	for _, x := range shares {
		if x > 0 {
			g += x * math.Log(x)
		}
	}
	return g
}

func plainWustite(a map[string]float64, w float64) (float64, bool) {
	var sum float64
	for _, n := range []string{"FeO", "MgO", "MnO", "F3w"} {
		if v, ok := a[n]; ok {
			sum += math.Exp(v)
		}
	}
	lime, hasLime := a["CaOw"]
	switch {
	case sum == 0 && !hasLime:
		return 0, false
	case !hasLime:
		return math.Log(sum), true
	case sum == 0:
		return lime, true
	}
	return overShares(func(c float64) float64 {
		return (1-c)*math.Log(sum) + c*lime - mixed(w, 1-c, c)
	}), true
}

// plainOlivine covers melts with iron or magnesium and no manganese, or
// without calcium; the others follow a convention of the fast form alone.
func plainOlivine(a map[string]float64, w float64) (float64, bool) {
	pairs := [][2]string{{"Fa", "Kir"}, {"Fo", "Mont"}, {"Te", ""}}
	var half []float64
	var gain []float64
	calcium := false
	for _, p := range pairs {
		v, ok := a[p[0]]
		if !ok {
			continue
		}
		half = append(half, v/2)
		c, ok := a[p[1]]
		calcium = calcium || ok
		gain = append(gain, c-v/2)
	}
	if len(half) == 0 {
		return 0, false
	}
	at := func(c float64) float64 {
		var m1, m2 float64
		for i := range half {
			m1 += math.Exp(half[i] + c*gain[i])
			m2 += math.Exp(half[i])
		}
		return math.Log(m1) + (1-c)*math.Log(m2) - mixed(w, 1-c, c)
	}
	if !calcium {
		return at(0), true
	}
	return overShares(at), true
}

// overShares returns the greatest value of f on 0 … 1, from a grid in the
// logit of c closed in by golden section.
func overShares(f func(c float64) float64) float64 {
	at := func(z float64) float64 { return f(1 / (1 + math.Exp(-z))) }
	best, zBest := math.Inf(-1), 0.0
	for z := -30.0; z <= 30; z += 0.25 {
		if v := at(z); v > best {
			best, zBest = v, z
		}
	}
	lo, hi := zBest-0.25, zBest+0.25
	for range 60 {
		a, b := lo+0.382*(hi-lo), hi-0.382*(hi-lo)
		if at(a) > at(b) {
			hi = b
		} else {
			lo = a
		}
	}
	return math.Max(best, at((lo+hi)/2))
}
