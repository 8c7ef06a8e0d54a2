package sheet

import (
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/source"
)

// iron settles what a plain "FeO" or "Fe2O3" means: without its partner in the
// table it is all iron stated in that form, since XRF, ICP and AAS see total
// iron only. A heading that says "titrated", "ferrous" or "ferric" is believed.
func (t *tableReader) iron() {
	has := map[string]bool{}
	for _, c := range t.cols {
		if c.Role == RoleAnalyte {
			has[c.Analyte] = true
		}
	}
	partner := map[string]bool{
		"FeO":   has["Fe2O3"] || has["Fe2O3T"] || has["FeOT"] || has["Fe"] || has["Fe3+"],
		"Fe2O3": has["FeO"] || has["Fe2O3T"] || has["FeOT"] || has["Fe2+"],
	}
	for i := range t.cols {
		c := &t.cols[i]
		switch {
		case c.Role != RoleAnalyte:
		case c.Analyte == "GOI":
			c.Analyte = "LOI"
			c.Reason = "gain on ignition, stored as negative LOI"
			t.tally.each(source.Warning, "NEGATIVE_LOI", c.Ref, "a gain on ignition was stored as a loss with the sign turned")
		case (c.Analyte == "FeO" || c.Analyte == "Fe2O3") && !partner[c.Analyte] && !c.head.titrated && !c.head.isStated:
			total, _ := totalForm(c.Analyte)
			t.tally.or(setting{"columns", c.Header, c.Analyte}).each(source.Warning, "IRON_ASSUMED_TOTAL", c.Ref, "%q stands without its partner and was taken as total iron (%s); write %s if it is, or \"%s (titr.)\" if it was titrated", clip(c.Header), total, total, c.Analyte)
			c.Reason = "taken as total iron"
			c.Analyte = total
		}
	}
}

// ironForms compares FeO, Fe2O3 and total iron of one row:
// Fe2O3T = Fe2O3 + 1.11134 FeO. The tolerance is twice the standard
// uncertainty of the difference; where the laboratory states none, 1 % of each
// value is assumed.
func (t *tableReader) ironForms(row Row) {
	fe2, ok2 := row.Value("FeO")
	total, okT := row.Value("Fe2O3T")
	if !okT || !total.Known() {
		if feot, ok := row.Value("FeOT"); ok && feot.Known() {
			f, err := chem.Factor("FeOT", "Fe2O3T")
			if err != nil {
				return
			}
			total, okT = feot, true
			total.Quantity = feot.Scale(f, "wt%")
		}
	}
	if !ok2 || !okT || !fe2.Known() || !total.Known() {
		return
	}
	f, err := chem.Factor("FeO", "Fe2O3")
	if err != nil {
		return
	}
	u := func(v Value) float64 {
		if v.HasU() {
			return v.U
		}
		return 0.01 * math.Abs(v.Value)
	}
	ferric, ok3 := row.Value("Fe2O3")
	variance := u(total)*u(total) + f*f*u(fe2)*u(fe2)
	rest := total.Value - f*fe2.Value
	at := total.From[0].Ref
	if ok3 && ferric.Known() {
		tolerance := 2 * math.Sqrt(variance+u(ferric)*u(ferric))
		if sum := ferric.Value + f*fe2.Value; math.Abs(total.Value-sum) > tolerance {
			t.tally.each(source.Warning, "IRON_INCONSISTENT", at, "sample %q: Fe2O3 and FeO add up to %.2f wt%% as Fe2O3, but total iron is %.2f (tolerance %.2f); check the three results", clip(row.Name), sum, total.Value, tolerance)
		}
		return
	}
	if tolerance := 2 * math.Sqrt(variance); rest < -tolerance {
		t.tally.each(source.Warning, "IRON_INCONSISTENT", at, "sample %q: total iron less FeO leaves %.2f wt%% Fe2O3, which cannot be; check FeO and total iron", clip(row.Name), rest)
	}
}
