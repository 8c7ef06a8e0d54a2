package chem

import (
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"
)

// Kind says what an analyte is, and so whether it counts in a sum.
type Kind string

const (
	Oxide      Kind = "oxide"
	OxideTotal Kind = "oxide_total" // all of an element stated as one oxide: FeOT, Fe2O3T
	Element    Kind = "element"
	Metal      Kind = "metal"   // metallic part of an element: Fe_met, Cu_met
	Species    Kind = "species" // another part of an element: Fe2+, S_sulfide, Cu_ox
	Volatile   Kind = "volatile"
	Ignition   Kind = "volatile_sum" // LOI, GOI
	Residue    Kind = "residue"
	Group      Kind = "group" // mixed oxides weighed together: R2O3
	Balance    Kind = "balance"
	Total      Kind = "total"
	Correction Kind = "correction"
)

// Analyte is one thing a laboratory reports.
type Analyte struct {
	ID      string // the name in smeltbook's output: "SiO2", "FeOT", "Cu"
	Formula string // empty for sums and balances
	Kind    Kind
	Element string   // the element it tells about; empty for sums and balances
	Class   string   // major, minor, trace, key, phase, other
	Aliases []string // spellings met in laboratory tables; common practice
	Note    string
	Order   int     // place in a conventional table
	Mass    float64 // g/mol of Formula; 0 without formula
	Atoms   float64 // atoms of Element in Formula
}

//go:embed analytes.csv
var analytesCSV string

var analyteTable = sync.OnceValue(func() []Analyte {
	var list []Analyte
	for i, r := range mustCSV(analytesCSV, 7) {
		a := Analyte{ID: r[0], Formula: r[1], Kind: Kind(r[2]), Element: r[3], Class: r[4],
			Aliases: strings.Split(r[5], "|"), Note: r[6], Order: i}
		if a.Formula != "" {
			f, err := ParseFormula(a.Formula)
			if err != nil {
				panic(fmt.Sprintf("chem: embedded table: %v", err))
			}
			a.Mass, a.Atoms = f.Mass(), f[a.Element]
		}
		list = append(list, a)
	}
	return list
})

var analyteIndex = sync.OnceValue(func() map[string]int {
	m := map[string]int{}
	for i, a := range analyteTable() {
		m[a.ID] = i
	}
	return m
})

// Analytes returns all known analytes in conventional order.
func Analytes() []Analyte { return slices.Clone(analyteTable()) }

// LookupAnalyte returns the analyte with the given ID.
func LookupAnalyte(id string) (Analyte, bool) {
	if a := analyte(id); a != nil {
		return *a, true
	}
	return Analyte{}, false
}

// analyte returns the table's own entry, to be read only, or nil.
func analyte(id string) *Analyte {
	i, ok := analyteIndex()[id]
	if !ok {
		return nil
	}
	return &analyteTable()[i]
}

// Factor returns the number by which wt% of one analyte is multiplied to
// state the same amount of their common element as another:
//
//	w(to) = w(from) · [M(to)/n(to)] / [M(from)/n(from)]
//
// with n the atoms of the element in each formula. It fails when the two
// share no element or one of them has no formula.
func Factor(from, to string) (float64, error) {
	a, b := analyte(from), analyte(to)
	switch {
	case a == nil:
		return 0, fmt.Errorf("unknown analyte %q", from)
	case b == nil:
		return 0, fmt.Errorf("unknown analyte %q", to)
	case a.Element == "" || a.Element != b.Element || a.Atoms == 0 || b.Atoms == 0:
		return 0, fmt.Errorf("%s cannot be stated as %s", from, to)
	}
	return (b.Mass / b.Atoms) / (a.Mass / a.Atoms), nil
}
