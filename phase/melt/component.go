package melt

import (
	"fmt"
	"strconv"
	"strings"

	"smeltbook/phase/slag"
)

// component numbers the one-cation units of the liquid: SiO2, FeO, CaO,
// AlO1.5, MgO, MnO, KO0.5, NaO0.5, FeO1.5, ZnO, TiO2, PO2.5.
type component int

const (
	si component = iota
	fe
	ca
	al
	mg
	mn
	k
	na
	f3
	zn
	ti
	ph
	numComponents
)

// The associates of the liquid, tetrahedral aluminate with the cation that
// makes up for its charge: KAlO2, NaAlO2, Ca½AlO2. They are made of the
// components and count beside them in the pair equations alone.
const (
	kal component = numComponents + iota
	naal
	caal
	numSpecies
)

var componentNames = [numSpecies]string{"Si", "Fe", "Ca", "Al", "Mg", "Mn", "K", "Na", "F3", "Zn", "Ti", "P", "KAl", "NaAl", "CaAl"}

func (c component) String() string { return componentNames[c] }

// charge of the cations; their coordination weight is 0.6887·charge/2, so that
// the entropy of mixing vanishes at full order at M2SiO4.
var charge = [numSpecies]float64{4, 2, 2, 3, 2, 2, 1, 1, 3, 2, 4, 5, 4, 4, 4}

const weightPerPair = 0.6887

// vector holds one number for each component, and for each associate where the
// pair equations are concerned; elsewhere those are zero.
type vector [numSpecies]float64

// modelledOxide is an oxide that enters the liquid, with its cation and the
// number of it in the formula.
type modelledOxide struct {
	oxide   slag.Oxide
	cation  component
	cations float64
}

// modelled lists the oxides of the liquid.
var modelled = []modelledOxide{
	{slag.SiO2, si, 1}, {slag.FeO, fe, 1}, {slag.CaO, ca, 1}, {slag.Al2O3, al, 2},
	{slag.MgO, mg, 1}, {slag.MnO, mn, 1}, {slag.K2O, k, 2}, {slag.Na2O, na, 2},
	{slag.Fe2O3, f3, 2}, {slag.ZnO, zn, 1}, {slag.TiO2, ti, 1}, {slag.P2O5, ph, 2},
}

// cationFractions returns the mole fractions of the one-cation units of w,
// whose iron has been restated; ok is false where w holds no modelled oxide.
func cationFractions(w slag.Wt) (x vector, ok bool) {
	var total float64
	for _, m := range modelled {
		n := w[m.oxide] * m.cations / m.oxide.Mass()
		x[m.cation] += n
		total += n
	}
	if total <= 0 {
		return vector{}, false
	}
	var kept float64
	for i := range x {
		x[i] /= total
		if x[i] < traceFraction {
			x[i] = 0
		}
		kept += x[i]
	}
	for i := range x {
		x[i] /= kept
	}
	return x, true
}

// traceFraction is the mole fraction below which a component is left out.
const traceFraction = 1e-7

// restated returns w with its iron in the forms that the model takes: ferrous
// and ferric apart, as analysed. Where all iron is stated as Fe2O3, as a report
// of X-ray fluorescence does, it is a total and counts as FeO.
func restated(w slag.Wt) slag.Wt {
	if w[slag.FeO] == 0 {
		return w.AllFeO()
	}
	return w
}

// restated does the same for the oxides that the parameters of m cover: without
// magnetite among them all iron is FeO.
func (m *Model) restated(w slag.Wt) slag.Wt {
	if !m.ferric {
		return w.AllFeO()
	}
	return restated(w)
}

func parseComponent(name string) (component, error) {
	for c, n := range componentNames {
		if n == name {
			return component(c), nil
		}
	}
	return 0, fmt.Errorf("no component %q", name)
}

// parseCations reads "1 Si+2 Fe".
func parseCations(text string) (f vector, err error) {
	for _, part := range strings.Split(text, "+") {
		number, name, ok := strings.Cut(strings.TrimSpace(part), " ")
		if !ok {
			return f, fmt.Errorf("%q is not of the form 2 Fe", part)
		}
		c, err := parseComponent(name)
		if err != nil {
			return f, err
		}
		if f[c], err = strconv.ParseFloat(number, 64); err != nil {
			return f, err
		}
	}
	return f, nil
}
