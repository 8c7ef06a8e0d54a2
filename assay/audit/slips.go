package audit

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Slip is a suspicion: a cell that may hold a slip of the pen. Nothing is
// changed for it.
type Slip struct {
	At      source.Cell
	Sample  string
	Analyte string // empty for the printed total
	Found   string // as written
	Instead string // as it may have been meant
	What    string // "two digits exchanged"
	Why     string // what would then fit
	Others  int    // edits elsewhere that would do as well
	Weak    bool   // it only differs from its fellows
}

// Sentence says what is suspected and what to do.
func (s Slip) Sentence() string {
	name := s.Analyte
	if name == "" {
		name = "the printed total"
	}
	text := fmt.Sprintf("%s of %s is %s; with %s (%s) %s", name, s.Sample, s.Found, s.Instead, s.What, s.Why)
	if s.Others > 0 {
		text += fmt.Sprintf(" (%d other single changes would do the same)", s.Others)
	}
	return text + ": look at the laboratory's own print; nothing was changed"
}

func (a *Audit) slips() {
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			a.slipsOfSum(s, x)
		}
	}
	a.slipsOfGroups()
	a.slipsOfPairs()
}

// manyRepairs is the number of single edits above which a sum says nothing of
// where the slip is.
const manyRepairs = 4

// slipsOfSum looks for the single edit that makes a row add up to its printed
// total.
func (a *Audit) slipsOfSum(s *assay.Sample, x assay.Assay) {
	total := x.StatedTotal
	if total == nil || !total.Known() {
		return
	}
	whole, steps := partsOf(x.Values)
	tolerance := 3*quality.RoundingSD(steps) + stepOf(*total)
	var repairs []Slip
	for _, without := range [][]string{nil, {"LOI"}} {
		parts := whole.Without(without...)
		sum := parts.Total()
		if math.Abs(sum.Measured-total.Value) <= tolerance {
			return
		}
		var entries []quality.Entry
		var of []sheet.Value
		for _, v := range x.Values {
			if v.Known() && parts.Counts(v.Analyte) {
				entries, of = append(entries, quality.Entry{Value: v.Value, Written: v.Raw}), append(of, v)
			}
		}
		for _, r := range quality.RepairSum(entries, quality.Entry{Value: total.Value, Written: total.Raw}, tolerance) {
			slip := Slip{Sample: x.Name, Found: total.Raw, Instead: r.To, What: r.What, Why: "the row adds up to its printed total", At: first(total.From)}
			if r.Index >= 0 {
				v := of[r.Index]
				slip.Analyte, slip.Found, slip.At = v.Analyte, v.Raw, first(v.From)
			}
			repairs = append(repairs, slip)
		}
	}
	if len(repairs) > manyRepairs {
		return
	}
	for _, r := range repairs {
		r.Others = len(repairs) - 1
		a.addSlip(r)
	}
}

// addSlip keeps a suspicion; two reasons for one cell and edit become one.
func (a *Audit) addSlip(s Slip) {
	for i := range a.Slips {
		if o := &a.Slips[i]; o.At == s.At && o.Instead == s.Instead {
			if !strings.Contains(o.Why, s.Why) {
				o.Why += " and " + s.Why
			}
			o.Others, o.Weak = 0, false
			return
		}
	}
	a.Slips = append(a.Slips, s)
}

// groupCell is one number with the row it stands in.
type groupCell struct {
	sample *assay.Sample
	row    assay.Assay
	v      sheet.Value
}

// slipsOfGroups looks for numbers far from their fellows that one edit brings
// home. Fellows are of one kind and origin by one method.
func (a *Audit) slipsOfGroups() {
	by := map[key][]groupCell{}
	var order []key
	for _, s := range a.campaign.Samples {
		for _, x := range s.Assays {
			for _, v := range x.Values {
				if !v.Known() {
					continue
				}
				k := key{x.Method, s.Kind + " " + s.Origin, v.Analyte}
				if by[k] == nil {
					order = append(order, k)
				}
				by[k] = append(by[k], groupCell{s, x, v})
			}
		}
	}
	for _, k := range order {
		whole, _ := quality.HabitOf(othersOf(by[k], -1))
		for i, c := range by[k] {
			h, ok := whole, true
			if len(by[k]) <= manyFellows {
				h, ok = quality.HabitOf(othersOf(by[k], i))
			}
			if !ok {
				continue
			}
			if e, ok := h.RepairHabit(quality.Entry{Value: c.v.Value, Written: c.v.Raw}); ok && !contradicted(c, e) {
				a.addSlip(Slip{At: first(c.v.From), Sample: c.row.Name, Analyte: c.v.Analyte, Found: c.v.Raw, Instead: e.To, What: e.What, Weak: true,
					Why: fmt.Sprintf("it lies among the other %d of %s, from which it is now %.0f spreads away", h.N, strings.TrimSpace(k.what), math.Abs(h.Z(c.v.Value)))})
			}
		}
	}
}

