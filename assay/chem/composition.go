package chem

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Part is one analyte of a composition, in wt%.
type Part struct {
	ID string // an analyte ID, "SiO2"
	quantity.Quantity
}

// Composition is what a sample consists of: parts in conventional order, each
// at most once, in wt%.
type Composition struct {
	Parts []Part
	cov   [][]float64 // of Parts, nil where they are independent; see Covariance
}

// NewComposition sorts the parts into conventional order. It fails on an
// unknown analyte, a repeated one, a negative number (LOI and printed
// corrections excepted), an infinite one and a value that is not in wt%.
func NewComposition(parts ...Part) (Composition, error) {
	seen := map[string]bool{}
	for _, p := range parts {
		a := analyte(p.ID)
		switch {
		case a == nil:
			return Composition{}, fmt.Errorf("unknown oxide or element %q%s", p.ID, suggestAnalyte(p.ID))
		case seen[p.ID]:
			return Composition{}, fmt.Errorf("%s is given twice", p.ID)
		case p.Known() && p.Unit != "wt%":
			return Composition{}, fmt.Errorf("%s is in %q, not in wt%%", p.ID, p.Unit)
		case p.Known() && p.Value < 0 && a.Kind != Ignition && a.Kind != Correction:
			return Composition{}, fmt.Errorf("%s is negative (%g wt%%); amounts are zero or more", p.ID, p.Value)
		case p.Known() && math.IsInf(p.Value, 0):
			return Composition{}, fmt.Errorf("%s is not a finite number", p.ID)
		}
		seen[p.ID] = true
	}
	c := Composition{Parts: slices.Clone(parts)}
	c.sort()
	return c, nil
}

func suggestAnalyte(id string) string {
	var ids []string
	for _, a := range analyteTable() {
		ids = append(ids, a.ID)
	}
	if n := source.Nearest(id, ids); n != "" {
		return "; did you mean " + n + "?"
	}
	return ""
}

func (c *Composition) sort() {
	slices.SortStableFunc(c.Parts, func(a, b Part) int {
		return cmp.Compare(analyteIndex()[a.ID], analyteIndex()[b.ID])
	})
}

// ParseComposition reads "SiO2=30 FeO=50 CaO=10": analyte IDs and wt%,
// separated by spaces, commas or semicolons. The numbers carry no
// uncertainty.
func ParseComposition(text string) (Composition, error) {
	var parts []Part
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;\t\n", r) }) {
		cut := strings.LastIndex(field, "=") // "O=S" is an analyte
		if cut < 0 {
			return Composition{}, fmt.Errorf("%q is not of the form SiO2=30.5 (decimals take a point, not a comma)", field)
		}
		id, number := field[:cut], field[cut+1:]
		x, err := strconv.ParseFloat(number, 64)
		if err != nil || strings.Trim(number, "+-.0123456789eE") != "" || math.IsInf(x, 0) {
			return Composition{}, fmt.Errorf("%s: %q is not a number; write it with a decimal point, as in %s=30.5", id, number, id)
		}
		parts = append(parts, Part{ID: id, Quantity: quantity.New(x, "wt%", "given without uncertainty")})
	}
	if len(parts) == 0 {
		return Composition{}, fmt.Errorf("no oxides given; write for example 'SiO2=30 FeO=50 CaO=10'")
	}
	return NewComposition(parts...)
}

// Get returns a part's quantity; ok is false where the composition has no
// such part.
func (c Composition) Get(id string) (q quantity.Quantity, ok bool) {
	for _, p := range c.Parts {
		if p.ID == id {
			return p.Quantity, true
		}
	}
	return quantity.None(quantity.Missing, math.NaN(), "wt%"), false
}

// Wt returns the measured wt% of a part, 0 where there is no number.
func (c Composition) Wt(id string) float64 {
	q, _ := c.Get(id)
	return q.Or(0)
}

// Without returns a copy that lacks the named parts, and the corrections that
// belong to them.
func (c Composition) Without(ids ...string) Composition {
	var keep []int
	for i, p := range c.Parts {
		orphan := len(corrects[p.ID]) > 0
		for _, id := range corrects[p.ID] {
			orphan = orphan && (slices.Contains(ids, id) || !c.has(id))
		}
		if !orphan && !slices.Contains(ids, p.ID) {
			keep = append(keep, i)
		}
	}
	return c.pick(keep)
}

// Counts reports whether a part belongs in the sum of the analysis. Totals,
// balances, residues, species and metallic shares of an element do not; nor
// does a second statement of an element that another part already stands for,
// nor water, carbon and carbon dioxide beside an ignition loss, which holds
// them. Metallic iron counts beside FeO and Fe2O3, which do not hold it as a
// total does. A correction for oxygen counts where it takes something off.
func (c Composition) Counts(id string) bool {
	a := analyte(id)
	if a == nil || !c.has(id) {
		return false
	}
	switch a.Kind {
	case Ignition:
		return id == "LOI" || !c.tells("LOI")
	case Volatile:
		return !c.ignited() && !(c.tells("H2O") && (id == "H2O+" || id == "H2O-"))
	case OxideTotal, Oxide, Element:
		if a.Element == "C" {
			return !c.ignited() && !c.tells("CO2")
		}
		return slices.Contains(c.forms(a.Element), id)
	case Metal:
		return id == "Fe_met" && !c.ironTotal()
	case Correction:
		return c.Wt(id) < 0
	}
	return false
}

func (c Composition) has(id string) bool { _, ok := c.Get(id); return ok }

func (c Composition) tells(id string) bool { q, _ := c.Get(id); return tells(q) }

// ignited reports whether the analysis states what was lost or gained on
// ignition.
func (c Composition) ignited() bool { return c.tells("LOI") || c.tells("GOI") }

// Sum is the total of an analysis.
type Sum struct {
	Measured   float64 // sum of the numbers, wt%
	WithLimits float64 // the same with parts below a limit at their limit
	U          float64 // standard uncertainty of Measured, parts taken as independent; NaN if a part has none
}

// Total returns the sum of the parts that count (see Counts), with the pair
// of bounds that parts below detection leave open. A gain on ignition is
// taken off.
func (c Composition) Total() Sum {
	var s Sum
	counted := make([]bool, len(c.Parts))
	exact := true
	for i, p := range c.Parts {
		if !c.Counts(p.ID) {
			continue
		}
		if p.Known() {
			x := p.Value
			if p.ID == "GOI" {
				x = -x
			}
			s.Measured += x
			s.WithLimits += x
			counted[i] = true
			exact = exact && p.HasU()
			continue
		}
		if _, hi := p.Bounds(); hi > 0 && !math.IsInf(hi, 0) {
			s.WithLimits += hi
		}
	}
	if !exact {
		s.U = math.NaN()
		return s
	}
	var u2 float64
	for i, row := range c.Covariance() {
		for j, v := range row {
			if counted[i] && counted[j] {
				u2 += v
			}
		}
	}
	s.U = math.Sqrt(max(u2, 0))
	return s
}
