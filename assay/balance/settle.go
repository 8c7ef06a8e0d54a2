package balance

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/internal/reconcile"
	"smeltbook/assay/quantity"
)

// Balance is the whole balance of a firing.
type Balance struct {
	Firing
	Elements []ElementBalance
	// Chi2 measures how far weights and analyses must be moved for the elements
	// of Tested to balance all at once; P is the chance of more if all
	// uncertainties are right.
	Tested  []string
	Chi2    float64
	DoF     int
	P       float64
	Suspect *Suspect // the reading that is most likely off, nil where none is
	// Adjusted holds the kg of each tested element in each stream after that
	// least-squares adjustment.
	Adjusted map[string][]quantity.Quantity
}

// Suspect is a weight or an analysis that the others contradict.
type Suspect struct {
	What            string // "the weight of slag", "Fe of KR-S01, KR-S02"
	Read            quantity.Quantity
	Others, OthersU float64  // what all others say it should be
	Z, P            float64  // P is corrected for having looked at all readings
	Or              []string // readings that could be off instead
}

// Settle balances a firing by the elements given. The elements that may not
// leave unseen and are known of every stream are then made to balance by the
// least adjustment of weights and analyses (least squares, package reconcile);
// a content that rests on the scatter of few pieces is given the wider room of
// Student's t. It fails on a weight or an analysis that is missing.
func (f Firing) Settle(elements []string) (Balance, error) {
	b := Balance{Firing: f, P: math.NaN(), Adjusted: map[string][]quantity.Quantity{}}
	for _, e := range elements {
		x, err := f.Close(e)
		if err != nil {
			return Balance{}, err
		}
		b.Elements = append(b.Elements, x)
		if !x.MayLeave && len(x.Unknown) == 0 && x.In.Value > 0 && x.Out.Value > 0 && x.Unaccounted.U > 0 {
			b.Tested = append(b.Tested, e)
		}
	}
	if len(b.Tested) == 0 {
		return b, nil
	}
	s := newSettlement(f, b.Tested)
	r, err := reconcile.Solve(s.readings, s.balances)
	if err != nil {
		return Balance{}, fmt.Errorf("%s: %w", f.Name, err)
	}
	b.Chi2, b.DoF, b.P = r.Chi2, r.DoF, r.P
	if t, ok := r.Suspect(suspicious); ok {
		b.Suspect = s.suspect(t)
	}
	for k, e := range b.Tested {
		b.Adjusted[e] = s.adjusted(r, k)
	}
	return b, nil
}

// suspicious is the corrected P below which a reading is named.
const suspicious = 0.05

// settlement lays a firing out as readings and balances.
type settlement struct {
	firing   Firing
	readings []reconcile.Reading
	units    []string
	balances []reconcile.Balance
	mass     []int   // reading of each stream's weight
	content  [][]int // by element and stream: reading of the content, -1 for none
}

func newSettlement(f Firing, elements []string) *settlement {
	s := &settlement{firing: f}
	add := func(name string, x, u float64, unit string) int {
		s.readings = append(s.readings, reconcile.Reading{Name: name, Value: x, U: u})
		s.units = append(s.units, unit)
		return len(s.readings) - 1
	}
	for _, stream := range f.Streams {
		s.mass = append(s.mass, add("the weight of "+stream.Name, stream.Mass.Value, known(stream.Mass.U), "kg"))
	}
	for _, e := range elements {
		b := reconcile.Balance{Name: e}
		at := map[*Assays]int{}
		row := make([]int, len(f.Streams))
		for i, stream := range f.Streams {
			x, u, dof, _ := stream.content(e)
			row[i] = -1
			if x == 0 && u == 0 {
				continue
			}
			if _, ok := at[stream.Assays]; !ok {
				at[stream.Assays] = add(e+" of "+stream.Assays.Name, x, u*widened(dof), "wt%")
			}
			row[i] = at[stream.Assays]
			sign := 0.01
			if stream.Out {
				sign = -0.01
			}
			b.Terms = append(b.Terms, reconcile.Term{Factor: sign, Of: []int{s.mass[i], row[i]}})
		}
		s.balances, s.content = append(s.balances, b), append(s.content, row)
	}
	return s
}

// widened is the factor by which the standard uncertainty of a mean of few is
// to be taken wider so that it covers as much as one of many: the 84.1 %
// quantile of Student's t.
func widened(dof int) float64 {
	if dof <= 0 {
		return 1
	}
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(dof)}.Quantile(distuv.UnitNormal.CDF(1))
}

func (s *settlement) suspect(t reconcile.Test) *Suspect {
	r := s.readings[t.Reading]
	out := &Suspect{What: r.Name, Read: quantity.WithU(r.Value, r.U, s.units[t.Reading], ""), Others: t.Others, OthersU: t.OthersU, Z: t.Z, P: t.P}
	for _, i := range t.Like {
		out.Or = append(out.Or, s.readings[i].Name)
	}
	slices.Sort(out.Or)
	return out
}

// adjusted is the k-th element in each stream after the adjustment.
func (s *settlement) adjusted(r reconcile.Result, k int) []quantity.Quantity {
	var out []quantity.Quantity
	for i, m := range s.mass {
		c := s.content[k][i]
		if c < 0 {
			out = append(out, quantity.WithU(0, 0, "kg", "none in it"))
			continue
		}
		x, w := r.Value[m], r.Value[c]/100
		v := w*w*r.Cov.At(m, m) + x*x*r.Cov.At(c, c)/1e4 + 2*x*w*r.Cov.At(m, c)/100
		out = append(out, quantity.WithU(x*w, math.Sqrt(math.Max(v, 0)), "kg", "adjusted so that the elements balance"))
	}
	return out
}
