package flow

import (
	"fmt"
	"math"
	"math/rand/v2"

	"smeltbook/assay/quantity/uncertainty"
	"smeltbook/phase/slag"
)

// Spread is what the uncertainty of the analysis does to the liquid's
// properties at one temperature, beside the error of the models. It is drawn
// (JCGM 101:2008) with the model of the best composition.
type Spread struct {
	Draws     int // melts for which the model had a value
	Seed      uint64
	EtaFactor float64 // geometric standard deviation: η within a factor of it, about two times in three
	DensitySD float64 // g/cm³, after Mills & Keene
}

// SpreadOf draws melts within the uncertainty of the analysis and returns the
// spread of the liquid's viscosity by a model (nil: Choose) and of its density
// at a temperature in °C. It fails where the analysis carries no uncertainty,
// with fewer than two draws, and where the model has no value.
func SpreadOf(m slag.Melt, model Model, tc float64, draws int, seed uint64) (Spread, error) {
	switch {
	case !m.HasU():
		return Spread{}, fmt.Errorf("the analysis carries no uncertainty, so it spreads nothing")
	case draws < 2:
		return Spread{}, fmt.Errorf("%d draws give no spread; give at least 2", draws)
	}
	if err := possible(tc); err != nil {
		return Spread{}, err
	}
	if model == nil {
		model = Choose(m.Wt).Model
	}
	s := Spread{Seed: seed}
	var eta, rho uncertainty.Moments
	r := rand.New(rand.NewPCG(seed, 0))
	for range draws {
		w := m.Draw(r)
		law, err := model.Law(w)
		if err != nil {
			continue
		}
		if x := law.logAt(tc); !math.IsNaN(x) {
			eta.Add(x)
			rho.Add(millsKeene(&w, tc+zeroCelsius))
			s.Draws++
		}
	}
	if s.Draws < 2 {
		return s, fmt.Errorf("%s has no value for the melts within the uncertainty of the analysis", model.Name())
	}
	s.EtaFactor, s.DensitySD = math.Exp(eta.SD()), rho.SD()
	return s, nil
}
