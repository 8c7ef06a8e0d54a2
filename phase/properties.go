package phase

import (
	"fmt"

	"smeltbook/assay/source"
	"smeltbook/phase/copper"
	"smeltbook/phase/flow"
	"smeltbook/phase/redox"
	"smeltbook/phase/slag"
)

// Properties are those of a slag as a liquid at one temperature and oxygen
// potential, crystals left aside.
type Properties struct {
	TC     float64 // °C
	LogPO2 float64 // log10 of the oxygen pressure in bar

	Viscosity     []flow.Answer // of every model
	Chosen        flow.Choice   // the model to go by, and why
	Density       flow.Property // after Mills & Keene
	DensitySecond flow.Property // after Lange & Carmichael
	Tension       flow.Property

	Iron    *redox.Iron     // ferrous and ferric; nil where the melt has no iron
	Copper  copper.Interval // wt% Cu dissolved beside copper metal, by the band of capacities
	Notices source.Notices
}

// PropertiesOf computes the properties of a melt at a temperature in °C and a
// log10 of the oxygen pressure in bar. A model outside its range still answers,
// with a notice that names it.
func PropertiesOf(m slag.Melt, tc, logPO2 float64) Properties {
	p := Properties{TC: tc, LogPO2: logPO2,
		Viscosity:     flow.Compare(m.Wt, tc),
		Chosen:        flow.Choose(m.Wt),
		Density:       flow.Density(m.Wt, tc),
		DensitySecond: flow.DensityLangeCarmichael(m.Wt, tc),
		Tension:       flow.SurfaceTension(m.Wt, tc),
	}
	for _, a := range p.Viscosity {
		if a.Err != nil {
			p.Notices.Add(source.Warning, "NO_VISCOSITY", source.Cell{}, "%s gives no viscosity: %v", a.Model.Name(), a.Err)
		}
		p.Notices = append(p.Notices, a.Notices...)
	}
	for _, x := range []flow.Property{p.Density, p.DensitySecond, p.Tension} {
		p.Notices = append(p.Notices, x.Notices...)
	}
	if iron, err := redox.SplitIron(m.Wt, tc, logPO2); err == nil {
		p.Iron = &iron
		p.Notices = append(p.Notices, iron.Notices...)
	}
	capacity := copper.Fayalitic()
	var ns source.Notices
	p.Copper.Lo, ns = copper.Dissolved(tc, logPO2, 1, capacity.Lo*capacity.Factor)
	p.Notices = append(p.Notices, ns...)
	p.Copper.Hi, ns = copper.Dissolved(tc, logPO2, 1, capacity.Hi*capacity.Factor)
	p.Notices.AddNew(ns)
	return p
}

// ChosenViscosity returns the answer of the chosen model.
func (p Properties) ChosenViscosity() (flow.Answer, error) {
	for _, a := range p.Viscosity {
		if a.Model.Key() == p.Chosen.Model.Key() {
			return a, a.Err
		}
	}
	return flow.Answer{}, fmt.Errorf("the chosen model %s did not answer", p.Chosen.Model.Name())
}
