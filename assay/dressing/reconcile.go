package dressing

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/internal/reconcile"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Reconciled is a circuit whose weights and assays balance.
type Reconciled struct {
	Circuit Circuit
	Items   []Item // every weight and assay, in the order of the sheet
	Chi2    float64
	DoF     int
	P       float64 // of a Chi2 at least as large, if all uncertainties are right; NaN without redundancy
	Suspect *Item   // the reading that fits the others worst, where it does not fit at the level of 5 %
	Notices source.Notices
	state   state
}

// Item is a weight or an assay before and after.
type Item struct {
	Stage, Stream string
	What          string            // "mass" or the component
	Read          quantity.Quantity // Missing where it was not measured
	Adjusted      quantity.Quantity // Missing where no balance determines it
	Z             float64           // standardised adjustment; NaN where no balance checks the reading
	P             float64           // of so large a Z, corrected for all readings tested; NaN without
	Others        quantity.Quantity // what the other readings alone say
	Like          []string          // readings from which the balances cannot tell this one apart
}

// Label names the reading: "A1 hand-picking, tailings: Cu".
func (i Item) Label() string { return i.Stage + ", " + i.Stream + ": " + i.What }

// suspectLevel is the chance of naming a sound reading.
const suspectLevel = 0.05

// whole is the name of a stream's mass among its variables.
const whole = "mass"

// variables numbers the weights and assays of a circuit: by stage, stream
// (0 the feed, then the products) and "mass" or component.
type variables struct {
	circuit  Circuit
	index    map[variable]int
	order    []variable
	readings []reconcile.Reading
}

type variable struct {
	stage, stream int
	what          string
}

func streamOf(s Stage, stream int) Stream {
	if stream == 0 {
		return s.Feed
	}
	return s.Products[stream-1]
}

func (v *variables) read(x variable) quantity.Quantity {
	s := streamOf(v.circuit.Stages[x.stage], x.stream)
	if x.what == whole {
		return s.Mass
	}
	return s.Grade(x.what)
}

func newVariables(c Circuit) *variables {
	v := &variables{circuit: c, index: map[variable]int{}}
	for k, s := range c.Stages {
		for stream := range len(s.Products) + 1 {
			for _, what := range append([]string{whole}, c.Components...) {
				x := variable{k, stream, what}
				v.index[x] = len(v.order)
				v.order = append(v.order, x)
				r := reconcile.Reading{Name: what, U: math.Inf(1)}
				if q := v.read(x); q.HasU() {
					r.Value, r.U = q.Value, q.U
				} else {
					r.Value = v.start(x)
				}
				v.readings = append(v.readings, r)
			}
		}
	}
	return v
}

// start is where the search for something unmeasured begins: for a weight what
// the other weights leave, for an assay that of the feed.
func (v *variables) start(x variable) float64 {
	s := v.circuit.Stages[x.stage]
	if x.what != whole {
		for stream := range len(s.Products) + 1 {
			if q := streamOf(s, stream).Grade(x.what); q.Known() && q.Value > 0 {
				return q.Value
			}
		}
		return 1
	}
	left := s.Feed.Mass.Or(0)
	for _, p := range s.Products {
		if x.stream == 0 {
			left += p.Mass.Or(0)
		} else {
			left -= p.Mass.Or(0)
		}
	}
	if left <= 0 {
		return 0.01*s.Feed.Mass.Or(1) + 1e-6
	}
	return left
}

// balances are those of mass and of every component round each stage, and the
// links between stages: what one stage made has the grade of what the next was
// fed with, and its weight where all of it was fed.
func (v *variables) balances() (out []reconcile.Balance, parts []string) {
	c := v.circuit
	for k, s := range c.Stages {
		for _, what := range append([]string{whole}, c.Components...) {
			b := reconcile.Balance{Name: what + " of " + s.Name}
			for stream := range len(s.Products) + 1 {
				factor := -1.0
				if stream == 0 {
					factor = 1
				}
				of := []int{v.index[variable{k, stream, whole}]}
				if what != whole {
					of = append(of, v.index[variable{k, stream, what}])
				}
				b.Terms = append(b.Terms, reconcile.Term{Factor: factor, Of: of})
			}
			out = append(out, b)
		}
		i, j, ok := c.From(k)
		if !ok {
			continue
		}
		same := append([]string{}, c.Components...)
		if c.wholeOf(k) {
			same = append(same, whole)
		} else {
			parts = append(parts, fmt.Sprintf("%s was fed with a part of %s", s.Name, s.Feed.Product))
		}
		for _, what := range same {
			out = append(out, reconcile.Balance{Name: what + " of " + s.Feed.Product, Terms: []reconcile.Term{
				{Factor: 1, Of: []int{v.index[variable{i, j + 1, what}]}}, {Factor: -1, Of: []int{v.index[variable{k, 0, what}]}}}})
		}
	}
	return out, parts
}

