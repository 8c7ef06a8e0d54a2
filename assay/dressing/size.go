package dressing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/quantity"
)

// Fraction is one size of a stream.
type Fraction struct {
	Size       Size
	Mass       quantity.Quantity // as weighed, kg
	Grade      quantity.Quantity // wt% Cu
	MassShare  quantity.Quantity // of the stream's mass
	MetalShare quantity.Quantity // of the stream's copper
}

// sizesOf returns the sizes of a stream, coarsest first; nil where there are
// none, or one of them was not weighed or assayed for copper.
func (s Stage) sizesOf(of Stream) []Fraction {
	var out []Fraction
	mass, metal := 0.0, 0.0
	for _, f := range s.Fractions {
		if f.Role != of.Role || f.Product != of.Product {
			continue
		}
		g := f.Grade(Copper)
		if !f.Mass.HasU() || !g.HasU() {
			return nil
		}
		out = append(out, Fraction{Size: f.Size, Mass: f.Mass, Grade: g})
		mass += f.Mass.Value
		metal += f.Mass.Value * g.Value
	}
	if mass == 0 || metal == 0 {
		return nil
	}
	slices.SortStableFunc(out, func(a, b Fraction) int { return cmp.Compare(b.Size.Above, a.Size.Above) })
	for i := range out {
		f := &out[i]
		f.MassShare = shareOf(f.Mass.Value, f.Mass.U, mass, func(j int) float64 { return out[j].Mass.U }, i, len(out))
		m := f.Mass.Value * f.Grade.Value
		metalU := func(j int) float64 {
			return math.Hypot(out[j].Mass.U*out[j].Grade.Value, out[j].Mass.Value*out[j].Grade.U)
		}
		f.MetalShare = shareOf(m, metalU(i), metal, metalU, i, len(out))
		f.MassShare.From = f.Mass.From
		f.MetalShare.From = append(slices.Clone(f.Mass.From), f.Grade.From...)
	}
	return out
}

// shareOf is part over total with its first-order uncertainty, the parts
// independent.
func shareOf(part, u, total float64, uOf func(int) float64, i, n int) quantity.Quantity {
	u2 := sq(u * (1 - part/total) / total)
	for j := range n {
		if j != i {
			u2 += sq(uOf(j) * part / (total * total))
		}
	}
	return quantity.WithU(part/total, math.Sqrt(u2), "1", "first order, from weights and assays of the sizes")
}

// SizeRecovery is what one stage did with one size.
type SizeRecovery struct {
	Size     Size
	Share    quantity.Quantity   // of the copper in all products that lies in this size
	Grades   []quantity.Quantity // wt% Cu, by product in the order of the stage; Missing where not sieved
	Recovery []quantity.Quantity // share of the copper of this size, by product
}

// BySize returns the recovery of copper by size in a stage whose products were
// sieved, coarsest first; the feed of a size is the sum of the products of
// that size, so that breakage in the stage and what was lost do not enter. It
// returns nil unless at least two products were sieved to the same sizes.
func (r *Reconciled) BySize(k int) []SizeRecovery {
	s := r.Circuit.Stages[k]
	sizes := make([][]Fraction, len(s.Products))
	var first []Fraction
	sieved := 0
	for j, p := range s.Products {
		sizes[j] = s.sizesOf(p)
		if len(sizes[j]) == 0 {
			continue
		}
		sieved++
		if first == nil {
			first = sizes[j]
		}
		if !sameSizes(first, sizes[j]) {
			return nil
		}
	}
	if sieved < 2 {
		return nil
	}
	metal := func(get func(variable) float64, j, i int) float64 {
		if len(sizes[j]) == 0 {
			return 0
		}
		return get(variable{k, j + 1, whole}) * get(variable{k, j + 1, Copper}) * sizes[j][i].MetalShare.Value
	}
	var out []SizeRecovery
	for i, f := range first {
		x := SizeRecovery{Size: f.Size}
		all := func(get func(variable) float64, i int) (sum float64) {
			for j := range s.Products {
				sum += metal(get, j, i)
			}
			return sum
		}
		x.Share = r.state.evaluate(func(get func(variable) float64) float64 {
			sum := 0.0
			for n := range first {
				sum += all(get, n)
			}
			return all(get, i) / sum
		}, "1", "")
		x.Share.U, x.Share.UNote = math.Hypot(x.Share.U, spreadOf(sizes, r, k, i)), "first order, from weights and assays of products and sizes"
		for j := range s.Products {
			if len(sizes[j]) == 0 {
				x.Grades, x.Recovery = append(x.Grades, missing("wt%")), append(x.Recovery, missing("1"))
				continue
			}
			x.Grades = append(x.Grades, sizes[j][i].Grade)
			x.Recovery = append(x.Recovery, r.state.evaluate(func(get func(variable) float64) float64 { return metal(get, j, i) / all(get, i) }, "1", ""))
		}
		widen(x.Recovery, sizes, i)
		out = append(out, x)
	}
	return out
}

// spreadOf is the uncertainty that the shares of a size in the products give to
// the share of it in all of them.
func spreadOf(sizes [][]Fraction, r *Reconciled, k, i int) float64 {
	whole, u2 := 0.0, 0.0
	for j := range sizes {
		if len(sizes[j]) == 0 {
			continue
		}
		metal := r.state.metal(k, j)
		whole += metal
		u2 += sq(metal * sizes[j][i].MetalShare.U)
	}
	return math.Sqrt(u2) / whole
}

// widen adds to the uncertainties of the recoveries of one size those of the
// shares of the size in each product: ∂R_j/∂ln m_n is R_j(1 − R_j) for the
// product itself and −R_j·R_n for another.
func widen(recovery []quantity.Quantity, sizes [][]Fraction, i int) {
	for j := range recovery {
		q := &recovery[j]
		if !q.Known() {
			continue
		}
		u2 := sq(q.U)
		for n := range recovery {
			if len(sizes[n]) == 0 || sizes[n][i].MetalShare.Value == 0 {
				continue
			}
			slope := -q.Value * recovery[n].Value
			if n == j {
				slope += q.Value
			}
			u2 += sq(slope * sizes[n][i].MetalShare.U / sizes[n][i].MetalShare.Value)
		}
		q.U, q.UNote = math.Sqrt(u2), "first order, from weights and assays of products and sizes"
	}
}

func sameSizes(a, b []Fraction) bool {
	return slices.EqualFunc(a, b, func(x, y Fraction) bool { return x.Size == y.Size })
}

// String prints a size in mm: "1–2 mm", "below 0.5 mm", "above 6 mm".
func (s Size) String() string {
	switch {
	case s.Whole():
		return "all sizes"
	case s.Above == 0:
		return fmt.Sprintf("below %g mm", s.Below)
	case math.IsInf(s.Below, 1):
		return fmt.Sprintf("above %g mm", s.Above)
	}
	return fmt.Sprintf("%g–%g mm", s.Above, s.Below)
}
