package chem

import (
	"math"
	"slices"

	"smeltbook/assay/quantity"
)

// A laboratory may state one element in several ways: total iron beside
// titrated FeO, Mn beside MnO, an empty column beside a filled one. Counting
// two of them would count the element twice; picking an empty one would lose
// it. forms decides, in one place for totals, conversion and the melt, which
// parts stand for the element:
//
//   - a part with a number goes before one without, and one below a limit
//     before an empty one;
//   - then a total stated as oxide goes before single oxides, and those before
//     the element;
//   - FeO and Fe2O3 together, CuO and Cu2O together are shares and add up; of
//     other oxides of one element only the first counts;
//   - FeO or Fe2O3 alone beside the element: the element is total iron and
//     stands for it where it holds clearly more iron (FeO was titrated),
//     otherwise both say the same and the oxide is taken.
//
// The order is common practice; the last rule is our convention.
func (c Composition) forms(element string) []string {
	best, found := worst, []string(nil)
	for _, p := range c.Parts {
		a := analyte(p.ID)
		if a == nil || a.Element != element {
			continue
		}
		r, ok := rankOf(a.Kind, p.Quantity)
		switch {
		case !ok || best.before(r):
		case r.before(best):
			best, found = r, []string{p.ID}
		default:
			found = append(found, p.ID)
		}
	}
	if element == "Fe" && len(found) == 1 && best.kind == 1 && c.elementHoldsMore(found[0]) {
		return []string{"Fe"}
	}
	if best.kind == 1 && (element == "Fe" || element == "Cu") {
		// A share below its limit belongs beside a measured one.
		for _, p := range c.Parts {
			if a := analyte(p.ID); a != nil && a.Element == element && a.Kind == Oxide &&
				tells(p.Quantity) && !slices.Contains(found, p.ID) {
				found = append(found, p.ID)
			}
		}
		return found
	}
	return found[:min(len(found), 1)]
}

// rank orders statements of one element: by what they tell, then by kind.
type rank struct{ says, kind int }

var worst = rank{math.MaxInt, math.MaxInt}

func (r rank) before(s rank) bool {
	return r.says < s.says || r.says == s.says && r.kind < s.kind
}

func rankOf(k Kind, q quantity.Quantity) (rank, bool) {
	says := 2
	if q.Known() {
		says = 0
	} else if tells(q) {
		says = 1
	}
	switch k {
	case OxideTotal:
		return rank{says, 0}, true
	case Oxide:
		return rank{says, 1}, true
	case Element:
		return rank{says, 2}, true
	}
	return rank{}, false
}

// tells reports whether q says something about the amount: a number, or a
// limit on one side.
func tells(q quantity.Quantity) bool {
	return q.Known() || q.Class.Censored() || q.Class == quantity.Above
}

// elementHoldsMore reports whether the part "Fe" holds more iron than the
// given oxide by more than twice their standard uncertainty and more than 1 %,
// which covers the rounding of printed results.
func (c Composition) elementHoldsMore(oxide string) bool {
	fe, _ := c.Get("Fe")
	q, _ := c.Get(oxide)
	if !fe.Known() || !q.Known() {
		return false
	}
	share := convert(Part{oxide, q}, "Fe").Quantity
	margin := 0.01 * share.Value
	if fe.HasU() && share.HasU() {
		margin = max(margin, 2*math.Hypot(fe.U, share.U))
	}
	return fe.Value-share.Value > margin
}
