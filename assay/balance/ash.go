package balance

import (
	"fmt"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Ash is the composition of the ash of a fuel.
type Ash struct {
	Name        string
	Composition chem.Composition
	Source      string
	Verified    bool
}

// ExampleAshes returns ashes of wood as Vassilev et al. 2010 give them, from
// memory and not verified: they serve where nothing better is known, and an
// analysis of one's own ash is far better.
func ExampleAshes() []Ash {
	const vassilev = "Vassilev et al. 2010, Fuel 89:913, from memory, not verified"
	var out []Ash
	for _, a := range [...]struct{ name, text string }{
		{"beech bark", "SiO2=12.4 CaO=68.2 K2O=2.6 P2O5=2.3 Al2O3=0.1 MgO=11.5 Fe2O3=1.1"},
		{"poplar", "SiO2=3.9 CaO=57.3 K2O=18.7 P2O5=0.9 Al2O3=0.7 MgO=13.1 Fe2O3=1.2"},
		{"pine bark", "SiO2=9.2 CaO=56.8 K2O=7.8 P2O5=5.0 Al2O3=7.2 MgO=6.2 Fe2O3=2.8"},
	} {
		c, err := chem.ParseComposition(a.text)
		if err != nil {
			panic(fmt.Sprintf("balance: %v", err)) // a constant of this file
		}
		out = append(out, Ash{Name: a.name, Composition: c, Source: vassilev})
	}
	return out
}

// charcoalAsh is the usual share of ash in charcoal.
const charcoalAshLo, charcoalAshHi = 0.015, 0.05

// AshPart is what one part of the ash brings.
type AshPart struct {
	ID string            // analyte, "CaO"
	Kg quantity.Quantity // an upper bound for K2O, Na2O and sulphur, which leave with the gas
}

// AshInput is what the ash of the fuel brings to a furnace.
type AshInput struct {
	Ash     quantity.Quantity // kg
	Parts   []AshPart
	Notices source.Notices
}

// FromFuel returns the ash of a mass of charcoal (kg) with a share of ash (0
// to 1) and what each oxide of it comes to:
//
//	kg of ash = kg of charcoal × share,  kg of oxide = kg of ash × wt%/100
//
// It fails on values that are not known or impossible.
func FromFuel(charcoal, share quantity.Quantity, ash Ash) (AshInput, error) {
	switch {
	case !charcoal.Known() || !(charcoal.Value >= 0):
		return AshInput{}, fmt.Errorf("the charcoal burnt is not known (%s kg)", charcoal.Text())
	case !share.Known() || !(share.Value >= 0) || share.Value > 1:
		return AshInput{}, fmt.Errorf("a share of ash of %s is impossible; give one from 0 to 1, 0.03 for 3 %%", share.Text())
	case len(ash.Composition.Parts) == 0:
		return AshInput{}, fmt.Errorf("the composition of the ash is not known; analyse it or take an example")
	}
	out := AshInput{Ash: quantity.Product(charcoal, share, "kg")}
	if share.Value < charcoalAshLo || share.Value > charcoalAshHi {
		out.Notices.Add(source.Note, "ASH_SHARE_UNUSUAL", source.Cell{},
			"charcoal holds mostly %.1f to %.0f %% ash; %.1f %% is unusual", 100*charcoalAshLo, 100*charcoalAshHi, 100*share.Value)
	}
	if !ash.Verified {
		out.Notices.Add(source.Warning, "ASH_UNVERIFIED", source.Cell{},
			"the ash of %s is an example (%s); an analysis of the ash itself is far better", ash.Name, ash.Source)
	}
	volatile := false
	for _, p := range ash.Composition.Parts {
		if !ash.Composition.Counts(p.ID) || !p.Known() {
			continue
		}
		out.Parts = append(out.Parts, AshPart{p.ID, quantity.Product(out.Ash, p.Scale(0.01, "1"), "kg")})
		if a, _ := chem.LookupAnalyte(p.ID); a.Element == "K" || a.Element == "S" || a.Element == "Na" {
			volatile = true
		}
	}
	if volatile {
		out.Notices.Add(source.Note, "ASH_VOLATILE", source.Cell{},
			"alkalis and sulphur of the ash partly leave with the gas as the furnace gets hotter; what they bring is an upper bound (Misra et al. 1993)")
	}
	return out, nil
}
