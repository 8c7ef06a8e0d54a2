package audit

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/quality"
	"smeltbook/assay/source"
)

// Repeat is how well one method repeats itself for one analyte.
type Repeat struct {
	Method, Analyte string
	Control         string // the control read more than once; empty for duplicates of samples
	quality.Precision
	Stated  float64 // root mean square of the stated or assumed relative standard uncertainties, percent
	Assumed bool    // some of them were assumed
	Times   float64 // scatter over the stated uncertainty, reading by reading; NaN when none is stated
	Line    *quality.PrecisionLine
	HorRat  float64 // NaN for what is no content, as ignition loss
	Beyond  bool    // the scatter is more than the stated uncertainty allows by chance
	From    []source.Cell
}

// repeats pools readings of samples that one table has more than once, and
// readings of each control.
func (a *Audit) repeats() {
	var h heap
	groups := map[key][]string{} // what was repeated, beside the readings
	add := func(k key, thing string, r reading) {
		h.add(k, r)
		groups[k] = append(groups[k], thing)
	}
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			for _, v := range x.Values {
				if v.Known() {
					add(key{x.Method, "", v.Analyte}, fmt.Sprint(s.ID, " ", x.Table, " ", x.Determination), readingOf(v, ""))
				}
			}
		}
	}
	for _, c := range a.campaign.Controls {
		if c.Blank {
			continue
		}
		for _, v := range c.Values {
			if v.Known() {
				add(key{c.Method, c.Base, v.Analyte}, fmt.Sprint(c.Base, " ", c.Table), readingOf(v, ""))
			}
		}
	}
	for _, k := range h.order {
		if r, ok := repeatOf(k, h.by[k], groups[k]); ok {
			a.Repeats = append(a.Repeats, r)
		}
	}
}

func repeatOf(k key, rs []reading, things []string) (Repeat, bool) {
	out := Repeat{Method: k.method, Analyte: k.analyte, Control: k.what}
	var order []string
	by := map[string]quality.Repeats{}
	for i, r := range rs {
		if _, seen := by[things[i]]; !seen {
			order = append(order, things[i])
		}
		by[things[i]] = append(by[things[i]], r.Value)
	}
	var groups []quality.Repeats
	var pairs [][2]float64
	for _, t := range order {
		if g := by[t]; len(g) > 1 {
			groups = append(groups, g)
			pairs = append(pairs, [2]float64{g[0], g[1]})
		}
	}
	var ok bool
	if out.Precision, ok = quality.PrecisionOf(groups); !ok {
		return out, false
	}
	out.HorRat = math.NaN()
	if judged(k.analyte) && out.Mean > 0 {
		out.HorRat = quality.HorRat(out.RSD, out.Mean/100)
	}
	if l, ok := quality.PrecisionLineOf(pairs); ok {
		out.Line = &l
	}
	out.against(rs, things, by)
	return out, true
}

// chance is the share of laboratories that are wrongly said to scatter too
// much; there are many analytes, so it is small.
const chance = 0.005

// leastTimes is how many times its stated uncertainty a method scatters before
// it is told.
const leastTimes = 1.5

// against holds the scatter against the stated uncertainties, each reading
// against its own.
func (r *Repeat) against(rs []reading, things []string, by map[string]quality.Repeats) {
	var relative, n, chi2 float64
	for i, x := range rs {
		g := by[things[i]]
		if len(g) < 2 {
			continue
		}
		d := (x.Value - g.Mean()) / math.Hypot(x.U, x.step/math.Sqrt(12))
		chi2 += d * d
		relative += x.U * x.U / (x.Value * x.Value)
		n++
		r.Assumed = r.Assumed || strings.Contains(x.UNote, "assumed")
		r.From = append(r.From, x.From...)
	}
	r.Stated = 100 * math.Sqrt(relative/n)
	r.Times = math.Sqrt(chi2 / float64(r.DoF))
	limit := distuv.ChiSquared{K: float64(r.DoF)}.Quantile(1 - chance)
	r.Beyond = r.DoF >= leastDoF && chi2 > limit && r.Times > leastTimes
}

// repeatFor returns the duplicates of samples by a method, where there are none
// the control nearest in content.
func (a *Audit) repeatFor(method, analyte string, wt float64) (best Repeat, ok bool) {
	nearest := math.Log(nearReference)
	for _, r := range a.Repeats {
		if r.Method != method || !quality.Same(r.Analyte, analyte) {
			continue
		}
		d := math.Abs(math.Log(wt / r.Mean))
		if r.Control == "" && d <= math.Log(nearReference) {
			return r, true
		}
		if d <= nearest {
			nearest, best, ok = d, r, true
		}
	}
	return best, ok
}

// What names what was repeated.
func (r Repeat) What() string {
	if r.Control == "" {
		return "duplicates"
	}
	return r.Control
}

func (a *Audit) tellRepeats(ns *source.Notices) {
	told := map[key]bool{}
	for _, r := range a.Repeats {
		k := key{method: r.Method, what: r.Control}
		if told[k] || !r.Beyond {
			continue
		}
		told[k] = true
		var parts []string
		for _, o := range a.Repeats {
			if o.Beyond && o.Method == r.Method && o.Control == r.Control {
				parts = append(parts, fmt.Sprintf("%s %.2g %% where the ± says %.2g %%", o.Analyte, o.RSD, o.Stated))
			}
		}
		ns.Add(source.Warning, "SCATTER", first(r.From), "%s by %s scatter more than their ± says: %s; take the larger one wherever samples are compared, and think of prills and specks of matte in the powder", r.things(), r.Method, strings.Join(parts, ", "))
	}
}

func (r Repeat) things() string {
	if r.Control == "" {
		return "duplicates"
	}
	return "readings of " + r.Control
}

// leastDoF is the number of degrees of freedom from which scatter is held
// against a stated uncertainty.
const leastDoF = 3
