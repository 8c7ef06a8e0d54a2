package balance

import (
	"fmt"
	"math/rand/v2"
	"slices"
)

// Trials is a charge drawn many times within the uncertainty of its weights,
// its analyses and the behaviour of the furnace. The same trials answer about
// any weights, so that two mixtures are compared under equal luck.
type Trials struct {
	names []string
	drawn []chargeTrial // the first is the central one
}

// chargeTrial is one draw of everything uncertain.
type chargeTrial struct {
	in  []melting // weights of one kilogram
	off []float64 // kg by which a weighing is off
	how conduct
}

// Yield is what a charge gives in one trial.
type Yield struct {
	Slag    map[string]float64 // wt%, sums to 100; iron as FeO, copper in all forms as Cu2O, sulphur as S
	SlagKg  float64
	MetalKg float64 // copper with the iron reduced into it
	MatteKg float64
	Copper  float64 // kg charged
	Won     float64 // kg of it in the metal
}

// NewTrials draws a charge. Of a material's Mass only the uncertainty is looked
// at, in kg: it is that of any weighing of it. It fails as Predict does.
func NewTrials(charge []Material, how Behaviour) (*Trials, error) {
	if err := how.check(); err != nil {
		return nil, err
	}
	if len(charge) == 0 {
		return nil, fmt.Errorf("nothing is charged")
	}
	t := &Trials{}
	centre := chargeTrial{off: make([]float64, len(charge)), how: how.central()}
	for _, m := range charge {
		if err := m.check(); err != nil {
			return nil, err
		}
		one := meltingOf(m)
		one.weighed = 1
		t.names, centre.in = append(t.names, m.Name), append(centre.in, one)
	}
	t.drawn = []chargeTrial{centre}
	n := how.Draws
	if n <= 0 {
		n = defaultDraws
	}
	r := rand.New(rand.NewPCG(how.Seed, 0x747269616c730000)) // "trials"
	for range n {
		d := chargeTrial{how: how.draw(r)}
		for _, m := range centre.in {
			d.off = append(d.off, m.weighedU*r.NormFloat64())
			m.weighedU = 0
			d.in = append(d.in, m.draw(r))
		}
		t.drawn = append(t.drawn, d)
	}
	return t, nil
}

// Len returns the number of draws beside the central trial.
func (t *Trials) Len() int { return len(t.drawn) - 1 }

// Give returns what trial i gives, 0 the central one and 1 to Len() the draws,
// with kg of each material as weighed, in the order of the charge. What is not
// charged at all is not weighed wrongly either.
func (t *Trials) Give(i int, kg []float64) (Yield, error) {
	if len(kg) != len(t.names) {
		return Yield{}, fmt.Errorf("%d weights for %d materials", len(kg), len(t.names))
	}
	d := t.drawn[i]
	in := slices.Clone(d.in)
	for k, x := range kg {
		if !(x >= 0) {
			return Yield{}, fmt.Errorf("%g kg of %s are impossible", x, t.names[k])
		}
		if in[k].weighed = 0; x > 0 {
			in[k].weighed = max(x+d.off[k], 0)
		}
	}
	p := react(in, d.how)
	if !(p.slag > 0) {
		return Yield{}, fmt.Errorf("no part of this charge becomes slag")
	}
	y := Yield{Slag: map[string]float64{}, SlagKg: p.slag, MetalKg: p.metalCu + p.metalFe,
		MatteKg: p.matteCu + p.matteFe + p.matteS, Copper: p.cu, Won: p.metalCu}
	for i, x := range p.oxides {
		if x > 0 {
			y.Slag[slagParts[i]] = 100 * x / p.slag
		}
	}
	return y, nil
}

// Enriched returns the central trial alone with some materials holding more or
// less of their copper mineral: their copper times factor, their gangue in its
// own proportions. mineral is the wt% Cu of the mineral. It fails where a
// material would hold more copper than the mineral.
func (t *Trials) Enriched(factor, mineral float64, which ...int) (*Trials, error) {
	centre := t.drawn[0]
	centre.in = slices.Clone(centre.in)
	for _, k := range which {
		grade := 100 * centre.in[k].cu * factor
		if !(grade < mineral) {
			return nil, fmt.Errorf("%s would hold %.3g wt%% Cu, and its mineral holds %.1f", t.names[k], grade, mineral)
		}
		centre.in[k] = centre.in[k].enriched(grade, mineral)
	}
	return &Trials{names: t.names, drawn: []chargeTrial{centre}}, nil
}

// enriched is an ore with a grade (wt% Cu) brought about by more or less of a
// copper mineral (wt% Cu of it), its gangue in its own proportions.
func (m melting) enriched(grade, mineral float64) melting {
	scale := (1 - grade/mineral) / (1 - 100*m.cu/mineral) // of the gangue
	m.oxide = slices.Clone(m.oxide)
	for i := range m.oxide {
		m.oxide[i] *= scale
	}
	m.cu, m.fe, m.s = grade/100, m.fe*scale, m.s*scale
	return m
}
