package wetlab

import (
	"slices"

	"smeltbook/assay/source"
)

// sane checks the readings that are used, one by one and against each other.
func (r *Result) sane(used []Reading) bool {
	for _, x := range used {
		k := kindOf(x.Key)
		switch {
		case !x.Known():
			r.Notices.Add(source.Error, "BAD_READING", r.where(x.Key), "the %s of %s is no number; correct it", x.Key, r.Determination)
		case x.Value < 0 && x.Key != Intercept && x.Key != SolutionBlank && x.Key != Solution:
			r.Notices.Add(source.Error, "NEGATIVE_READING", r.where(x.Key), "the %s of %s is %g %s; a reading cannot be negative", x.Key, r.Determination, x.Value, x.Unit)
		case x.Value == 0 && !k.zero:
			r.Notices.Add(source.Error, "ZERO_READING", r.where(x.Key), "the %s of %s is zero; correct it, or leave the line out", x.Key, r.Determination)
		}
	}
	if r.Notices.Failed() {
		return false
	}
	v := values{}
	for _, x := range used {
		v[x.Key] = x.Value
	}
	for _, p := range r.Method.above {
		if v.has(p.blank) && v.has(p.reading) && v[p.blank] > v[p.reading] {
			r.Notices.Add(source.Error, "BLANK_ABOVE_READING", r.where(p.blank), "the %s of %s (%g) is larger than its %s (%g); correct one of the two", p.blank, r.Determination, v[p.blank], p.reading, v[p.reading])
		}
	}
	r.saneDilution(v)
	return !r.Notices.Failed()
}

// saneDilution checks flask and aliquot.
func (r *Result) saneDilution(v values) {
	whole := Flask
	if slices.Contains(r.Method.takes, MadeUpTo) {
		whole = MadeUpTo
	}
	switch {
	case v.has(Dilution) && v.has(Aliquot):
		r.Notices.Add(source.Error, "DILUTION_TWICE", r.where(Dilution), "%s has both a dilution and an aliquot; give one of the two", r.Determination)
	case !slices.Contains(r.Method.takes, Aliquot):
	case v.has(Aliquot) && !v.has(whole):
		r.Notices.Add(source.Error, "MISSING_READING", r.where(whole), "%s has an aliquot, so it needs %q too", r.Determination, heading(whole))
	case v.has(whole) && !v.has(Aliquot) && (whole == MadeUpTo || !v.has(Dilution)):
		r.Notices.Add(source.Error, "MISSING_READING", r.where(Aliquot), "%s has %q, so it needs %q too", r.Determination, heading(whole), heading(Aliquot))
	case whole == Flask && v.has(Aliquot) && v[Aliquot] > v[Flask]:
		r.Notices.Add(source.Error, "ALIQUOT_ABOVE_FLASK", r.where(Aliquot), "the aliquot of %s (%g mL) is more than its flask (%g mL) holds; correct one of the two", r.Determination, v[Aliquot], v[Flask])
	}
}

// largeBlank is the share of the reading from which a blank is worth a word
// (common practice).
const largeBlank = 0.10

// judgeBlank compares the result with what it would be without the blank.
func (r *Result) judgeBlank(used []Reading, f func([]float64) float64, y float64) {
	x := make([]float64, len(used)+1)
	x[len(used)] = 1
	var blank Key
	for i, in := range used {
		x[i] = in.Value
		switch in.Key {
		case Blank, CalciumBlank, BlankMass, SolutionBlank:
			if r.Method.ID != "Wilson" { // its blank is the vanadate itself
				x[i], blank = 0, in.Key
			}
		}
	}
	without := f(x)
	switch {
	case blank == "":
		r.tellNoBlank()
	case without > 0 && y < 0:
		r.Notices.Add(source.Error, "BLANK_ABOVE_READING", r.where(blank), "the %s of %s is larger than what it is taken from; correct one of the two", blank, r.Determination)
	case without > 0 && without-y > largeBlank*without:
		r.Notices.Add(source.Warning, "BLANK_LARGE", r.where(blank), "the %s of %s is %.0f %% of the reading; above 10 %% look for its cause", blank, r.Determination, 100*(without-y)/without)
	}
}

// tellNoBlank says that no blank was subtracted, where the method takes one.
func (r *Result) tellNoBlank() {
	for _, k := range []Key{Blank, BlankMass, SolutionBlank} {
		if slices.Contains(r.Method.takes, k) {
			r.Notices.Add(source.Note, "NO_BLANK", r.where(k), "%s has no blank, and none was subtracted", r.Determination)
			return
		}
	}
}
