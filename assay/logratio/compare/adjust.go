package compare

import (
	"cmp"
	"slices"
)

// Holm adjusts p of several tests so that a false alarm among all of them stays
// as rare as one is meant to be (Holm 1979, Scandinavian Journal of Statistics
// 6:65).
func Holm(p []float64) []float64 {
	order := byP(p)
	out := make([]float64, len(p))
	worst := 0.0
	for k, i := range order {
		worst = max(worst, min(p[i]*float64(len(p)-k), 1))
		out[i] = worst
	}
	return out
}

// BenjaminiHochberg adjusts p of several tests so that of those called
// different the share of false ones stays as small as meant (Benjamini &
// Hochberg 1995, Journal of the Royal Statistical Society B 57:289).
func BenjaminiHochberg(p []float64) []float64 {
	order := byP(p)
	out := make([]float64, len(p))
	least := 1.0
	for k := len(order) - 1; k >= 0; k-- {
		i := order[k]
		least = min(least, p[i]*float64(len(p))/float64(k+1))
		out[i] = least
	}
	return out
}

func byP(p []float64) []int {
	order := make([]int, len(p))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(p[a], p[b]) })
	return order
}
