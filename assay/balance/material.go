package balance

import (
	"fmt"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
)

// Material is something that goes into a furnace, by weight and analysis: ore,
// flux or sand that is charged, the ash of the fuel, the lining that melts.
type Material struct {
	Name        string            // "OV-ORE-HP"
	Kind        string            // "ore", "flux", "ash", "lining", "sand"
	Mass        quantity.Quantity // kg as weighed, above or equal to zero
	Moisture    quantity.Quantity // wt% of it lost on drying; not known counts as none
	Composition chem.Composition  // of the dried material, wt%, as the laboratory gave it
}

func (m Material) check() error {
	switch {
	case !m.Mass.Known() || m.Mass.Value < 0:
		return fmt.Errorf("the weight of %s is not known (%s kg); weigh it", m.Name, m.Mass.Text())
	case m.Moisture.Known() && (m.Moisture.Value < 0 || m.Moisture.Value >= 100):
		return fmt.Errorf("%s wt%% moisture in %s is impossible", m.Moisture.Text(), m.Name)
	case len(m.Composition.Elements()) == 0:
		return fmt.Errorf("%s has no analysis; analyse it, or take that of a like material and say so", m.Name)
	}
	return nil
}

// Dry returns the weight in kg without moisture.
func (m Material) Dry() quantity.Quantity {
	if !m.Moisture.Known() {
		return m.Mass
	}
	rest := quantity.Difference(quantity.WithU(1, 0, "1", ""), m.Moisture.Scale(0.01, "1"))
	return quantity.Product(m.Mass, rest, "kg")
}

// Behaviour is what a forecast takes the furnace to do with a charge. None of
// it follows from stoichiometry: it comes from earlier firings of the same
// furnace, or is an assumption that has to be shown.
type Behaviour struct {
	CopperInSlag quantity.Quantity // wt% Cu of the slag in all forms, prills included
	SulphurKept  quantity.Quantity // share of the sulphur that stays in slag and matte, 0 to 1; the rest burns
	SlagSulphur  quantity.Quantity // wt% S that the slag dissolves before there is matte
	AlkalisKept  quantity.Quantity // share of Na2O and K2O that stays in the slag, 0 to 1
	IronToMetal  quantity.Quantity // share of the iron that is reduced into the copper, 0 to 1
	Draws        int               // of the Monte Carlo; 400 where 0
	Seed         uint64
}

// Usual returns the behaviour assumed where nothing better is known, with its
// standard uncertainties. The copper of the slag is that of small-site slags
// (averages of 0.7 and 1.7 wt% CuO at two sites, range 0.3 to 3.0, Wątroba
// 2012, MSc dissertation, UCL), and its sulphur that of the same slags, up to
// 0.5 wt% SO3. That alkalis and sulphur leave in part is known
// (Misra et al. 1993 of ash); the shares are our assumption.
func Usual() Behaviour {
	const ours = "assumed"
	return Behaviour{
		CopperInSlag: quantity.WithU(1.0, 0.5, "wt%", "small-site slags, Wątroba 2012"),
		SulphurKept:  quantity.WithU(0.9, 0.1, "1", ours),
		SlagSulphur:  quantity.WithU(0.1, 0.05, "wt%", "small-site slags, Wątroba 2012"),
		AlkalisKept:  quantity.WithU(0.7, 0.15, "1", ours),
		IronToMetal:  quantity.WithU(0, 0, "1", ours),
		Draws:        defaultDraws, Seed: 1,
	}
}

const defaultDraws = 400

func (h Behaviour) check() error {
	for _, x := range []struct {
		what string
		q    quantity.Quantity
		most float64
	}{
		{"copper of the slag", h.CopperInSlag, 60}, {"share of sulphur kept", h.SulphurKept, 1}, {"sulphur of the slag", h.SlagSulphur, 10},
		{"share of alkalis kept", h.AlkalisKept, 1}, {"share of iron reduced to metal", h.IronToMetal, 1},
	} {
		if x.q.Unit == "" {
			return fmt.Errorf("the %s is not stated; begin with what is usual", x.what)
		}
		if !x.q.Known() || x.q.Value < 0 || x.q.Value > x.most {
			return fmt.Errorf("the %s (%s) should be from 0 to %g", x.what, x.q.Text(), x.most)
		}
	}
	return nil
}
