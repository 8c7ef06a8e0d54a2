package chem

import (
	"fmt"
	"math"
	"slices"
	"strings"
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
// Where an element is given in several ways one stands for it (see Counts)
// and the others are left out. The iron part is called "FeO" or "Fe2O3".
func (c Composition) AsOxides(iron Iron) Composition {
	out := Composition{}
	for _, p := range c.Parts {
		a := analyte(p.ID)
		switch a.Kind {
		case Oxide, OxideTotal, Element:
			oxide := majorOxide[a.Element]
			if a.Element == "Fe" || oxide != "" && !slices.Contains(c.forms(a.Element), p.ID) {
				continue
			}
			if oxide != "" {
				p = convert(p, oxide)
			}
		}
		out.Parts = append(out.Parts, p)
	}
	if total, ok := c.TotalIron(iron); ok {
		out.Parts = append(out.Parts, Part{ID: string(iron), Quantity: total})
	}
	out.sort()
	return out
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
// left out of every basis but Reported. Where no LOI is stated, the water and
// carbon dioxide that are stated stand for it. A negative LOI (a gain, from
// oxidation of iron during ignition) says nothing about volatiles and is not
// used to rescale.
func (c Composition) On(b Basis) (Composition, error) {
	switch b {
	case Reported:
		return c, nil
	case LOIFree:
		return c.ignitedFree()
	case Normalised:
		return c.Solids().normalised()
	}
	return Composition{}, fmt.Errorf("unknown basis %q; use reported, loi_free or normalised", b)
}

// isVolatile reports whether a part leaves the sample on ignition.
func isVolatile(a *Analyte) bool {
	return a.Kind == Ignition || a.Kind == Volatile || a.Kind == Element && a.Element == "C"
}

// Solids returns the parts that count and are not volatile.
func (c Composition) Solids() Composition {
	out := Composition{}
	for _, p := range c.Parts {
		if c.Counts(p.ID) && !isVolatile(analyte(p.ID)) {
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

// ignitedFree scales the solids by 100/(100 − L). With independent errors
//
//	u²(x') = (100/(100 − L))² · [ u²(x) + (x/(100 − L))² u²(L) ].
func (c Composition) ignitedFree() (Composition, error) {
	var loss, u2 float64
	for _, p := range c.Parts {
		if a := analyte(p.ID); isVolatile(a) && p.ID != "GOI" && c.Counts(p.ID) && p.Known() {
			loss += p.Value
			if p.HasU() {
				u2 += p.U * p.U
			}
		}
	}
	loss = max(loss, 0)
	if loss >= 100 {
		return Composition{}, fmt.Errorf("LOI of %g wt%% leaves nothing to state", loss)
	}
	raw := c.Solids()
	out := raw.scaled(100 / (100 - loss))
	for i := range out.Parts {
		if p := &out.Parts[i]; p.HasU() && loss > 0 {
			x := raw.Parts[i]
			p.U = 100 / (100 - loss) * math.Hypot(x.U, x.Value/(100-loss)*math.Sqrt(u2))
		}
	}
	return out, nil
}

// normalised scales the parts to sum to 100. With independent errors and
// T = Σx the uncertainty of a part p = 100 x/T is
//
//	u²(pᵢ) = (100/T)² · [ (1 − xᵢ/T)² uᵢ² + (xᵢ/T)² Σ_{j≠i} uⱼ² ].
//
// Parts without uncertainty enter as exact, and the note says so.
func (c Composition) normalised() (Composition, error) {
	var total, u2 float64
	var exact []string
	for _, p := range c.Parts {
		if !p.Known() {
			continue
		}
		total += p.Value
		if p.HasU() {
			u2 += p.U * p.U
		} else if p.Value > 0 {
			exact = append(exact, p.ID)
		}
	}
	if total <= 0 {
		return Composition{}, fmt.Errorf("there is nothing to normalise: no part above zero")
	}
	out := c.scaled(100 / total)
	for i := range out.Parts {
		p, raw := &out.Parts[i], c.Parts[i]
		if !raw.HasU() {
			continue
		}
		share := raw.Value / total
		own, others := raw.U*raw.U, max(u2-raw.U*raw.U, 0)
		p.U = 100 / total * math.Sqrt((1-share)*(1-share)*own+share*share*others)
		if len(exact) > 0 {
			p.UNote = strings.TrimSpace(p.UNote + "; in normalising, " + strings.Join(exact, ", ") + " counted as exact")
		}
	}
	return out, nil
}
