package audit

import (
	"fmt"

	"smeltbook/assay"
	"smeltbook/assay/source"
)

// notable is the share by which two methods may differ before it is told.
const notable = 0.05

// Off reports a bridge whose mean ratio lies away from 1 by more than chance
// allows and by more than five per cent.
func Off(b assay.Bridge) bool { return b.Ratio.Clear(notable) }

// Disagree reports a bridge whose weighted and whose robust line part ways: the
// slope of the one lies outside the interval of the other.
func Disagree(b assay.Bridge) bool {
	return b.Why == "" && (b.Line.B < b.Robust.BLow || b.Line.B > b.Robust.BTop)
}

// Sentence says how a method compares.
func Sentence(b assay.Bridge) string {
	return fmt.Sprintf("%s in %s by %s reads %s than %s (ratio %.2f, %d samples; 95 in 100 ratios lie between %.2f and %.2f)",
		b.Analyte, b.Kind, b.From, higher(b.Ratio.Mean), joined(b.To), b.Ratio.Mean, b.Ratio.N, b.Ratio.Low, b.Ratio.High)
}

func higher(ratio float64) string {
	if ratio < 1 {
		return fmt.Sprintf("%.2g %% lower", 100*(1-ratio))
	}
	return fmt.Sprintf("%.2g %% higher", 100*(ratio-1))
}

func (a *Audit) tellBridges(ns *source.Notices) {
	for _, b := range a.Bridges {
		if b.Why != "" || !Off(b) {
			continue
		}
		ns.Add(source.Note, "METHODS_DIFFER", source.Cell{}, "%s; where the reading is all there is, say so, or declare `correct: {%s: {analytes: [%s], kinds: [%s]}}` under `recipe:`", Sentence(b), b.From, b.Analyte, b.Kind)
	}
}
