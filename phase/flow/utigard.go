package flow

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// UtigardWarczok1995 is the model of Utigard & Warczok, fitted to slags of
// copper and nickel smelting and converting. Of the ratio of weighted wt%
//
//	VR = (SiO2 + 1.5 Cr2O3 + 1.2 ZrO2 + 1.8 Al2O3) /
//	     (1.2 FeO + 0.5 (Fe2O3 + PbO) + 0.8 MgO + 0.7 CaO + 2.3 (Na2O + K2O) + 0.7 Cu2O)
//
// it forms log η = −0.49 − 5.1 √VR + (−3660 + 12080 √VR)/T, Pa·s. MnO and ZnO
// are absent from the published ratio and get the weight of FeO, our
// convention; AsPublished leaves them out.
type UtigardWarczok1995 struct{ AsPublished bool }

var (
	utigardAcids = [slag.NumOxides]float64{slag.SiO2: 1, slag.Cr2O3: 1.5, slag.ZrO2: 1.2, slag.Al2O3: 1.8}
	utigardBases = [slag.NumOxides]float64{slag.FeO: 1.2, slag.Fe2O3: 0.5, slag.PbO: 0.5, slag.MgO: 0.8, slag.CaO: 0.7,
		slag.Na2O: 2.3, slag.K2O: 2.3, slag.Cu2O: 0.7}
)

// The ranges of the model: VR, temperature in °C and, as it is not for
// low-iron slags, wt% FeO with all iron.
const (
	utigardLoVR, utigardHiVR = 0.3, 1.2
	utigardLoC, utigardHiC   = 1150, 1400
	ironRich                 = 25
)

// Key returns "utigard_warczok_1995".
func (UtigardWarczok1995) Key() string { return "utigard_warczok_1995" }

// Name returns authors and year, and says where it is used as published.
func (m UtigardWarczok1995) Name() string {
	if m.AsPublished {
		return "Utigard & Warczok 1995, without MnO and ZnO"
	}
	return "Utigard & Warczok 1995"
}

// Source returns where the model was published.
func (UtigardWarczok1995) Source() string {
	return "Utigard & Warczok 1995, Copper 95, vol. IV, p. 423"
}

// Ratio returns VR of a melt in wt%, NaN where nothing stands below the line.
func (m UtigardWarczok1995) Ratio(w slag.Wt) float64 {
	base := weighted(&utigardBases, &w)
	if !m.AsPublished {
		base += 1.2 * (w[slag.MnO] + w[slag.ZnO])
	}
	if base <= 0 {
		return math.NaN()
	}
	return weighted(&utigardAcids, &w) / base
}

// Law refuses a melt without basic oxides.
func (m UtigardWarczok1995) Law(w slag.Wt) (Law, error) {
	vr := m.Ratio(w)
	if math.IsNaN(vr) {
		return Law{}, fmt.Errorf("%s has no value for a melt without basic oxides: nothing stands below the line of its ratio", m.Name())
	}
	root := math.Sqrt(vr)
	return Law{A: math.Ln10 * (-0.49 - 5.1*root), B: math.Ln10 * (-3660 + 12080*root)}, nil
}

// Range warns outside VR 0.3 to 1.2, 1150 to 1400 °C and below 25 wt% FeO.
func (m UtigardWarczok1995) Range(w slag.Wt, tc float64) (ns source.Notices) {
	if vr := m.Ratio(w); vr < utigardLoVR || vr > utigardHiVR {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s holds for a ratio of acid to basic oxides VR of %.1f to %.1f; this melt has %.2f", m.Name(), utigardLoVR, utigardHiVR, vr)
	}
	if iron := allIron(&w); iron < ironRich {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s is for slags rich in iron (at least %d wt%% FeO); this one holds %.1f wt%%", m.Name(), ironRich, iron)
	}
	if tc < utigardLoC || tc > utigardHiC {
		ns.Add(source.Warning, "VISCOSITY_RANGE", source.Cell{},
			"%s holds from about %d to %d °C; %.0f °C is outside", m.Name(), utigardLoC, utigardHiC, tc)
	}
	return ns
}
