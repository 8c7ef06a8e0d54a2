package balance

import (
	"fmt"
	"math"
	"slices"
	"strconv"
)

// Entry is a printed number of a table.
type Entry struct {
	Name  string
	Value float64
	Half  float64 // half of its last printed place: what rounding can have done
}

// Product is a product of entries, by index, times a factor; of none it is the
// factor alone.
type Product struct {
	Factor float64
	Of     []int
}

// Relation is a sum of products that is zero where the table is right: entries
// less their printed total, or a weight times a grade less a content.
type Relation struct {
	Name  string
	Terms []Product
}

// Misfit is a number that does not fit what stands around it.
type Misfit struct {
	Entry  int
	Should [2]float64 // between these the relations would hold
	Slip   string     // what kind of slip makes the one of the other, empty where none is plain
	Mends  []int      // relations that would hold then and do not as printed
	// Or are other entries that could be wrong instead, with as good a reason.
	Or []int
}

// CheckSums finds the entries that do not fit their sums and products. An entry
// is suspected when one value in its place would make failing relations hold
// and break none; what mends most comes first. Each entry may be off by the
// half of its last place. Relations that fail and that no single entry mends
// are returned as unexplained. It fails on an index out of range.
func CheckSums(entries []Entry, relations []Relation) (misfits []Misfit, unexplained []int, err error) {
	c := sumCheck{entries: slices.Clone(entries), relations: relations, holds: make([]bool, len(relations))}
	for _, r := range relations {
		for _, t := range r.Terms {
			for _, i := range t.Of {
				if i < 0 || i >= len(entries) {
					return nil, nil, fmt.Errorf("relation %s names entry %d of %d", r.Name, i, len(entries))
				}
			}
		}
	}
	for i := range relations {
		f, tol := c.misfit(i)
		c.holds[i] = math.Abs(f) <= tol
	}
	for {
		best := c.candidates()
		if len(best) == 0 {
			break
		}
		m := best[0].Misfit
		for _, b := range best[1:] {
			m.Or = append(m.Or, b.Entry)
		}
		if len(m.Or) == 0 {
			c.entries[m.Entry].Value = best[0].value
		}
		for _, i := range m.Mends {
			c.holds[i] = true
		}
		m.Slip = slip(entries[m.Entry].Value, m.Should)
		misfits = append(misfits, m)
	}
	for i, ok := range c.holds {
		if !ok {
			unexplained = append(unexplained, i)
		}
	}
	return misfits, unexplained, nil
}

type sumCheck struct {
	entries   []Entry
	relations []Relation
	holds     []bool
}

// misfit is what a relation comes to and what rounding alone may make of it.
func (c *sumCheck) misfit(i int) (f, tol float64) {
	slopes := map[int]float64{}
	for _, t := range c.relations[i].Terms {
		f += c.product(t, -1)
		for k, j := range t.Of {
			slopes[j] += c.product(t, k)
		}
	}
	for j, s := range slopes {
		tol += math.Abs(s) * c.entries[j].Half
	}
	return f, tol * (1 + 1e-9)
}

// product is a term without its k-th factor.
func (c *sumCheck) product(t Product, k int) float64 {
	v := t.Factor
	for i, j := range t.Of {
		if i != k {
			v *= c.entries[j].Value
		}
	}
	return v
}

// wanted is the range of an entry in which a relation holds, the others as
// printed.
func (c *sumCheck) wanted(i, entry int) (lo, hi float64, ok bool) {
	slope := 0.0
	for _, t := range c.relations[i].Terms {
		for k, j := range t.Of {
			if j == entry {
				slope += c.product(t, k)
			}
		}
	}
	if slope == 0 {
		return 0, 0, false
	}
	f, tol := c.misfit(i)
	e := c.entries[entry]
	v := e.Value - f/slope
	w := tol/math.Abs(slope) - e.Half // the entry's own rounding is no reason
	return v - w, v + w, true
}

type candidate struct {
	Misfit
	value float64
	net   int
}

// candidates returns the entries that mend most, as many as mend it equally.
func (c *sumCheck) candidates() []candidate {
	var best []candidate
	for e := range c.entries {
		x, ok := c.candidate(e)
		switch {
		case !ok:
		case len(best) == 0 || x.net > best[0].net:
			best = []candidate{x}
		case x.net == best[0].net && slices.Equal(x.Mends, best[0].Mends):
			best = append(best, x)
		}
	}
	return best
}

// candidate finds the value of an entry at which most of its relations hold.
func (c *sumCheck) candidate(e int) (candidate, bool) {
	type span struct {
		lo, hi   float64
		relation int
	}
	var spans []span
	fails := false
	for i := range c.relations {
		if lo, hi, ok := c.wanted(i, e); ok {
			spans = append(spans, span{lo - c.entries[e].Half, hi + c.entries[e].Half, i})
			fails = fails || !c.holds[i]
		}
	}
	if !fails {
		return candidate{}, false
	}
	best := candidate{net: 0}
	for _, s := range spans {
		if c.holds[s.relation] {
			continue
		}
		for _, at := range []float64{s.lo, s.hi, (s.lo + s.hi) / 2} {
			x := candidate{Misfit: Misfit{Entry: e, Should: [2]float64{math.Inf(-1), math.Inf(1)}}}
			for _, o := range spans {
				inside := at >= o.lo-1e-9*math.Abs(o.lo) && at <= o.hi+1e-9*math.Abs(o.hi)
				switch {
				case inside:
					x.Should[0], x.Should[1] = max(x.Should[0], o.lo), min(x.Should[1], o.hi)
					if !c.holds[o.relation] {
						x.net++
						x.Mends = append(x.Mends, o.relation)
					}
				case c.holds[o.relation]:
					x.net--
				}
			}
			if x.net > best.net || x.net == best.net && x.net > 0 && x.Should[1]-x.Should[0] < best.Should[1]-best.Should[0] {
				x.value = (x.Should[0] + x.Should[1]) / 2
				best = x
			}
		}
	}
	return best, best.net > 0
}

// widest is the range, as a part of the printed number, in which any slip would
// fit by chance.
const widest = 0.3

// slip names the slip of a pen that makes a printed number of one that fits.
func slip(printed float64, should [2]float64) string {
	if should[1]-should[0] > widest*math.Abs(printed) {
		return ""
	}
	fits := func(x float64) bool { return x >= should[0] && x <= should[1] }
	for _, f := range []float64{10, 100, 0.1, 0.01} {
		if fits(printed * f) {
			return "decimal point"
		}
	}
	text := []byte(strconv.FormatFloat(printed, 'f', -1, 64))
	var digits []int
	for i, b := range text {
		if b >= '0' && b <= '9' {
			digits = append(digits, i)
		}
	}
	try := func(t []byte) bool {
		x, err := strconv.ParseFloat(string(t), 64)
		return err == nil && x != printed && fits(x)
	}
	for k := range len(digits) - 1 {
		t := slices.Clone(text)
		t[digits[k]], t[digits[k+1]] = t[digits[k+1]], t[digits[k]]
		if try(t) {
			return "two digits transposed"
		}
	}
	for _, i := range digits {
		for b := byte('0'); b <= '9'; b++ {
			t := slices.Clone(text)
			t[i] = b
			if try(t) {
				return "one digit"
			}
		}
	}
	if fits(-printed) {
		return "sign"
	}
	return ""
}