// contradicted reports an edit that other numbers speak against: a row that
// adds up as it stands, to its printed total or, where it is a full analysis, to
// 100, and would not any more; or a duplicate that agrees with the number.
func contradicted(c groupCell, e quality.Edit) bool {
	parts, steps := partsOf(c.row.Values)
	change := math.Abs(c.v.Value * (e.Factor - 1))
	rounding := 3*quality.RoundingSD(steps) + 0.005
	for _, p := range []chem.Composition{parts, parts.Without("LOI")} {
		sum := p.Total().Measured
		if t := c.row.StatedTotal; t != nil && t.Known() && math.Abs(sum-t.Value) <= rounding && change > rounding {
			return true
		}
		if math.Abs(sum-100) < full && math.Abs(sum+c.v.Value*(e.Factor-1)-100) > full {
			return true
		}
	}
	for _, x := range c.sample.Assays {
		if x.Method != c.row.Method || x.At == c.row.At {
			continue
		}
		for _, v := range x.Values {
			if v.Analyte == c.v.Analyte && v.Known() && math.Abs(math.Log(v.Value/c.v.Value)) < pairApart {
				return true
			}
		}
	}
	return false
}

// full is how near to 100 the sum of a sound full analysis lies, wt%.
const full = 1.5

// manyFellows is the size of a group from which one number does not move its
// middle and spread.
const manyFellows = 60

// othersOf are the values of a group but one; all of them with -1.
func othersOf(cs []groupCell, but int) (xs []float64) {
	for i, c := range cs {
		if i != but {
			xs = append(xs, c.v.Value)
		}
	}
	return xs
}

// Duplicates further apart than the first, which one edit brings as near as the
// second.
const pairApart, pairNear = 0.3, 0.05

// manyAssays is the number of rows of one sample above which they are not
// compared pair by pair.
const manyAssays = 20

// slipsOfPairs looks for duplicates that one edit makes agree.
func (a *Audit) slipsOfPairs() {
	for _, s := range a.campaign.Samples {
		if len(s.Assays) > manyAssays { // areas under a microscope, not duplicates
			continue
		}
		for i, x := range s.Assays {
			for _, y := range s.Assays[i+1:] {
				if x.Table != y.Table || x.Method != y.Method {
					continue
				}
				for _, v := range x.Values {
					for _, w := range y.Values {
						if v.Analyte == w.Analyte && v.Value > 0 && w.Value > 0 {
							a.slipOfPair(x.Name, y.Name, v, w)
							a.slipOfPair(y.Name, x.Name, w, v)
						}
					}
				}
			}
		}
	}
}

func (a *Audit) slipOfPair(name, other string, v, w sheet.Value) {
	if math.Abs(math.Log(v.Value/w.Value)) < pairApart {
		return
	}
	best, nearest := quality.Edit{}, pairNear
	for _, e := range quality.Edits(v.Raw) {
		if d := math.Abs(math.Log(v.Value * e.Factor / w.Value)); d < nearest {
			best, nearest = e, d
		}
	}
	if best.To != "" {
		a.addSlip(Slip{At: first(v.From), Sample: name, Analyte: v.Analyte, Found: v.Raw, Instead: best.To, What: best.What, Why: "it agrees with " + other})
	}
}

func (a *Audit) slipAt(cs []source.Cell) (Slip, bool) {
	for _, s := range a.Slips {
		for _, c := range cs {
			if s.At == c && !c.IsZero() {
				return s, true
			}
		}
	}
	return Slip{}, false
}

func (a *Audit) tellSlips(ns *source.Notices) {
	for _, s := range a.Slips {
		severity := source.Warning
		if s.Weak {
			severity = source.Note
		}
		ns.Add(severity, "SLIP", s.At, "%s", s.Sentence())
	}
}
