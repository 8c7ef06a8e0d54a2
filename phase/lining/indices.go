package lining

import (
	"fmt"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Value is one index of one clay.
type Value struct {
	Key      string // stable name, "flux_sum"
	Label    string // for people
	Quantity quantity.Quantity
	Source   string
	Notices  source.Notices
}

const (
	commonPractice = "common practice"
	maniatisTite   = "Maniatis & Tite 1981, J. Archaeol. Sci. 8:59"
	schuenSource   = "Schuen's formula for fireclays, from memory"
	bischofSource  = "Bischof's refractory quotient, from memory"
)

// CalcareousLimit is the wt% of CaO above which a clay counts as calcareous
// (Maniatis & Tite 1981). Another teaching source draws the line at 5 %.
const CalcareousLimit = 6.0

// Settings hold what authors differ over.
type Settings struct {
	CalcareousLimit float64 // wt% CaO; 0: CalcareousLimit
}

func (s Settings) limit() float64 {
	if s.CalcareousLimit > 0 {
		return s.CalcareousLimit
	}
	return CalcareousLimit
}

var definitions = [...]struct {
	key, label, unit, source string
	of                       func(*wt) float64
}{
	{"flux_sum", "fluxes CaO+MgO+FeO+MnO+Na2O+K2O+BaO", "wt%", commonPractice, func(w *wt) float64 { return w.flux() }},
	{"alkali_sum", "alkalis Na2O+K2O", "wt%", commonPractice, alkalis},
	{"alkali_flux", "alkalis in the fluxes", "1", commonPractice, func(w *wt) float64 { return alkalis(w) / w.flux() }},
	{"al2o3_flux", "Al2O3/fluxes", "1", commonPractice, func(w *wt) float64 { return w[alumina] / w.flux() }},
	{"sio2_al2o3", "SiO2/Al2O3", "1", commonPractice, func(w *wt) float64 { return w[silica] / w[alumina] }},
	{"k2o_al2o3", "K2O/Al2O3", "1", commonPractice, func(w *wt) float64 { return w[potash] / w[alumina] }},
	{"tio2_al2o3", "TiO2/Al2O3", "1", commonPractice, func(w *wt) float64 { return w[titania] / w[alumina] }},
	{"schuen_c", "refractoriness after Schuen", "°C", schuenSource, schuen},
	{"bischof_quotient", "refractory quotient after Bischof", "1", bischofSource, bischof},
}

func alkalis(w *wt) float64 { return w[soda] + w[potash] }

// schuenTerms returns Al2O3 and the fluxes with TiO2, each for Al2O3 + SiO2 = 100.
func schuenTerms(w *wt) (a, r float64) {
	f := 100 / (w[alumina] + w[silica])
	return w[alumina] * f, (w.flux() + w[titania]) * f
}

func schuen(w *wt) float64 {
	a, r := schuenTerms(w)
	return (360 + a - r) / 0.228
}

// bischof is (O in Al2O3)² / ((O in RO + R2O)·(O in SiO2)), all iron as FeO.
func bischof(w *wt) float64 {
	var bases float64
	for _, o := range [...]oxide{ferrous, manganous, magnesia, lime, baryta, soda, potash} {
		bases += w.oxygenIn(o)
	}
	a := w.oxygenIn(alumina)
	return a * a / (bases * w.oxygenIn(silica))
}

// Table returns the indices of a clay from its analysis (wt%, as given) in a
// fixed order, each with the uncertainty of the analysis:
//
//	F = CaO + MgO + FeO_t + MnO + Na2O + K2O + BaO, alkalis, alkalis/F, Al2O3/F,
//	SiO2/Al2O3, K2O/Al2O3, TiO2/Al2O3
//	Schuen:  T(°C) = (360 + A − R)/0.228, A = Al2O3 and R = F + TiO2 for Al2O3 + SiO2 = 100
//	Bischof: (O in Al2O3)² / [(O in RO + R2O)·(O in SiO2)]; fireclays have about 5 and more
//
// Schuen's is the temperature at which a test cone deforms in air; he meant
// fireclays with A from 15 to 50 and R below 6.
func Table(c chem.Composition) ([]Value, error) {
	k, err := clayOf(c)
	if err != nil {
		return nil, err
	}
	out := make([]Value, len(definitions))
	for i, d := range definitions {
		v := Value{Key: d.key, Label: d.label, Source: d.source, Quantity: k.value(d.of, d.unit)}
		if !v.Quantity.Known() {
			v.Notices.Add(source.Warning, "LINING_UNDEFINED", source.Cell{}, "%s cannot be formed: the clay holds no fluxes", d.label)
		}
		if i == 0 && len(k.absent)+len(k.below) > 0 {
			v.Notices.Add(source.Note, "LINING_PARTS_AS_ZERO", source.Cell{},
				"not analysed or below the limit, counted as zero: %s", strings.Join(append(k.absent, k.below...), ", "))
		}
		if d.key == "schuen_c" {
			checkSchuen(&k, &v.Notices)
		}
		out[i] = v
	}
	return out, nil
}

// Index names an index of a clay.
type Index struct{ Key, Label, Unit string }

// Indices lists what Table returns, in its order.
func Indices() []Index {
	var out []Index
	for _, d := range definitions {
		out = append(out, Index{d.key, d.label, d.unit})
	}
	return out
}

func checkSchuen(k *clay, ns *source.Notices) {
	a, r := schuenTerms(&k.wt)
	if a < 15 || a > 50 || r >= 6 {
		ns.Add(source.Warning, "SCHUEN_RANGE", source.Cell{},
			"Schuen's formula is for fireclays (A from 15 to 50, R below 6); this clay has A %.1f and R %.1f", a, r)
	}
	if r > 10 {
		ns.Add(source.Warning, "SCHUEN_CHARCOAL", source.Cell{},
			"the formula is for a cone in air; so rich in fluxes (R %.0f), and under charcoal with slag on it, a lining fails 200 to 400 °C lower", r)
	}
}

// Calcareous says whether a clay is calcareous, with the wt% of CaO it goes by.
// A notice tells where the authors' limits of 5 and 6 % would differ, or the
// uncertainty reaches across.
func Calcareous(c chem.Composition, s Settings) (bool, source.Notices, error) {
	cao, _ := c.AsOxides(chem.AsFeO).Get("CaO")
	var ns source.Notices
	lo, hi := cao.Bounds()
	if !(hi >= 0) {
		return false, nil, fmt.Errorf("the CaO of the clay is not known, so it cannot be called calcareous or not")
	}
	if !cao.Known() { // below a limit
		if hi <= s.limit() {
			return false, nil, nil
		}
		return false, nil, fmt.Errorf("CaO is below %.3g wt%%, which does not tell whether it is below %.3g", hi, s.limit())
	}
	yes := lo > s.limit()
	if lo > 5 && lo <= 6 {
		ns.Add(source.Note, "CALCAREOUS_LIMIT", source.Cell{},
			"with %.1f wt%% CaO the clay is calcareous by a limit of 5 %% but not by one of 6 %%; the limit here is %.3g %%", lo, s.limit())
	}
	if d := lo - s.limit(); cao.HasU() && d*d < 4*cao.U*cao.U {
		ns.Add(source.Note, "CALCAREOUS_UNSURE", source.Cell{},
			"%s wt%% CaO lie so near the limit of %.3g %% that the clay may be of the other kind", cao.Text(), s.limit())
	}
	return yes, ns, nil
}
