package fireplan

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/report/caution"
	"smeltbook/report/page"
)

// Sheet is the plan as a page for the furnace side.
func (p *Plan) Sheet(version string) page.FurnaceSheet {
	s := page.FurnaceSheet{Title: p.Title, Behind: caution.Behind, Cautions: p.Cautions}
	if s.Title == "" {
		s.Title = "A firing"
	}
	s.Lead = fmt.Sprintf("%s in a bowl of %.0f cm; %s", p.loadText(), 100*p.Furnace.Bowl.Diameter, p.blownBy())
	if !p.Runs() {
		for _, r := range p.Risks {
			if r.Stops && r.Margin < 0 {
				s.Alarm += sentence(r.Says) + " "
			}
		}
		s.Alarm = strings.TrimSpace(s.Alarm)
	}
	for _, x := range p.Values() {
		s.Values = append(s.Values, page.SheetValue{Name: lowered(x.Name), Value: x.Text})
	}
	for _, r := range p.Risks[:min(4, len(p.Risks))] {
		s.Wrong = append(s.Wrong, page.SheetRisk{Says: lowered(sentence(r.Says)), Do: sentence("Helps: " + r.Do)})
	}
	s.Minutes, s.Rows = p.times()
	s.Foot = []string{fmt.Sprintf("± is one standard uncertainty, from %d draws of what is assumed, seed %d; temperatures are means of the burning zone, a couple in the flame reads higher. Assumed: %s. Planned with smeltbook %s.",
		p.Spread.Draws, p.Seed, strings.Join(p.Assumed, "; "), version)}
	return s
}

// lowered sets the figure of the one formula that a sheet holds low.
func lowered(s string) string { return strings.ReplaceAll(s, "CO2", "CO₂") }

// sentence begins with a capital and ends with a stop.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:] + "."
}

func (p *Plan) loadText() string {
	if p.Load.Kg == 0 {
		return "Charcoal alone"
	}
	return fmt.Sprintf("%.1f kg of ore and flux", p.Load.Kg)
}

func (p *Plan) blownBy() string {
	names := map[string][2]string{"blowpipe": {"blowpipe", "blowpipes"}, "bag": {"bag", "bags"}, "piston": {"piston bellows", "piston bellows"}, "fan": {"fan", "fans"}}
	i := 0
	if p.Blower.Number > 1 {
		i = 1
	}
	return fmt.Sprintf("%d %s, %.0f L/min", p.Blower.Number, names[p.Blower.Kind][i], p.Furnace.Air.Normal)
}

// Value is something that is foreseen, in words.
type Value struct{ Name, Text string }

// Values lists what is foreseen, for terminal and sheet.
func (p *Plan) Values() []Value {
	heatUp := "not within four hours"
	if !math.IsNaN(p.HeatUpMin) {
		heatUp = fmt.Sprintf("%.0f min, hot before the pipe after %.0f to %.0f", p.HeatUpMin, p.HotMin.Low, p.HotMin.High)
	}
	list := []Value{
		{"before the pipe", fmt.Sprintf("%s, asked %.0f", p.Spread.HotTC.WithUnit(), p.WorkingTC)},
		{"in the lower bed", p.Spread.BedTC.WithUnit()},
		{"CO/CO2 there", fmt.Sprintf("%.2g, %.2g to %.2g", p.State.Ratio(), p.Spread.Ratio.Low, p.Spread.Ratio.High)},
		{"to the first charge", heatUp},
	}
	if p.Load.Kg > 0 {
		list = append(list, Value{"charging", fmt.Sprintf("%.1f h at %.1f kg/h, at most %.1f", p.ChargingH, p.RateKgH, p.MostKgH)})
	}
	list = append(list,
		Value{"in all", fmt.Sprintf("%.1f h", p.TotalH)},
		Value{"charcoal burnt", fmt.Sprintf("%s, %s", p.Burnt.WithUnit(), p.Spread.CharcoalKgH.WithUnit())},
		Value{"charcoal to have ready", fmt.Sprintf("%s, %.0f kg of it fill the bowl", p.Charcoal.WithUnit(), p.Bed)},
		Value{"air", p.airText()})
	if p.Blower.Kind != "fan" {
		list = append(list, Value{"who blows", p.crewText()})
	}
	return list
}

func (p *Plan) airText() string {
	need, sure := "no blast is enough", "none surely"
	if !math.IsNaN(p.NeedAir) {
		need = fmt.Sprintf("%.0f needed", p.NeedAir)
	}
	if !math.IsNaN(p.SureAir) {
		sure = fmt.Sprintf("%.0f in nine of ten", p.SureAir)
	}
	return fmt.Sprintf("%.0f L/min at 0 °C; %s, %s", p.Furnace.Air.Normal, need, sure)
}

// crewText counts those who blow: everyone needs another to take turns with.
func (p *Plan) crewText() string {
	if math.IsNaN(p.NeedAir) {
		return "–"
	}
	n := p.Need
	text := fmt.Sprintf("%d at work", n)
	if !math.IsNaN(p.SureAir) && p.Sure > n {
		n = p.Sure
		text += fmt.Sprintf(", %d to be sure", n)
	}
	return text + fmt.Sprintf("; %d people in turns", 2*n)
}

// mostRows is how many rows of the log a page holds.
const mostRows = 16

// times lays out the log.
func (p *Plan) times() (int, []page.SheetTime) {
	step := 10
	for _, s := range []int{10, 15, 20, 30, 60, 120, 240} {
		if step = s; p.TotalH*60/float64(s) <= mostRows-1 {
			break
		}
	}
	var rows []page.SheetTime
	for m := 0; float64(m) < p.TotalH*60+float64(step) && len(rows) < mostRows; m += step {
		expect := ""
		switch {
		case m == 0:
			expect = "light"
		case float64(m) <= p.HeatUpMin || math.IsNaN(p.HeatUpMin):
			expect = fmt.Sprintf("%.0f", 10*math.Round(p.Course.At(float64(m))/10))
		default:
			expect = fmt.Sprintf("%.0f", 10*math.Round(p.State.HotTC()/10))
		}
		rows = append(rows, page.SheetTime{Time: fmt.Sprintf("%d:%02d", m/60, m%60), Expect: expect})
	}
	return step, rows
}