// wholeOf reports whether a later stage was fed with all that an earlier one
// made of its feed: the weights agree within their errors, or one is missing.
func (c Circuit) wholeOf(k int) bool {
	i, j, ok := c.From(k)
	if !ok {
		return false
	}
	made, fed := c.Stages[i].Products[j].Mass, c.Stages[k].Feed.Mass
	if !made.Known() || !fed.Known() {
		return true
	}
	return math.Abs(made.Value-fed.Value) <= impossible*math.Hypot(made.U, fed.U)
}

// Reconcile adjusts the weights and assays of a circuit within their standard
// uncertainties until mass and every component balance round every stage. It
// fails where a stage lacks its feed or a product, or no values near the
// readings balance.
func Reconcile(c Circuit) (Reconciled, error) {
	for _, s := range c.Stages {
		if s.Feed.At.IsZero() || len(s.Products) < 2 {
			return Reconciled{}, fmt.Errorf("stage %q lacks its feed or a product", s.Name)
		}
	}
	v := newVariables(c)
	balances, parts := v.balances()
	res, err := reconcile.Solve(v.readings, balances)
	if err != nil {
		return Reconciled{}, fmt.Errorf("circuit %q: %w; look for a weight or an assay that is far off", c.Name, err)
	}
	out := Reconciled{Circuit: c, Chi2: res.Chi2, DoF: res.DoF, P: res.P, state: state{v: v, x: res.Value, cov: res.Cov, balanced: true}}
	out.items(v, res)
	out.tell(parts)
	return out, nil
}

func (r *Reconciled) items(v *variables, res reconcile.Result) {
	label := func(i int) string { return v.item(i).Label() }
	for i := range v.order {
		x := v.item(i)
		x.Adjusted = quantity.None(quantity.Missing, math.NaN(), x.Read.Unit)
		if res.Determined[i] {
			note := "reconciled"
			if !v.readings[i].Read() {
				note = "from the balances, not measured"
			}
			x.Adjusted = quantity.WithU(res.Value[i], res.U[i], x.Read.Unit, note, x.Read.From...)
		}
		for _, t := range res.Tests {
			if t.Reading != i {
				continue
			}
			x.Z, x.P = t.Z, t.P
			x.Others = quantity.WithU(t.Others, t.OthersU, x.Read.Unit, "from the other readings alone")
			for _, j := range t.Like {
				x.Like = append(x.Like, label(j))
			}
		}
		r.Items = append(r.Items, x)
	}
	if t, ok := res.Suspect(suspectLevel); ok {
		r.Suspect = &r.Items[t.Reading]
	}
}

func (v *variables) item(i int) Item {
	x := v.order[i]
	s := v.circuit.Stages[x.stage]
	return Item{Stage: s.Name, Stream: streamOf(s, x.stream).Name(), What: x.what, Read: v.read(x),
		Z: math.NaN(), P: math.NaN(), Others: missing("")}
}

// tell says in plain sentences what the balances showed.
func (r *Reconciled) tell(parts []string) {
	if len(parts) > 0 {
		r.Notices.Add(source.Note, "DRESSING_PART", source.Cell{}, "circuit %s: %s, so the two are joined by their assays and not by weight; figures of the whole circuit are reckoned as if all of it had been fed",
			r.Circuit.Name, strings.Join(parts, "; "))
	}
	var open []string
	for _, x := range r.Items {
		if !x.Adjusted.Known() {
			open = append(open, x.Label())
		} else if x.Adjusted.Value < -doubtful*x.Adjusted.U {
			r.Notices.Add(source.Warning, "DRESSING_NEGATIVE", cellOf(x), "%s comes out below zero (%s %s), which cannot be; a reading of that stage is wrong, or a stream is missing", x.Label(), x.Adjusted.Text(), x.Adjusted.Unit)
		}
	}
	if len(open) > 0 {
		r.Notices.Add(source.Note, "DRESSING_OPEN", source.Cell{}, "circuit %s: not measured, and no balance determines it: %s; weigh or assay one of them", r.Circuit.Name, strings.Join(open, "; "))
	}
	if r.Suspect == nil {
		return
	}
	x := *r.Suspect
	more := ""
	if len(x.Like) > 0 {
		more = "; the balances cannot tell it from " + strings.Join(x.Like, " or ")
	}
	r.Notices.Add(source.Warning, "DRESSING_SUSPECT", cellOf(x),
		"of all weights and assays of circuit %s this one, %s, fits the others worst: %s %s was read, the others say %s (chance of so much in sound readings: %s)%s; look at it first",
		r.Circuit.Name, x.Label(), x.Read.Text(), x.Read.Unit, x.Others.Text(), chance(x.P), more)
}

func cellOf(x Item) source.Cell {
	if len(x.Read.From) > 0 {
		return x.Read.From[0]
	}
	return source.Cell{}
}

func chance(p float64) string {
	if p < 1e-4 {
		return "below 0.0001"
	}
	return fmt.Sprintf("%.2g", p)
}
