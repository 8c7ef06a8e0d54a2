// Package slag brings a composition to the basis on which all melt models of
// smeltbook work, so that every model answers about the same melt.
//
// The melt basis: copper in any form is counted as Cu2O; sulphur, halogens,
// water, ignition loss and whatever is not an oxide of the list are left out
// and reported; the rest sums to 100 wt%. Iron stays as given, ferrous and
// ferric apart; a total counts as FeO.
package slag

import (
	"fmt"
	"math"
	"math/rand/v2"

	"smeltbook/assay/chem"
)

// Oxide numbers the oxides of the melt basis.
type Oxide int

const (
	SiO2 Oxide = iota
	TiO2
	ZrO2
	P2O5
	Al2O3
	Fe2O3
	Cr2O3
	B2O3
	FeO
	MnO
	MgO
	CaO
	BaO
	SrO
	ZnO
	PbO
	NiO
	Na2O
	K2O
	Li2O
	Cu2O
	NumOxides
)

var oxideNames = [NumOxides]string{"SiO2", "TiO2", "ZrO2", "P2O5", "Al2O3", "Fe2O3", "Cr2O3", "B2O3",
	"FeO", "MnO", "MgO", "CaO", "BaO", "SrO", "ZnO", "PbO", "NiO", "Na2O", "K2O", "Li2O", "Cu2O"}

// String returns the formula.
func (o Oxide) String() string { return oxideNames[o] }

// Mass returns the molar mass in g/mol.
func (o Oxide) Mass() float64 { return oxideMass[o] }

var oxideMass = func() (m [NumOxides]float64) {
	for o, name := range oxideNames {
		a, ok := chem.LookupAnalyte(name)
		if !ok {
			panic("slag: no analyte " + name)
		}
		m[o] = a.Mass
	}
	return m
}()

// Wt is a melt in wt%, indexed by Oxide.
type Wt [NumOxides]float64

// Normalise scales w to sum to 100; an empty melt stays empty.
func (w Wt) Normalise() Wt {
	var t float64
	for _, x := range w {
		t += x
	}
	if t <= 0 {
		return Wt{}
	}
	for i := range w {
		w[i] *= 100 / t
	}
	return w
}

// Mol returns the mole fractions of the oxides as written.
func (w Wt) Mol() (x Wt) {
	var t float64
	for o := range w {
		x[o] = w[o] / oxideMass[o]
		t += x[o]
	}
	if t > 0 {
		for o := range x {
			x[o] /= t
		}
	}
	return x
}

// AllFeO returns the melt with ferric iron restated as FeO and the sum
// brought back to 100.
func (w Wt) AllFeO() Wt {
	if w[Fe2O3] == 0 {
		return w
	}
	w[FeO] += w[Fe2O3] * 2 * oxideMass[FeO] / oxideMass[Fe2O3]
	w[Fe2O3] = 0
	return w.Normalise()
}

// Melt is a composition on the melt basis.
type Melt struct {
	Wt      Wt // wt%, sums to 100
	raw     Wt // before normalisation
	u       Wt // standard uncertainty of raw; 0 where unknown or absent
	limit   Wt // upper bound of what parts below detection may add, otherwise 0
	NoU     []string
	Below   []string    // parts below a stated limit, which may add up to it
	LeftOut []chem.Part // parts of the composition that are not in the melt
	Covers  float64     // share of the composition's counted total that the melt holds, 0 to 1
}

// meltOxide gives the form in which elements enter the melt.
var meltOxide = map[string]string{
	"Si": "SiO2", "Ti": "TiO2", "Zr": "ZrO2", "P": "P2O5", "Al": "Al2O3", "Cr": "Cr2O3", "B": "B2O3",
	"Mn": "MnO", "Mg": "MgO", "Ca": "CaO", "Ba": "BaO", "Sr": "SrO", "Zn": "ZnO", "Pb": "PbO",
	"Ni": "NiO", "Na": "Na2O", "K": "K2O", "Li": "Li2O", "Cu": "Cu2O",
}

// FromComposition brings c to the melt basis. It refuses a composition
// without any oxide of the list; negative parts cannot occur in a
// chem.Composition.
func FromComposition(c chem.Composition) (Melt, error) {
	var m Melt
	var counted float64
	for _, p := range c.Parts {
		if !c.Counts(p.ID) {
			continue
		}
		a, _ := chem.LookupAnalyte(p.ID)
		if a.Kind == chem.Correction { // belongs to sulphur and halogens, which are left out
			continue
		}
		if p.Known() && p.Value > 0 {
			counted += p.Value
		}
		name := meltOxide[a.Element]
		switch {
		case a.Kind == chem.Ignition || a.Kind == chem.Volatile || a.Kind == chem.Metal:
			name = ""
		case a.ID == "Fe2O3":
			name = "Fe2O3"
		case a.Element == "Fe":
			name = "FeO"
		}
		o, ok := lookup(name)
		if !ok {
			m.LeftOut = append(m.LeftOut, p)
			continue
		}
		f, err := chem.Factor(p.ID, name)
		if err != nil {
			return Melt{}, fmt.Errorf("melt basis: %w", err)
		}
		if !p.Known() {
			if _, hi := p.Bounds(); hi > 0 && !math.IsInf(hi, 0) {
				m.limit[o] += hi * f
				m.Below = append(m.Below, p.ID)
			}
			continue
		}
		m.raw[o] += p.Value * f
		if p.HasU() {
			m.u[o] = math.Hypot(m.u[o], p.U*f)
		} else if p.Value > 0 {
			m.NoU = append(m.NoU, p.ID)
		}
	}
	m.Wt = m.raw.Normalise()
	var kept float64
	for _, x := range m.raw {
		kept += x
	}
	if math.IsInf(kept, 1) {
		return Melt{}, fmt.Errorf("the amounts are too large to be added; state them in wt%%")
	}
	if m.Wt == (Wt{}) {
		return Melt{}, fmt.Errorf("the composition holds no oxide that could melt")
	}
	m.Covers = min(kept/counted, 1)
	return m, nil
}

// Counting returns the melt with every part below its limit counted as the
// given share of the limit, from 0 to 1. FromComposition counts them as 0. What
// is drawn stays the same: an even chance from zero to the limit.
func (m Melt) Counting(share float64) Melt {
	w := m.raw
	for o := range w {
		w[o] += share * m.limit[o]
	}
	m.Wt = w.Normalise()
	return m
}

// FromWt makes a melt of wt% without uncertainties.
func FromWt(w Wt) Melt { return Melt{Wt: w.Normalise(), raw: w, Covers: 1} }

func lookup(name string) (Oxide, bool) {
	for o, n := range oxideNames {
		if n == name {
			return Oxide(o), true
		}
	}
	return 0, false
}

// HasU reports whether any part carries an uncertainty or a limit, so that
// drawing from the melt makes sense.
func (m Melt) HasU() bool { return m.u != Wt{} || m.limit != Wt{} }

// Draw returns one possible melt: each part normal about its value with its
// standard uncertainty and not below zero, each part below a limit uniform
// from zero to the limit (JCGM 101:2008, 6.4), the sum brought to 100.
func (m Melt) Draw(r *rand.Rand) Wt {
	w := m.raw
	for o := range w {
		if m.u[o] > 0 {
			w[o] = math.Max(w[o]+m.u[o]*r.NormFloat64(), 0)
		}
		if m.limit[o] > 0 {
			w[o] += m.limit[o] * r.Float64()
		}
	}
	return w.Normalise()
}
