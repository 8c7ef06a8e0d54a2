package study

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// FerricShare returns the share of ferric iron in all iron of a sample, 0 to 1
// by atoms, from titrated FeO and total iron:
//
//	1 − FeO/FeO_total
//
// with the two taken as independent. Below zero the titration found more iron
// than the total. ok is false where one of the two is missing, and why says
// which.
func FerricShare(s *assay.Sample) (q quantity.Quantity, why string, ok bool) {
	total, ferrous, why, ok := twoIrons(s)
	if !ok {
		return q, why, false
	}
	from := append(slices.Clone(ferrous.From), total.From...)
	x := 1 - ferrous.Value/total.Value
	if !ferrous.HasU() || !total.HasU() {
		return quantity.New(x, "1", "none: titrated FeO or total iron carries none", from...), "", true
	}
	u := math.Hypot(ferrous.U/total.Value, ferrous.Value*total.U/(total.Value*total.Value))
	return quantity.WithU(x, u, "1", "titrated FeO and total iron, taken as independent", from...), "", true
}

// twoIrons returns total iron as FeO and titrated FeO.
func twoIrons(s *assay.Sample) (total, ferrous quantity.Quantity, why string, ok bool) {
	total, _ = s.AsReported.TotalIron(chem.AsFeO)
	ferrous = s.Ferrous
	switch {
	case !total.Known() || total.Value <= 0:
		return total, ferrous, "total iron is not known", false
	case !ferrous.Known() || len(ferrous.From) == 0 || shared(ferrous, total):
		return total, ferrous, "ferrous iron was not titrated beside total iron", false
	}
	return total, ferrous, "", true
}

// shared reports whether two quantities rest on one cell.
func shared(a, b quantity.Quantity) bool {
	for _, c := range a.From {
		if slices.Contains(b.From, c) {
			return true
		}
	}
	return false
}

// melted is a sample's composition as the melt models take it, with what there
// is to say of its iron.
type melted struct {
	composition chem.Composition
	assumption  string // empty where the iron is a plain total
	notices     source.Notices
}

// falseFeO gives the wt% of FeO that one wt% of copper metal and of sulphide
// sulphur feign in a titration, upper bounds from stoichiometry, and the wt%
// from which they are worth a word (common practice).
const (
	falseByCopper  = 2.261
	falseBySulphur = 4.482
	falseFrom      = 0.5
)

// meltOf tells ferrous and ferric iron of a slag apart where that was
// analysed: both stated, or FeO titrated beside total iron, when ferric iron
// is the difference. Their errors are drawn as independent by the melt models,
// though a difference varies against what is taken from it, so the spread comes
// out somewhat wide. A difference below zero within twice its uncertainty means
// that all iron is ferrous; beyond it one of the two analyses is wrong and the
// total counts as ferrous as without titration.
func meltOf(s *assay.Sample, r assay.Recipe) melted {
	plain := melted{composition: s.AsReported}
	if r.AllFerrous || s.Kind != assay.Slag {
		return plain
	}
	ferrous, ferric := s.Ferrous, s.Ferric
	if !ferrous.Known() || !ferric.Known() {
		total, titrated, _, ok := twoIrons(s)
		if !ok {
			return plain
		}
		two, err := chem.NewComposition(chem.Part{ID: "FeOT", Quantity: total}, chem.Part{ID: "FeO", Quantity: titrated})
		if err != nil {
			return plain
		}
		var known bool
		if ferric, known = two.FerricByDifference(); !known {
			return plain
		}
		plain.assumption = "titrated FeO leaves no ferric iron beside it"
		if ferric.Value <= 0 {
			if outside(ferric, total) {
				plain.assumption = ""
				plain.notices.Add(source.Warning, "FERRIC_BELOW_ZERO", source.Cell{},
					"titrated FeO (%s) exceeds total iron (%s as FeO) by more than twice the uncertainty of both; one of the two is wrong, and all iron counts as ferrous", titrated.WithUnit(), total.WithUnit())
			}
			return plain
		}
	}
	out := melted{composition: restated(s.AsReported, ferrous, ferric), assumption: "ferrous and ferric iron are apart, as analysed"}
	if n, ok := atMost(s, ferrous, ferric); ok {
		out.notices = append(out.notices, n)
	}
	return out
}

// outside reports a difference below zero that its uncertainty does not cover;
// without one, by more than a hundredth of the total.
func outside(ferric, total quantity.Quantity) bool {
	if ferric.HasU() {
		return ferric.Value < -2*ferric.U
	}
	return ferric.Value < -total.Value/100
}

// restated puts FeO and Fe2O3 in the place of total iron.
func restated(c chem.Composition, ferrous, ferric quantity.Quantity) chem.Composition {
	parts := c.Without("FeO", "Fe2O3").Parts
	parts = append(slices.Clone(parts), chem.Part{ID: "FeO", Quantity: ferrous}, chem.Part{ID: "Fe2O3", Quantity: ferric})
	out, err := chem.NewComposition(parts...)
	if err != nil {
		return c
	}
	return out
}

// falseFerrous returns by how much the share of ferrous iron in all iron may be
// too high because copper metal and sulphide were titrated with it, an upper
// bound from stoichiometry. ok is false where the sample has too little of
// either for a word.
func falseFerrous(s *assay.Sample) (share float64, ok bool) {
	total, ferrous, _, known := twoIrons(s)
	feigned := feignedFeO(s, ferrous)
	if !known || feigned == 0 {
		return 0, false
	}
	return feigned / total.Value, true
}

// feignedFeO returns the wt% of titrated FeO that may be copper metal and
// sulphide; zero where there is too little of either for a word.
func feignedFeO(s *assay.Sample, ferrous quantity.Quantity) float64 {
	copper, _ := s.AsReported.Get("Cu")
	sulphur, _ := s.AsReported.Get("S")
	if copper.Or(0) <= falseFrom && sulphur.Or(0) <= falseFrom {
		return 0
	}
	return math.Min(falseByCopper*copper.Or(0)+falseBySulphur*sulphur.Or(0), ferrous.Or(0))
}

// atMost warns where copper metal or sulphide may have been titrated as
// ferrous iron.
func atMost(s *assay.Sample, ferrous, ferric quantity.Quantity) (source.Notice, bool) {
	feigned := feignedFeO(s, ferrous)
	share, err := chem.Factor("FeO", "Fe2O3")
	if err != nil || feigned == 0 {
		return source.Notice{}, false
	}
	return source.Notice{Severity: source.Warning, Code: "FERROUS_MAXIMUM", Message: fmt.Sprintf(
		"titrated FeO is a maximum beside copper and sulphide: Fe2O3 is %.1f wt%% at least and, were all copper metal and all sulphur sulphide, %.1f wt%%; the least was taken", ferric.Value, ferric.Value+share*feigned)}, true
}
