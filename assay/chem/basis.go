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
// and the others are left out. The iron part is called "FeO" or "Fe2O3";
// metallic iron is taken out of a total and stands beside it as "Fe_met".
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
		total, apart := c.metalApart(total, iron)
		if !apart {
			out = out.Without("Fe_met")
		}
		out.Parts = append(out.Parts, Part{ID: string(iron), Quantity: total})
	}
	out.sort()
	return out
}

// CopperAs states all copper in one form, Cu, CuO or Cu2O; copper that was
// given in two oxides is added up.
func (c Composition) CopperAs(form string) Composition {
	all, ok := c.OfElement("Cu")
	if !ok {
		return c
	}
	all = convert(Part{"Cu", all}, form).Quantity
	if forms := c.forms("Cu"); len(forms) == 1 && forms[0] == form {
		all, _ = c.Get(form) // as it was, to the last bit
	}
	out := Composition{}
	for _, p := range c.Parts {
		if a := analyte(p.ID); a.Element != "Cu" || a.Kind != Oxide && a.Kind != Element {
			out.Parts = append(out.Parts, p)
		}
	}
	out.Parts = append(out.Parts, Part{form, all})
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
func (c Composition) On(b Basis) (Composition, error) { return c.OnCounting(b, 0) }

// OnCounting is On with parts below a limit counted in the sum that is brought
// to 100 as the given share of their limit, from 0 to 1. They themselves stay
// below their limit, which is scaled.
func (c Composition) OnCounting(b Basis, share float64) (Composition, error) {
	switch b {
	case Reported:
		return c, nil
	case LOIFree:
		return c.ignitedFree()
	case Normalised:
		return c.Solids().normalised(share)
	}
	return Composition{}, fmt.Errorf("unknown basis %q; use reported, loi_free or normalised", b)
}

// isVolatile reports whether a part leaves the sample on ignition.
func isVolatile(a *Analyte) bool {
	return a.Kind == Ignition || a.Kind == Volatile || a.Kind == Element && a.Element == "C"
}

// Solids returns the parts that count and are not volatile.
func (c Composition) Solids() Composition {
	var keep []int
	for i, p := range c.Parts {
		if c.Counts(p.ID) && !isVolatile(analyte(p.ID)) {
			keep = append(keep, i)
		}
	}
	return c.pick(keep)
}

func (c Composition) scaled(f float64) Composition {
	out := Composition{Parts: make([]Part, len(c.Parts))}
	for i, p := range c.Parts {
		out.Parts[i] = Part{p.ID, p.Scale(f, "wt%")}
	}
	if c.cov != nil {
		out.cov = c.Covariance()
		for _, row := range out.cov {
			for j := range row {
				row[j] *= f * f
			}
		}
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
	if loss == 0 {
		return raw, nil
	}
	f := 100 / (100 - loss)
	out := raw.scaled(f)
	out.cov = out.Covariance()
	for i, p := range raw.Parts {
		for j, q := range raw.Parts {
			if p.HasU() && q.HasU() {
				out.cov[i][j] += f * f * p.Value / (100 - loss) * q.Value / (100 - loss) * u2
			}
		}
		if p.HasU() {
			out.Parts[i].U = math.Sqrt(out.cov[i][i])
		}
	}
	return out, nil
}

// normalised scales the parts to sum to 100; their uncertainties follow from
// the covariance of the parts (see closed). Parts without uncertainty enter as
// exact, and the note says so. A part below a limit enters the sum with the
// given share of its limit, with the uncertainty of an even chance from zero
// to the limit.
func (c Composition) normalised(share float64) (Composition, error) {
	var total float64
	var exact []string
	x := make([]float64, len(c.Parts))
	cov := c.Covariance()
	for i, p := range c.Parts {
		if !p.Known() {
			if _, hi := p.Bounds(); hi > 0 && !math.IsInf(hi, 0) {
				total += share * hi
				cov[i][i] = share * hi * hi / 12
			}
			continue
		}
		x[i] = p.Value
		total += p.Value
		if !p.HasU() && p.Value > 0 {
			exact = append(exact, p.ID)
		}
	}
	if total <= 0 {
		return Composition{}, fmt.Errorf("there is nothing to normalise: no part above zero")
	}
	out := c.scaled(100 / total)
	out.cov = closed(x, cov, total)
	for i := range out.Parts {
		p := &out.Parts[i]
		if !c.Parts[i].HasU() {
			continue
		}
		p.U = math.Sqrt(out.cov[i][i])
		if len(exact) > 0 {
			p.UNote = strings.TrimSpace(p.UNote + "; in normalising, " + strings.Join(exact, ", ") + " counted as exact")
		}
	}
	return out, nil
}
