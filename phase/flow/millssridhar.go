package flow

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/index"
	"smeltbook/phase/slag"
)

// MillsSridhar1999 is the model of Mills & Sridhar from optical basicity Λ,
// corrected for the balance of charge of alumina (index.CompensatedBasicity):
//
//	η = A·exp(B/T)  (Pa·s)
//	ln A = −232.69 Λ² + 357.32 Λ − 144.17
//	ln(B/1000) = −1.77 + 2.88/Λ
type MillsSridhar1999 struct{}

// The range of corrected optical basicity.
const millsLo, millsHi = 0.55, 0.75

// Key returns "mills_sridhar_1999".
func (MillsSridhar1999) Key() string { return "mills_sridhar_1999" }

// Name returns authors and year.
func (MillsSridhar1999) Name() string { return "Mills & Sridhar 1999" }

// Source returns where the model was published.
func (MillsSridhar1999) Source() string {
	return "Mills & Sridhar 1999, Ironmaking Steelmaking 26:262"
}

// Law refuses a melt without an optical basicity.
func (m MillsSridhar1999) Law(w slag.Wt) (Law, error) {
	l := index.CompensatedBasicity(w.Mol())
	if !(l > 0) {
		return Law{}, fmt.Errorf("%s has no value for this melt: no optical basicity can be formed", m.Name())
	}
	return Law{A: -232.69*l*l + 357.32*l - 144.17, B: 1000 * math.Exp(-1.77+2.88/l)}, nil
}

// Range warns outside a corrected optical basicity of 0.55 to 0.75.
func (m MillsSridhar1999) Range(w slag.Wt, _ float64) (ns source.Notices) {
	if l := index.CompensatedBasicity(w.Mol()); l < millsLo || l > millsHi {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s holds for a corrected optical basicity of about %.2f to %.2f; this melt has %.3f", m.Name(), millsLo, millsHi, l)
	}
	return ns
}
