package study

import (
	"fmt"
	"strings"

	"smeltbook/assay"
)

// IronApart reports whether ferrous and ferric iron of a slag stand apart in its
// estimate because they were analysed; else all its iron counts as ferrous.
func (s *Study) IronApart(id string) bool { return s.apart[id] }

// MixedIron says how many slags of a group have their iron apart, where others
// have not; empty where all are treated alike.
func (s *Study) MixedIron(g assay.Group) string {
	apart, all := 0, 0
	for _, x := range g.Samples {
		if _, ok := s.estimates[x.ID]; !ok {
			continue
		}
		if all++; s.apart[x.ID] {
			apart++
		}
	}
	if apart == 0 || apart == all {
		return ""
	}
	return fmt.Sprintf("ferrous iron was titrated in %d of the %d slags of %s", apart, all, g.Name)
}

// mixes tells which variables hang on how iron is counted in the melt.
var mixes = []string{Liquidus, "t_90_molten", "t_half_molten", "solidus", "viscosity", "density", "nbo_t"}

// CountsIron reports whether a variable is computed from the melt, whose iron is
// all ferrous unless it was titrated.
func (v Variable) CountsIron() bool {
	key, _, _ := strings.Cut(v.Key, "@")
	for _, m := range mixes {
		if m == key {
			return true
		}
	}
	return false
}
