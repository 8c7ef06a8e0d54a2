package chem

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
)

// Iron is the form in which all iron of a composition is stated.
type Iron string

const (
	AsFeO   Iron = "FeO"   // reduced slags
	AsFe2O3 Iron = "Fe2O3" // ores, clays, fired lining
)

// Basis says what a composition's percentages are percentages of.
type Basis string

const (
	Reported   Basis = "reported"   // as the laboratory gave them, as oxides
	LOIFree    Basis = "loi_free"   // without the ignition loss: x·100/(100 − LOI)
	Normalised Basis = "normalised" // non-volatile parts summing to 100
)

// majorOxide names the oxide in which the major elements are stated.
var majorOxide = map[string]string{
	"Si": "SiO2", "Ti": "TiO2", "Al": "Al2O3", "Mn": "MnO", "Mg": "MgO",
	"Ca": "CaO", "Na": "Na2O", "K": "K2O", "P": "P2O5",
}

// AsOxides states the major elements as oxides and all iron in one form.
// Copper, sulphur and the trace elements stay as the laboratory gave them.
// Where an element is given both as element and as oxide the oxide is kept.
// The iron part is called "FeO" or "Fe2O3"; a stated total is preferred to the
// sum of ferrous and ferric iron, and that to the element.
func (c Composition) AsOxides(iron Iron) Composition {
	out := Composition{}
	for _, p := range c.Parts {
		a, _ := LookupAnalyte(p.ID)
		if a.Element == "Fe" && a.Kind != Metal && a.Kind != Species {
			continue
		}
		oxide := majorOxide[a.Element]
		if a.Kind == Element && oxide != "" {
			if c.hasOxideOf(a.Element) {
				continue
			}
			p = convert(p, oxide)
		}
		if (a.ID == "Mn3O4" || a.ID == "MnO2") && !c.has("MnO") {
			p = convert(p, "MnO")
		}
		out.Parts = append(out.Parts, p)
	}
	if total, ok := c.TotalIron(iron); ok {
		out.Parts = append(out.Parts, Part{ID: string(iron), Quantity: total})
	}
	out.sort()
	return out
}

// TotalIron returns all iron stated as the given oxide; ok is false where the
// composition says nothing about iron.
func (c Composition) TotalIron(iron Iron) (q quantity.Quantity, ok bool) {
	for _, id := range []string{"FeOT", "Fe2O3T"} {
		if q, ok := c.Get(id); ok {
			return convert(Part{id, q}, string(iron)).Quantity, true
		}
	}
	ferrous, hasFerrous := c.Get("FeO")
	ferric, hasFerric := c.Get("Fe2O3")
	switch {
	case hasFerrous && hasFerric:
		a := convert(Part{"FeO", ferrous}, string(iron)).Quantity
		b := convert(Part{"Fe2O3", ferric}, string(iron)).Quantity
		if !a.Known() {
			return b, true
		}
		if !b.Known() {
			return a, true
		}
		sum := quantity.WithU(a.Value+b.Value, math.Hypot(a.U, b.U), "wt%", "ferrous and ferric iron combined")
		sum.From = append(append(sum.From, a.From...), b.From...)
		return sum, true
	case hasFerrous:
		return convert(Part{"FeO", ferrous}, string(iron)).Quantity, true
	case hasFerric:
		return convert(Part{"Fe2O3", ferric}, string(iron)).Quantity, true
	}
	if q, ok := c.Get("Fe"); ok {
		return convert(Part{"Fe", q}, string(iron)).Quantity, true
	}
	return quantity.Quantity{}, false
}

// convert restates a part; both analytes are known to share their element.
func convert(p Part, to string) Part {
	f, err := Factor(p.ID, to)
	if err != nil {
		panic(fmt.Sprintf("chem: %v", err))
	}
	return Part{ID: to, Quantity: p.Scale(f, "wt%")}
}

// On returns the composition on the given basis. LOI and other volatiles are
// left out of every basis but Reported. A negative LOI (a gain, from oxidation
// of iron during ignition) says nothing about volatiles and is not used to
// rescale.
func (c Composition) On(b Basis) (Composition, error) {
	switch b {
	case Reported:
		return c, nil
	case LOIFree:
		loi := math.Max(c.Wt("LOI"), 0)
		if loi >= 100 {
			return Composition{}, fmt.Errorf("LOI of %g wt%% leaves nothing to state", loi)
		}
		return c.solids().scaled(100 / (100 - loi)), nil
	case Normalised:
		return c.solids().normalised()
	}
	return Composition{}, fmt.Errorf("unknown basis %q; use reported, loi_free or normalised", b)
}

// solids returns the parts that count and are not volatile.
func (c Composition) solids() Composition {
	out := Composition{}
	for _, p := range c.Parts {
		a, _ := LookupAnalyte(p.ID)
		if c.Counts(p.ID) && a.Kind != Ignition && a.Kind != Volatile {
			out.Parts = append(out.Parts, p)
		}
	}
	return out
}

func (c Composition) scaled(f float64) Composition {
	out := Composition{Parts: make([]Part, len(c.Parts))}
	for i, p := range c.Parts {
		out.Parts[i] = Part{p.ID, p.Scale(f, "wt%")}
	}
	return out
}

// normalised scales the parts to sum to 100. With independent errors and
// T = Σx the uncertainty of a part p = 100 x/T is
//
//	u²(pᵢ) = (100/T)² · [ (1 − xᵢ/T)² uᵢ² + (xᵢ/T)² Σ_{j≠i} uⱼ² ].
func (c Composition) normalised() (Composition, error) {
	var total, u2 float64
	for _, p := range c.Parts {
		if p.Known() {
			total += p.Value
			if !math.IsNaN(p.U) {
				u2 += p.U * p.U
			}
		}
	}
	if total <= 0 {
		return Composition{}, fmt.Errorf("there is nothing to normalise: no part above zero")
	}
	out := c.scaled(100 / total)
	for i := range out.Parts {
		p, raw := &out.Parts[i], c.Parts[i]
		if raw.HasU() {
			share := raw.Value / total
			own, others := raw.U*raw.U, u2-raw.U*raw.U
			p.U = 100 / total * math.Sqrt((1-share)*(1-share)*own+share*share*others)
		}
	}
	return out, nil
}
