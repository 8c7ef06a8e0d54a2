package dressing

import (
	"cmp"
	"fmt"
	"slices"

	"smeltbook/assay/quantity"
)

// Lot is a part of the first feed that could be charged or thrown away by
// itself: an end product of the circuit or one size of it.
type Lot struct {
	Name  string
	Role  Role
	Size  Size
	Mass  quantity.Quantity // share of the feed
	Metal quantity.Quantity // share of its copper
	Grade quantity.Quantity // wt% Cu

	path   []step
	metal  float64 // of the end product's, in this size
	weight float64
}

// CurvePoint is what lies in the richest lots together.
type CurvePoint struct {
	Lot      Lot               // the poorest of them, added last
	Grade    quantity.Quantity // wt% Cu of all together
	Recovery quantity.Quantity // share of the feed's copper
	Yield    quantity.Quantity // share of its mass
}

// Curve is the relation of grade and recovery of a circuit for copper: its
// lots taken in, the richest first. Where an end product was sieved and its
// sizes assayed, each size is a lot. What was lost is no lot. The last point
// is all that was caught.
func (r *Reconciled) Curve() []CurvePoint {
	s := r.state
	var lots []Lot
	for _, path := range r.Circuit.ends() {
		lots = append(lots, s.lots(r.Circuit, path)...)
	}
	lots = slices.DeleteFunc(lots, func(l Lot) bool { return !l.Grade.Known() || !l.Mass.Known() })
	slices.SortStableFunc(lots, func(a, b Lot) int { return cmp.Compare(b.Grade.Value, a.Grade.Value) })
	var out []CurvePoint
	for n := range lots {
		taken := lots[:n+1]
		out = append(out, CurvePoint{Lot: lots[n],
			Recovery: s.evaluate(func(get func(variable) float64) float64 { return sumOf(taken, r.Circuit, get, true) }, "1", curveNote),
			Yield:    s.evaluate(func(get func(variable) float64) float64 { return sumOf(taken, r.Circuit, get, false) }, "1", curveNote),
			Grade: s.evaluate(func(get func(variable) float64) float64 {
				return get(variable{0, 0, Copper}) * sumOf(taken, r.Circuit, get, true) / sumOf(taken, r.Circuit, get, false)
			}, "wt%", curveNote)})
	}
	return out
}

const curveNote = "first order, from the reconciled weights and assays; the shares of the sizes within a product taken as exact"

func sumOf(lots []Lot, c Circuit, get func(variable) float64, metal bool) float64 {
	sum := 0.0
	for _, l := range lots {
		if metal {
			sum += along(l.path, get, Copper) * l.metal
		} else {
			sum += along(l.path, get, "") * l.weight
		}
	}
	return sum
}

// along is the share of the first feed that a way leads to: of the mass, or of
// a component.
func along(path []step, get func(variable) float64, component string) float64 {
	v := 1.0
	for _, p := range path {
		v *= get(variable{p.stage, p.product + 1, whole}) / get(variable{p.stage, 0, whole})
		if component != "" {
			v *= get(variable{p.stage, p.product + 1, component}) / get(variable{p.stage, 0, component})
		}
	}
	return v
}

// lots are an end product, or its sizes where all of them were weighed and
// assayed.
func (s state) lots(c Circuit, path []step) []Lot {
	end := path[len(path)-1]
	stage := c.Stages[end.stage]
	p := stage.Products[end.product]
	if p.Role == Lost || !slices.Contains(c.Components, Copper) {
		return nil
	}
	name := fmt.Sprintf("%s %s", firstWord(stage.Name), p.Role)
	var out []Lot
	for _, f := range stage.sizesOf(p) {
		out = append(out, Lot{Name: name + " " + f.Size.String(), Role: p.Role, Size: f.Size, path: path, weight: f.MassShare.Value, metal: f.MetalShare.Value})
	}
	if len(out) == 0 {
		out = []Lot{{Name: name, Role: p.Role, path: path, weight: 1, metal: 1}}
	}
	for i := range out {
		l := &out[i]
		one := []Lot{*l}
		l.Mass = s.evaluate(func(get func(variable) float64) float64 { return sumOf(one, c, get, false) }, "1", curveNote)
		l.Metal = s.evaluate(func(get func(variable) float64) float64 { return sumOf(one, c, get, true) }, "1", curveNote)
		l.Grade = s.evaluate(func(get func(variable) float64) float64 {
			return get(variable{end.stage, end.product + 1, Copper}) * l.metal / l.weight
		}, "wt%", curveNote)
	}
	return out
}
