package wetlab

import (
	"math"
	"slices"

	"smeltbook/assay/chem"
)

// culprit is something else in the sample that a method counts with the
// analyte, or that takes some of it away.
type culprit struct {
	of      string  // analyte
	over    float64 // wt% from which it is worth a word
	per     float64 // wt% of the method's base that one wt% of it feigns; 0 where no figure is known, negative where it hides some
	most    bool    // per is the most it can do: only part of the culprit is in the form that disturbs
	maximum bool    // the result is then a maximum
	unless  Key     // a reading that already takes it into account
	how     string
}

// Interference is a culprit that a sample holds.
type Interference struct {
	Culprit string  // analyte
	Wt      float64 // wt% of it in the sample
	Bias    float64 // wt% of the analyte that it may feign, negative where it hides some; NaN where no figure is known
	AtMost  bool    // Bias is an upper bound
	Maximum bool    // the result is a maximum
	How     string
}

// Interferences returns what of a sample's other analyses disturbs a
// determination. known gives the wt% of analytes; elements and oxides of one
// element answer for each other. Elements that were separated or masked, as
// the sheet says, disturb no more.
func (d Determination) Interferences(known map[string]float64) []Interference {
	to, err := d.Method.factorTo(d.Analyte)
	if err != nil {
		return nil
	}
	var out []Interference
	for _, c := range d.Method.culprits {
		wt, ok := wtOf(known, c.of)
		if !ok || wt <= c.over || slices.Contains(d.Separated, elementOf(c.of)) || c.unless != "" && d.has(c.unless) {
			continue
		}
		bias := math.NaN()
		if c.per != 0 {
			bias = wt * c.per * to
		}
		out = append(out, Interference{Culprit: c.of, Wt: wt, Bias: bias, AtMost: c.most, Maximum: c.maximum, How: c.how})
	}
	return out
}

// wtOf finds an analyte among known contents, in its own form or restated from
// another of the same element. A species such as metallic iron is never
// restated.
func wtOf(known map[string]float64, id string) (float64, bool) {
	if wt, ok := known[id]; ok {
		return wt, true
	}
	a, ok := chem.LookupAnalyte(id)
	if !ok || a.Kind == chem.Metal || a.Kind == chem.Species || a.ID == "FeO" {
		return 0, false
	}
	best, found := 0.0, false
	for other, wt := range known {
		b, ok := chem.LookupAnalyte(other)
		if !ok || b.Element != a.Element || b.Kind == chem.Metal || b.Kind == chem.Species {
			continue
		}
		if f, err := chem.Factor(other, id); err == nil && (!found || wt*f > best) {
			best, found = wt*f, true
		}
	}
	return best, found
}

func elementOf(id string) string {
	if a, ok := chem.LookupAnalyte(id); ok && a.Element != "" {
		return a.Element
	}
	return id
}
