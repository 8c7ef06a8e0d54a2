package balance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/quantity"
)

// ElementBalance is the balance of one element in a firing.
type ElementBalance struct {
	Element     string
	Kg          []quantity.Quantity // in each stream, in the order of the streams
	In, Out     quantity.Quantity   // kg
	Unaccounted quantity.Quantity   // In − Out, kg; what streams share cancels in its uncertainty
	OutIn       quantity.Quantity   // Out/In
	// Z is Unaccounted over its standard uncertainty, and P the chance of one
	// as far from zero if weights and analyses are as good as stated: Student's
	// t with the effective degrees of freedom of Welch and Satterthwaite (JCGM
	// 100:2008, G.4.1), two-sided. NaN without uncertainty.
	Z, P float64
	DoF  float64 // +Inf where no scatter is behind it
	// MayLeave tells that some may leave with gas or flying ash: what is
	// missing is no error.
	MayLeave bool
	// Unknown names the streams whose content nobody determined; they count as
	// holding none, so In or Out is a lower bound.
	Unknown []string
}

// MayLeave lists the elements that leave a charcoal furnace in part with gas
// and flying ash, or go unseen into the metal as phosphorus does (common
// practice): a balance cannot hold their weights to account.
func MayLeave() []string {
	return []string{"S", "K", "Na", "P", "Zn", "Pb", "As", "Sb", "Cl", "F", "C", "H"}
}

// Close reckons the balance of one element. Masses and contents are taken as
// independent, contents of streams with the same Assays as one.
func (f Firing) Close(element string) (ElementBalance, error) {
	if err := f.check(); err != nil {
		return ElementBalance{}, err
	}
	b := ElementBalance{Element: element, MayLeave: slices.Contains(MayLeave(), element)}
	var ins, outs parts
	for _, s := range f.Streams {
		x, u, dof, ok := s.content(element)
		if !ok {
			b.Unknown = append(b.Unknown, s.Name)
		}
		one := parts{{s, x, u, dof}}
		b.Kg = append(b.Kg, one.sum(nil))
		if s.Out {
			outs = append(outs, one...)
		} else {
			ins = append(ins, one...)
		}
	}
	b.In, b.Out = ins.sum(nil), outs.sum(nil)
	b.Unaccounted = ins.sum(outs)
	b.OutIn = quantity.Ratio(b.Out, b.In, "1")
	b.Z, b.P, b.DoF = math.NaN(), math.NaN(), ins.dof(outs)
	if u := b.Unaccounted.U; u > 0 {
		b.Z = b.Unaccounted.Value / u
		b.P = twoSided(b.Z, b.DoF)
	}
	return b, nil
}

func twoSided(z, dof float64) float64 {
	if math.IsInf(dof, 1) {
		return 2 * distuv.UnitNormal.Survival(math.Abs(z))
	}
	return 2 * distuv.StudentsT{Mu: 0, Sigma: 1, Nu: dof}.Survival(math.Abs(z))
}

// part is the element in one stream: its content in wt%.
type part struct {
	stream  Stream
	x, u    float64
	contDoF int
}

type parts []part

// variances splits the variance of the sum of p less the sum of q into
// independent shares, each with its degrees of freedom (0: none to speak of).
func (p parts) variances(q parts) (shares []float64, dofs []int) {
	type assay struct {
		kg, u float64
		dof   int
	}
	by := map[*Assays]*assay{}
	var order []*Assays
	for i, list := range []parts{p, q} {
		for _, x := range list {
			sign := 1 - 2*float64(i)
			v := x.x / 100 * known(x.stream.Mass.U)
			shares, dofs = append(shares, v*v), append(dofs, 0)
			a := by[x.stream.Assays]
			if a == nil {
				a = &assay{u: x.u / 100, dof: x.contDoF}
				by[x.stream.Assays], order = a, append(order, x.stream.Assays)
			}
			a.kg += sign * x.stream.Mass.Value
		}
	}
	for _, k := range order {
		v := by[k].kg * by[k].u
		shares, dofs = append(shares, v*v), append(dofs, by[k].dof)
	}
	return shares, dofs
}

// sum is the kg in p less those in q.
func (p parts) sum(q parts) quantity.Quantity {
	total := 0.0
	for _, x := range p {
		total += x.stream.Mass.Value * x.x / 100
	}
	for _, x := range q {
		total -= x.stream.Mass.Value * x.x / 100
	}
	shares, _ := p.variances(q)
	v := 0.0
	for _, s := range shares {
		v += s
	}
	return quantity.WithU(total, math.Sqrt(v), "kg", "weights and analyses, taken as independent")
}

// dof are the effective degrees of freedom of a difference.
func (p parts) dof(q parts) float64 {
	shares, dofs := p.variances(q)
	v, below := 0.0, 0.0
	for i, s := range shares {
		v += s
		if dofs[i] > 0 {
			below += s * s / float64(dofs[i])
		}
	}
	if below == 0 {
		return math.Inf(1)
	}
	return v * v / below
}
