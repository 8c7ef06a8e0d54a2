package wetlab

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Result is what a determination comes to. Value holds no number where a
// notice of severity Error says why.
type Result struct {
	Determination
	Value           quantity.Quantity // wt%
	Terms           []Term            // what each reading does to it, wt%
	RepeatabilityU  float64           // wt%, the part of Value.U that differs from one determination to the next
	RepeatabilityBy string            // "as stated" or "assumed"
	Assumed         []string          // uncertainties the sheet leaves open, as taken: "volume 0.025 mL"
	AssumedBy       []string          // what they were taken from: "pipette class A, 3 K from 20 °C"
	OutOfScope      bool              // of the standard
	Notices         source.Notices
}

func (r *Result) fail(code string, at source.Cell, format string, args ...any) Result {
	r.Notices.Add(source.Error, code, at, format, args...)
	return r.none()
}

// none leaves the result without a number.
func (r *Result) none() Result {
	r.Value = quantity.None(quantity.Unusable, math.NaN(), "wt%", r.At)
	return *r
}

// Compute works the determination out.
func (d Determination) Compute() Result {
	r := Result{Determination: d}
	factor, err := d.Method.factorTo(d.Analyte)
	if err != nil || !d.Method.Determines(d.Analyte) {
		return r.fail("WRONG_ANALYTE", d.At, "%s does not determine %s; it gives %s", d.Method.ID, d.Analyte, strings.Join(d.Method.Analytes, ", "))
	}
	used, ok := r.choose()
	if !ok || !r.sane(used) {
		return r.none()
	}
	f := func(x []float64) float64 {
		v := values{}
		for i, in := range used {
			v[in.Key] = x[i]
		}
		return d.Method.value(v) * factor * x[len(used)]
	}
	inputs := make([]Input, 0, len(used)+1)
	for _, in := range used {
		inputs = append(inputs, Input{string(in.Key), in.Value, in.U})
	}
	inputs = append(inputs, r.repeatability())
	y, u, terms := Propagate(f, inputs)
	r.Terms, r.RepeatabilityU = terms, math.Abs(terms[len(terms)-1].Dy)
	if math.IsNaN(y) || math.IsInf(y, 0) || math.IsNaN(u) || math.IsInf(u, 0) {
		return r.fail("NOT_COMPUTED", d.At, "%s gives no finite number; look for a reading that is zero or out of all measure", d)
	}
	r.judgeBlank(used, f, y)
	switch {
	case r.Notices.Failed():
		return r.none()
	case y < 0 && d.Analyte != "LOI":
		return r.fail("NEGATIVE_RESULT", d.where(used[0].Key), "%s comes to %.3g wt%%; amounts are zero or more, so look at the readings and the blank", d, y)
	case y > 100+2*u:
		return r.fail("ABOVE_100", d.where(used[0].Key), "%s comes to %.4g wt%%, more than the whole sample; look at the units, the sample mass and the aliquot", d, y)
	case y > 100:
		r.Notices.Add(source.Warning, "ABOVE_100", d.where(used[0].Key), "%s comes to %.4g wt%%, within its uncertainty the whole sample", d, y)
	}
	r.Value = quantity.WithU(y, u, "wt%", r.note(), cells(used)...)
	r.judgeScope(y)
	return r
}

// note says where the uncertainty is from.
func (r *Result) note() string {
	if len(r.Assumed) == 0 {
		return "propagated from the readings as stated"
	}
	return "propagated from the readings; the sheet leaves open, and taken were ± " + strings.Join(r.Assumed, ", ")
}

// small prints an uncertainty to two figures, without exponent.
func small(u float64) string {
	places := max(1-int(math.Floor(math.Log10(u))), 0)
	return strconv.FormatFloat(u, 'f', places, 64)
}

func cells(used []Reading) []source.Cell {
	var out []source.Cell
	for _, in := range used {
		for _, c := range in.From {
			if !slices.Contains(out, c) {
				out = append(out, c)
			}
		}
	}
	return out
}

// repeatability returns the factor 1 with the relative standard deviation of a
// repeated determination.
func (r *Result) repeatability() Input {
	if s, ok := r.reading(Repeatability); ok && s.Known() && s.Value >= 0 {
		r.RepeatabilityBy = "as stated"
		return Input{string(Repeatability), 1, s.Value / 100}
	}
	r.RepeatabilityBy = "assumed"
	if r.Method.Repeatability > 0 {
		r.Assumed = append(r.Assumed, fmt.Sprintf("repeatability %g %%", r.Method.Repeatability))
	}
	return Input{string(Repeatability), 1, r.Method.Repeatability / 100}
}

// choose takes what the method uses, the main reading first. It tells what is
// missing and what is not used.
func (r *Result) choose() (used []Reading, ok bool) {
	ok = true
	take := func(k Key) {
		x, has := r.reading(k)
		if !has || slices.ContainsFunc(used, func(u Reading) bool { return u.Key == k }) {
			return
		}
		stated := x.HasU()
		if x = x.WithAssumedU(); !stated && x.Assumed != "" && x.U > 0 {
			r.Assumed = append(r.Assumed, strings.TrimSuffix(fmt.Sprintf("%s %s %s", k, small(x.U), x.Unit), " 1"))
			if !slices.Contains(r.AssumedBy, x.Assumed) {
				r.AssumedBy = append(r.AssumedBy, x.Assumed)
			}
		}
		used = append(used, x)
	}
	needs := r.Method.needs
	if !slices.ContainsFunc(needs, func(n need) bool {
		return slices.ContainsFunc(n.ways, func(w []Key) bool { return slices.Contains(w, SampleMass) })
	}) {
		needs = append(slices.Clone(needs), one(SampleMass))
	}
	for _, n := range needs {
		i := slices.IndexFunc(n.ways, func(way []Key) bool {
			return !slices.ContainsFunc(way, func(k Key) bool { return !r.has(k) })
		})
		if i < 0 {
			ok = false
			k := r.firstOpen(n.ways[0])
			r.Notices.Add(source.Error, "MISSING_READING", r.where(k), "%s needs the %s, and this cell or column is empty; write it under a heading such as %q", r.Determination, n.what, heading(k))
			continue
		}
		for _, k := range n.ways[i] {
			take(k)
		}
	}
	for _, k := range r.Method.takes {
		take(k)
	}
	for _, x := range r.Readings {
		if x.Key != Repeatability && x.Key != SignalReadings && !slices.ContainsFunc(used, func(u Reading) bool { return u.Key == x.Key }) {
			r.Notices.Add(source.Warning, "READING_NOT_USED", r.where(x.Key), "the %s is not used for %s; check that the method is the right one", x.Key, r.Determination)
		}
	}
	return used, ok
}

func (r *Result) firstOpen(way []Key) Key {
	for _, k := range way {
		if !r.has(k) {
			return k
		}
	}
	return way[0]
}

// heading shows how the column of a reading may be headed.
func heading(k Key) string {
	s := strings.ToUpper(string(k[:1])) + string(k[1:])
	if kind := kindOf(k); kind != nil && kind.dim != pureNumber {
		unit := string(kind.dim)
		if k == Titre || k == BackTitre {
			unit = "mg/mL"
		}
		s += " (" + unit + ")"
	}
	return s
}

// judgeScope tells whether the nearest standard speaks of such a content.
func (r *Result) judgeScope(y float64) {
	s := r.Method.Scope
	if s == nil {
		return
	}
	if f, err := chem.Factor(r.Analyte, s.Of); err == nil {
		r.OutOfScope = y*f < s.Lo || y*f > s.Hi
	}
}
