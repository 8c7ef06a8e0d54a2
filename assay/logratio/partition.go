package logratio

import (
	"fmt"
	"slices"
	"strings"
)

// branch is a node of the default partition: parts themselves, or two branches
// that a named balance sets against each other.
type branch struct {
	name        string
	parts       []string
	over, under *branch
}

// slagTree is the default partition of a slag. The parts that make the melt
// stand against those that trace where it came from; of the melt, silica
// against bases, and lime and its kin against iron and manganese; of the
// tracers, those of the wall against those of the ore. Within a branch the
// first part stands against the rest (common practice in the choice of
// tracers; the partition itself is our own).
var slagTree = &branch{name: "melt formers against tracers",
	over: &branch{name: "silica against bases",
		over: &branch{parts: []string{"SiO2"}},
		under: &branch{name: "lime against iron",
			over:  &branch{parts: []string{"CaO", "MgO", "P2O5", "SrO", "BaO"}},
			under: &branch{parts: []string{"FeO", "FeOT", "Fe2O3", "Fe2O3T", "MnO"}}}},
	under: &branch{name: "wall against ore",
		over: &branch{name: "alumina and titania against alkalis",
			over:  &branch{parts: []string{"Al2O3", "TiO2", "ZrO2", "Cr2O3"}},
			under: &branch{parts: []string{"K2O", "Na2O", "Rb2O", "Li2O"}}},
		under: &branch{parts: []string{"Cu", "CuO", "Cu2O", "S", "SO3", "ZnO", "Zn", "PbO", "Pb", "As", "Sb", "Sn", "SnO2", "NiO", "Ni", "CoO", "Co", "Ag", "Bi"}}}}

// DefaultPartition returns the partition of slagTree, pruned to the parts
// present. Parts that it does not know stand against all others.
func DefaultPartition(parts []string) Basis {
	var splits []Split
	known := slagTree.present(parts)
	var rest []string
	for _, p := range parts {
		if !slices.Contains(known, p) {
			rest = append(rest, p)
		}
	}
	if len(known) > 0 && len(rest) > 0 {
		splits = append(splits, Split{Name: "slag against other parts", Over: known, Under: rest})
	}
	splits = append(splits, slagTree.splits(parts)...)
	splits = append(splits, inOrder(rest)...)
	b, err := Partition("default", parts, splits)
	if err != nil { // the tree names no part twice, so this cannot be
		return Pivot(parts)
	}
	return b
}

// present lists the parts of a branch that occur.
func (b *branch) present(parts []string) []string {
	if b.over != nil {
		return append(b.over.present(parts), b.under.present(parts)...)
	}
	var out []string
	for _, p := range b.parts {
		if slices.Contains(parts, p) {
			out = append(out, p)
		}
	}
	return out
}

func (b *branch) splits(parts []string) []Split {
	if b.over == nil {
		return inOrder(b.present(parts))
	}
	over, under := b.over.present(parts), b.under.present(parts)
	var out []Split
	if len(over) > 0 && len(under) > 0 {
		out = append(out, Split{Name: b.name, Over: over, Under: under})
	}
	return slices.Concat(out, b.over.splits(parts), b.under.splits(parts))
}

// inOrder sets each part against those that follow.
func inOrder(parts []string) []Split {
	var out []Split
	for i := range max(len(parts)-1, 0) {
		under := parts[i+1:]
		out = append(out, Split{Name: parts[i] + " against " + strings.Join(under, ", "), Over: parts[i : i+1], Under: under})
	}
	return out
}

// ParseSplit reads a balance as a user writes it: the parts over and under a
// bar, "SiO2 | FeO CaO", with commas or spaces between them.
func ParseSplit(name, text string) (Split, error) {
	over, under, ok := strings.Cut(text, "|")
	if !ok || strings.Contains(under, "|") {
		return Split{}, fmt.Errorf("%q is no balance; write the parts of both sides with a bar between them, as in SiO2 | FeO CaO", text)
	}
	fields := func(s string) []string {
		return strings.FieldsFunc(s, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' })
	}
	s := Split{Name: name, Over: fields(over), Under: fields(under)}
	if len(s.Over) == 0 || len(s.Under) == 0 {
		return Split{}, fmt.Errorf("%q has nothing on one side of the bar; write for example SiO2 | FeO CaO", text)
	}
	return s, nil
}
