package quantity

import (
	"math"

	"smeltbook/assay/source"
)

// Product returns a·b in the given unit, its factors taken as independent:
//
//	u² = (b·u_a)² + (a·u_b)²      (JCGM 100:2008, 5.1.2)
//
// Without the uncertainty of both it has none; without one of the numbers it
// holds none.
func Product(a, b Quantity, unit string) Quantity {
	return joined(a.Value*b.Value, math.Hypot(b.Value*a.U, a.Value*b.U), a, b, unit)
}

// Ratio returns a/b in the given unit, taken as independent. It holds no
// number where b is zero.
func Ratio(a, b Quantity, unit string) Quantity {
	if b.Known() && b.Value == 0 {
		return None(Missing, math.NaN(), unit, cellsOf(a, b)...)
	}
	x := a.Value / b.Value
	return joined(x, math.Hypot(a.U/b.Value, x*b.U/b.Value), a, b, unit)
}

// Sum returns the sum of quantities in the given unit, taken as independent.
func Sum(unit string, qs ...Quantity) Quantity {
	out := WithU(0, 0, unit, "")
	for _, q := range qs {
		out = joined(out.Value+q.Value, math.Hypot(out.U, q.U), out, q, unit)
	}
	return out
}

// Difference returns a − b in the unit of a, taken as independent.
func Difference(a, b Quantity) Quantity {
	return joined(a.Value-b.Value, math.Hypot(a.U, b.U), a, b, a.Unit)
}

func joined(x, u float64, a, b Quantity, unit string) Quantity {
	from := cellsOf(a, b)
	switch {
	case !a.Known() || !b.Known():
		return None(Missing, math.NaN(), unit, from...)
	case !a.HasU() || !b.HasU():
		return New(x, unit, "none: one of the values it is made of carries none", from...)
	}
	return WithU(x, u, unit, "from the values it is made of, taken as independent", from...)
}

// cellsOf joins the cells of two quantities without writing into either.
func cellsOf(a, b Quantity) []source.Cell {
	return append(a.From[:len(a.From):len(a.From)], b.From...)
}
