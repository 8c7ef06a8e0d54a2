package report

import (
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay/quality"
)

// qualityMethods says how the analyses were judged, and which were corrected:
// pairs of a head and a text, for what was used.
func (b *builder) qualityMethods() [][2]string {
	var out [][2]string
	if b.audited != nil {
		out = append(out, [2]string{"Quality of the analyses", b.qualityText()})
	}
	if text := b.correctedText(); text != "" {
		out = append(out, [2]string{"Corrected readings", text})
	}
	return out
}

func (b *builder) qualityText() string {
	text := "Sums are judged by method. Reference materials are scored after ISO 13528, bias after Linsinger 2005 (ERM Application Note 1), the ± of each certificate turned into a standard uncertainty by what it is"
	var cited []string
	for _, r := range b.audited.References {
		c := r.Material + ": " + r.Certified.Citation
		if r.Own {
			c = r.Material + ": value stated by the campaign, " + strings.TrimPrefix(r.Certified.At.String(), " ")
		}
		if i := slices.IndexFunc(cited, func(x string) bool { return strings.HasPrefix(x, r.Material+": ") }); i < 0 {
			cited = append(cited, c)
		}
	}
	if len(cited) > 0 {
		text += " (" + strings.Join(cited, "; ") + ")"
	}
	text += ". Duplicates after Thompson & Howarth 1976 (Analyst 101:690), with a line of scatter against content from 50 pairs on only; blanks after Currie 1995; control charts after Shewhart, with the limits of the certificate where there is one. Two methods are compared after York et al. 2004 and Passing & Bablok 1983, and no reading is changed by it."
	if targets := b.study.Campaign.Config.Quality.Targets; len(targets) > 0 {
		var stated []string
		for id, rel := range targets {
			stated = append(stated, fmt.Sprintf("%s %g %%", formulaText(id), 100*rel))
		}
		slices.Sort(stated)
		text += " Standard deviations wanted by the notebook: " + strings.Join(stated, ", ") + "."
	}
	if n := len(b.audited.Slips); n > 0 {
		text += fmt.Sprintf(" A search for exchanged digits and misplaced decimal points raised %d suspicions; nothing was changed for them.", n)
	}
	return text
}

// correctedText tells of the corrections that the notebook declares.
func (b *builder) correctedText() string {
	c := b.study.Campaign
	var parts []string
	for _, r := range c.Config.Recipe.Correct {
		for _, x := range c.Bridges {
			if x.From != r.Method || x.Why != "" || !slices.ContainsFunc(r.Analytes, func(a string) bool { return quality.Same(a, x.Analyte) }) ||
				len(r.Kinds) > 0 && !slices.Contains(r.Kinds, x.Kind) {
				continue
			}
			l := x.Line.Scaled()
			parts = append(parts, fmt.Sprintf("%s in %s by %s to %s, (y − (%.3g ± %.2g))/(%.3g ± %.2g), from %d samples", formulaText(x.Analyte), x.Kind, x.From, list(x.To), l.A, l.UA, l.B, l.UB, l.N))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	return "As the notebook declares, readings were replaced by what the laboratory would have given: " + strings.Join(parts, "; ") + ". Their uncertainty is that of the prediction; readings outside the range of those samples were left as they are."
}
