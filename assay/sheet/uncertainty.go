package sheet

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// limitElsewhere finds the number behind "<LOD".
func (t *tableReader) limitElsewhere(c *column, row int, tok *token, v *Value, u *unit) {
	if tok.class != quantity.Below || !math.IsNaN(tok.limit) || u == nil {
		return
	}
	for _, l := range c.limits {
		if l.what == tok.limits && l.unit.factor > 0 && u.factor > 0 {
			tok.limit = l.value * l.unit.factor / u.factor
			return
		}
	}
	beside := func(i int) (float64, bool) {
		if i < 0 {
			return 0, false
		}
		lt := t.cellToken(&t.cols[i], t.v.at(row, t.cols[i].index))
		x := lt.value
		if lt.class == quantity.Below {
			x = lt.limit
		}
		if !(x >= 0) {
			return 0, false
		}
		if w := t.cols[i].unit; w != nil && w.factor > 0 && u.factor > 0 {
			x *= w.factor / u.factor
		}
		return x, true
	}
	if c.lim >= 0 && t.cols[c.lim].marker.limit == tok.limits {
		if x, ok := beside(c.lim); ok {
			tok.limit = x
			return
		}
	}
	if c.u < 0 || t.cols[c.u].marker.relative {
		return
	}
	if x, ok := beside(c.u); ok {
		if t.errLOD || t.reading.ErrorIsLimit {
			tok.limit = x
			return
		}
		v.Flags = append(v.Flags, "the error column beside it reads "+storedText(t.v.at(row, t.cols[c.u].index).text)+" "+u.name)
	}
}

// uncertainty reads the uncertainty of a value, from its own cell or from the
// column beside it, as a standard uncertainty.
func (t *tableReader) uncertainty(c *column, row int, tok token, u *unit, v *Value) {
	m := marker{k: math.NaN(), note: noteUnknownK}
	x := tok.u
	own := u
	ref := t.v.ref(row, c.index)
	if math.IsNaN(x) {
		uc := c
		if below, ok := t.below[row]; ok && c.u < 0 {
			row, m = below.row, below.marker
		} else {
			if c.u < 0 {
				return
			}
			uc = &t.cols[c.u]
			m = uc.marker
		}
		cell := t.v.at(row, uc.index)
		ref = t.v.ref(row, uc.index)
		ut := t.cellToken(uc, cell)
		if ut.class != quantity.Measured {
			v.UNote = "the sheet states no uncertainty for this value"
			if ut.class == quantity.Unusable {
				t.reportCell(uc, cell, ut, ref)
			}
			return
		}
		x = ut.value
		if cell.percent {
			x *= 100
		}
		switch {
		case m.relative:
		case ut.unit != nil:
			own = ut.unit
		case uc.unit != nil:
			own = uc.unit
		}
		if !m.relative && own.name == "wt%" && u.name != "wt%" {
			v.UNote = "stated in percent, of the value or of the mass is not said; not used"
			t.tally.habit(source.Warning, "UNCERTAINTY_UNIT", ref, "an uncertainty in percent stands beside a value in another unit and was not used (%s); write RSD% if it is relative")
			return
		}
	}
	if x < 0 || math.IsNaN(x) || own.refuse != "" {
		v.UNote = "the stated uncertainty is no usable number"
		return
	}
	note := m.note
	k := m.k
	if math.IsNaN(k) {
		switch {
		case t.reading.K > 0:
			k, note = t.reading.K, fmt.Sprintf("taken as %g standard deviations, as the notebook says", t.reading.K)
		case t.sigma == 1:
			k, note = 1, noteOneSigma
		case t.sigma == 2:
			k, note = 2, noteTwoSigma
		default:
			k = 1
			t.tally.habit(source.Warning, "UNCERTAINTY_K_UNKNOWN", ref, "uncertainties are stated without coverage factor and were taken as one standard deviation (%s); ask the laboratory")
		}
	}
	abs := own.wt(x)
	if m.relative {
		abs = math.Abs(v.Value) * x / 100
	}
	v.U, v.UNote = abs/k, note
}
