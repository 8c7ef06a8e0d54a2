package report

import (
	"fmt"
	"math"

	"smeltbook/phase/redox"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// diagramLines are the buffers a copper smelt is held against, with the gas of
// a bed of charcoal.
func diagramLines() []redox.Buffer {
	return []redox.Buffer{redox.CharcoalGas(), redox.IronWustite(), redox.FayaliteMagnetite(), redox.CopperCuprite()}
}

// diagramFigure draws the windows among the buffers.
func (b *builder) diagramFigure(groups pair, cond redoxConditions, windows map[string]windowOf) (*page.Figure, error) {
	lo, hi := cond.tc-200, cond.tc+200
	body := &figure.Diagram{X: figure.Axis{Label: "temperature", Unit: "°C", Min: lo, Max: hi}}
	var heights []float64
	for i, line := range diagramLines() {
		n := figure.NamedLine{Label: formulaText(line.Label), Style: i, Details: []figure.Detail{{Label: "source", Value: line.Source}}}
		for tc := lo; tc <= hi; tc += 10 {
			y, _ := line.LogFO2(tc)
			if math.IsNaN(y) {
				continue
			}
			n.X, n.Y = append(n.X, tc), append(n.Y, y)
			heights = append(heights, y)
		}
		body.Lines = append(body.Lines, n)
	}
	var shown [2]int
	for i, g := range groups {
		for _, s := range g.Samples {
			w := windows[s.ID]
			if w.Why != "" || w.Contradicted {
				continue
			}
			shown[i]++
			body.Boxes = append(body.Boxes, figure.Span{Group: i, Sample: s.ID, X0: cond.tc, X1: cond.tc, From: w.Low, To: w.High, Flagged: w.soft(),
				Details: []figure.Detail{{Label: "log fO₂", Value: oneDecimal(w.Low) + " to " + oneDecimal(w.High)},
					{Label: "not lower", Value: w.reason(w.FromLow)}, {Label: "not higher", Value: w.reason(w.FromHigh)}, {Label: "from", Value: whence(s)}}})
			heights = append(heights, w.Low, w.High)
		}
	}
	body.Y = axisFor("log fO₂", "bar", heights)
	return b.figure(figure.Figure{
		Caption: fmt.Sprintf("Oxygen potential of the slags among the balances that bound it: %s n\u00a0=\u00a0%d, %s n\u00a0=\u00a0%d. All windows are those at %.0f °C; bars stand beside each other only to be seen. A bar reaches from the lowest to the highest potential that what was seen and analysed allows, and the truth may lie anywhere in it. Hollow marks: an end rests on ferric iron, whose model is used beyond its range and which cooling and weathering change.",
			groups[0].Name, shown[0], groups[1].Name, shown[1], cond.tc),
		Alt: fmt.Sprintf("Diagram of oxygen potential against temperature from %.0f to %.0f °C with the lines of gas over charcoal, iron–wüstite, fayalite–magnetite and copper–cuprite, and the windows of the samples of %s and %s at %.0f °C.",
			lo, hi, groups[0].Label(), groups[1].Label(), cond.tc),
		Groups: groups.figureGroups(), Body: body,
	}, page.Wide)
}
