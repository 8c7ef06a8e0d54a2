package chem

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// SulphurForm says what sulphur is bound to, and so how much oxygen was counted
// too much where its metal is stated as an oxide.
type SulphurForm string

const (
	Sulphide        SulphurForm = "sulphide"    // in the slag itself and in drops of matte: one S for one O, reckoned as FeS
	Pyrite          SulphurForm = "pyrite"      // FeS2
	Chalcocite      SulphurForm = "chalcocite"  // Cu2S
	Sulphate        SulphurForm = "sulphate"    // stated as SO3, nothing to take off
	SulphurReported SulphurForm = "as_reported" // form not known: as the laboratory gave it, nothing taken off
)

// SulphurForms are all forms in the order in which they are listed.
func SulphurForms() []SulphurForm {
	return []SulphurForm{Sulphide, Pyrite, Chalcocite, Sulphate, SulphurReported}
}

// OxygenPerSulphur returns the wt% of oxygen counted too much for each wt% of
// sulphur, where the metal of a sulphide mineral was stated as an oxide:
//
//	f = (O per metal in the oxide)·(metal per S in the mineral)·Ar(O)/Ar(S)
//
// It is zero where the metal is stated as an element.
func OxygenPerSulphur(mineral, statedAs string) (float64, error) {
	m, err := ParseFormula(mineral)
	if err != nil {
		return 0, err
	}
	o, err := ParseFormula(statedAs)
	if err != nil {
		return 0, err
	}
	for e := range m {
		if e != "S" && m["S"] > 0 && o[e] > 0 {
			return o["O"] / o[e] * m[e] / m["S"] * weightOf("O") / weightOf("S"), nil
		}
	}
	return 0, fmt.Errorf("%s is no sulphide of a metal that %s holds", mineral, statedAs)
}

func weightOf(element string) float64 {
	w, _, _ := AtomicWeight(element)
	return w
}

// OxygenPerHalogen returns the wt% of oxygen that one wt% of F or Cl stands in
// place of, Ar(O)/(2 Ar(X)).
func OxygenPerHalogen(element string) float64 { return weightOf("O") / (2 * weightOf(element)) }

// sulphurOxygen is OxygenPerSulphur for a form in a composition whose iron and
// copper are stated in one way each.
func (c Composition) sulphurOxygen(form SulphurForm) float64 {
	mineral, metals := "FeS", []string{"Fe2O3", "FeO"}
	switch form {
	case Pyrite:
		mineral = "FeS2"
	case Chalcocite:
		mineral, metals = "Cu2S", []string{"CuO", "Cu2O", "Cu"}
	case Sulphide:
	default:
		return 0
	}
	stated := metals[len(metals)-1]
	for _, id := range metals {
		if c.tells(id) {
			stated = id
			break
		}
	}
	f, err := OxygenPerSulphur(mineral, stated)
	if err != nil {
		return 0 // unreachable: all are formulas of the same metal
	}
	return f
}

// WithSulphur states sulphur by its form and takes off the oxygen that was
// counted too much for it and for the halogens: as the parts "O=S" and
// "O=FCl", which are negative and count in the sum. The composition has its
// iron in one form already (see AsOxides). Corrections that the laboratory
// printed are replaced. Sulphur below a limit is restated and has nothing taken
// off.
func (c Composition) WithSulphur(form SulphurForm) Composition {
	out := Composition{}
	to := map[SulphurForm]string{Sulphide: "S", Pyrite: "S", Chalcocite: "S", Sulphate: "SO3"}[form]
	sulphur := c.forms("S")
	for _, p := range c.Parts {
		a := analyte(p.ID)
		switch {
		case a.Kind == Correction:
			continue
		case a.Element == "S" && to != "" && (a.Kind == Oxide || a.Kind == Element):
			if p.ID != sulphur[0] {
				continue // the same sulphur in another form
			}
			p = convert(p, to)
		}
		out.Parts = append(out.Parts, p)
	}
	s, _ := out.Get("S")
	f := out.sulphurOxygen(form)
	if s.Known() && s.Value > 0 && f > 0 {
		out.Parts = append(out.Parts, Part{"O=S", oxygenOf(s, f)})
	}
	fluorine, _ := out.Get("F")
	chlorine, _ := out.Get("Cl")
	if fluorine.Or(0)+chlorine.Or(0) > 0 {
		out.Parts = append(out.Parts, Part{"O=FCl", sumOf(oxygenOf(fluorine, OxygenPerHalogen("F")), oxygenOf(chlorine, OxygenPerHalogen("Cl")))})
	}
	out.sort()
	out = out.tied("O=S", "S", -f)
	out = out.tied("O=FCl", "F", -OxygenPerHalogen("F"))
	return out.tied("O=FCl", "Cl", -OxygenPerHalogen("Cl"))
}

// oxygenOf is the correction that belongs to a part.
func oxygenOf(q quantity.Quantity, f float64) quantity.Quantity {
	out := q.Scale(-f, "wt%")
	out.UNote = fmt.Sprintf("oxygen counted too much, %.5f of what it stands for", f)
	return out
}

// sumOf adds the quantities that hold a number.
func sumOf(a, b quantity.Quantity) quantity.Quantity {
	switch {
	case !a.Known():
		return b
	case !b.Known():
		return a
	}
	a.Value, a.U = a.Value+b.Value, math.Hypot(a.U, b.U)
	a.From = append(append(a.From[:0:0], a.From...), b.From...)
	return a
}

// corrects names the parts whose correction a part is.
var corrects = map[string][]string{"O=S": {"S", "SO3", "S_sulfide"}, "O=FCl": {"F", "Cl"}}
