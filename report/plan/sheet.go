package plan

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/phase/charge"
	"smeltbook/report/caution"
	"smeltbook/report/figure"
	"smeltbook/report/page"
)

// Sheet is the plan as a page for the furnace side.
func (p *Plan) Sheet(version string) page.ChargeSheet {
	s := page.ChargeSheet{Title: p.Title, Batches: p.Batches}
	if s.Title == "" {
		s.Title = "A charge"
	}
	s.Lead = fmt.Sprintf("%s of %s kg ore", counted(p.Batches, "batch", "batches"), plain(p.Batch))
	if !p.Met {
		var missed []string
		for _, o := range p.Outcomes {
			if o.Asked && !o.Met() {
				missed = append(missed, fmt.Sprintf("%s (foreseen %s)", figure.Formula(o.Term.String()), Figure(o.Term, o.Value)))
			}
		}
		s.Alarm = "Not met: " + strings.Join(missed, "; ") + ". What is below is only the nearest mixture."
	}
	for _, w := range append(p.Weights[:len(p.Weights):len(p.Weights)], p.Fuel) {
		if w.Batch.Value == 0 {
			continue
		}
		x := page.SheetWeight{Name: w.Name, Kind: w.Kind}
		x.Kg, x.U = Weighed(w.Batch)
		x.Total, _ = Weighed(w.Total)
		if w.Store != nil {
			x.Store = plain(*w.Store)
		}
		s.Weights = append(s.Weights, x)
	}
	for _, o := range p.Outcomes {
		s.Slag = append(s.Slag, o.sheet())
	}
	s.Lines = []string{
		fmt.Sprintf("A batch should give %s of slag and %s of metal with %s of the copper.", p.Slag.Slag.WithUnit(), p.Slag.Metal.WithUnit(), p.Slag.Won.WithUnit()),
		fmt.Sprintf("Charcoal: %.1f kg planned for all batches, beside what heats the empty furnace; %s are what the charge alone takes, without walls and gas.", p.Fuel.Total.Value, p.Heat.Floor.WithUnit()),
	}
	if nine := p.Fluxing.Nine; p.Fluxing.Known && nine > 1 {
		s.Lines = append(s.Lines, fmt.Sprintf("As sure as the stocks are known, flux times %.2f would be enough in nine draws of ten.", nine))
	}
	for _, c := range p.Cautions {
		s.Cautions = append(s.Cautions, c.Text)
	}
	s.Behind = caution.Behind
	s.Foot = []string{fmt.Sprintf("± beside a weight is that of the scale; ± of the slag joins stocks, weights, furnace and the model's own error, one standard uncertainty, from %d draws, seed %d. Assumed: %s. Planned with smeltbook %s.",
		p.Behaviour.Draws, p.Behaviour.Seed, strings.Join(p.Assumed, "; "), version)}
	return s
}

func (o Outcome) sheet() page.SheetSlag {
	x := page.SheetSlag{Name: figure.Formula(o.Term.Name())}
	switch o.Term.Of {
	case charge.Viscosity:
		spread := math.Exp(math.Hypot(math.Log(o.Model), o.SD/o.Value))
		x.Value = fmt.Sprintf("%s Pa·s, %s to %s", Figure(o.Term, o.Value), Figure(o.Term, o.Value/spread), Figure(o.Term, o.Value*spread))
	case charge.Liquidus:
		x.Value = fmt.Sprintf("%s ± %.0f °C", Figure(o.Term, o.Value), math.Hypot(o.SD, o.Model))
	default:
		v, u := quantity.Number(o.Value, o.SD)
		x.Value = strings.TrimSpace(v + " ± " + u + " " + o.Term.Unit())
	}
	if o.Asked {
		x.Asked = strings.TrimPrefix(o.Term.String(), o.Term.Name()+" ")
	}
	return x
}

func counted(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Weighed prints kilograms to the first figure of the scale's uncertainty: no
// scale shows more.
func Weighed(q quantity.Quantity) (kg, u string) {
	if !(q.U > 0) {
		return plain(q.Value), ""
	}
	decimals := max(-int(math.Floor(math.Log10(q.U)+1e-9)), 0)
	return fmt.Sprintf("%.*f", decimals, q.Value), fmt.Sprintf("%.*f", decimals, q.U)
}

// plain prints kilograms without needless zeros.
func plain(x float64) string { return fmt.Sprintf("%.3g", x) }
