package melt

import (
	"fmt"
	"strconv"
	"strings"

	"smeltbook/phase/slag"
)

// component numbers the one-cation units of the liquid: SiO2, FeO, CaO,
// AlO1.5, MgO, MnO, KO0.5.
type component int

const (
	si component = iota
	fe
	ca
	al
	mg
	mn
	k
	numComponents
)

var componentNames = [numComponents]string{"Si", "Fe", "Ca", "Al", "Mg", "Mn", "K"}

func (c component) String() string { return componentNames[c] }

// charge of the cations; their coordination weight is 0.6887·charge/2, so that
// the entropy of mixing vanishes at full order at M2SiO4.
var charge = [numComponents]float64{4, 2, 2, 3, 2, 2, 1}

const weightPerPair = 0.6887

// vector holds one number for each component.
type vector [numComponents]float64

// modelledOxide is an oxide that enters the liquid, with its cation and the
// number of it in the formula.
type modelledOxide struct {
	oxide   slag.Oxide
	cation  component
	cations float64
}

// modelled lists the oxides of the liquid. Sodium counts as potassium, mole
// for mole.
var modelled = []modelledOxide{
	{slag.SiO2, si, 1}, {slag.FeO, fe, 1}, {slag.CaO, ca, 1}, {slag.Al2O3, al, 2},
	{slag.MgO, mg, 1}, {slag.MnO, mn, 1}, {slag.K2O, k, 2}, {slag.Na2O, k, 2},
}

// cationFractions returns the mole fractions of the one-cation units of w,
// whose iron is all FeO; ok is false where w holds no modelled oxide.
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
