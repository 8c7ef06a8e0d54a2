package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/logratio/effects"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// effectsFigure draws all effects in scatters between like firings, a panel for
// each result.
func (b *builder) effectsFigure(x effectsOf) (*page.Figure, error) {
	body := &figure.Intervals{Bars: "95 % interval", Firm: "zero excluded with the prior as stated, halved and doubled"}
	reach := []float64{0, -1, 1}
	for _, s := range x.settings {
		body.Rows = append(body.Rows, s.Name)
	}
	for k, fit := range x.fits {
		p := figure.Panel{Label: formulaText(x.outcomes[k].Name)}
		for _, s := range x.settings {
			bar := figure.Bar{Value: math.NaN()}
			if ef, ok := effectNamed(fit, s.Name); ok && fit.Sigma > 0 {
				bar = figure.Bar{Value: ef.PerSD / fit.Sigma, Lo: ef.Low / fit.Sigma, Hi: ef.High / fit.Sigma, Firm: ef.Firm, Details: effectDetails(x.outcomes[k], ef)}
				reach = append(reach, bar.Value, bar.Lo, bar.Hi)
			}
			p.Bars = append(p.Bars, bar)
		}
		body.Panels = append(body.Panels, p)
	}
	body.Axis = axisFor("change for one step of the setting", "in scatters between like firings", reach)
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("What one step of each setting did to the results of %d firings: a step is one standard deviation of the setting over the firings. Bars are 95 %% credible intervals under the prior stated; where the firings tell nothing a bar is that of the prior alone.", len(x.runs)),
		Alt:     fmt.Sprintf("Effects of %d settings on %d results with their intervals about zero.", len(x.settings), len(x.outcomes)),
		Body:    body,
	}, page.Wide)
}

func effectNamed(f effects.Fit, setting string) (effects.Effect, bool) {
	for _, e := range f.Effects {
		if e.Setting == setting {
			return e, true
		}
	}
	return effects.Effect{}, false
}

func effectDetails(y outcomeOf, e effects.Effect) []figure.Detail {
	value, span := effectWords(y, e)
	out := []figure.Detail{{Label: "for one step", Value: value}, {Label: "95 %", Value: span},
		{Label: "told by the firings", Value: fmt.Sprintf("%.0f %%", 100*e.Resolution)}}
	if m := mixed(e); m != "" {
		out = append(out, figure.Detail{Label: "mixed with", Value: m})
	}
	return out
}

// effectWords prints an effect and its interval: a factor for a balance, a
// change for anything else.
func effectWords(y outcomeOf, e effects.Effect) (value, span string) {
	if y.balance {
		return "× " + short(math.Exp(e.PerSD)), shortSpan(math.Exp(e.Low), math.Exp(e.High))
	}
	unit := ""
	if y.Unit != "" {
		unit = " " + y.Unit
	}
	return short(e.PerSD) + unit, shortSpan(e.Low, e.High) + unit
}

// mixed names the settings whose effects show in this one.
func mixed(e effects.Effect) string {
	var parts []string
	for _, a := range e.Aliases {
		sign := ""
		if a.Share < 0 {
			sign = "the opposite of "
		}
		parts = append(parts, fmt.Sprintf("%s%s (%.0f %%)", sign, a.Setting, 100*math.Abs(a.Share)))
	}
	return strings.Join(parts, ", ")
}
