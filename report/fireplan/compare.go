package fireplan

import (
	"smeltbook/phase/furnace"
)

// Hours are those at which grounds are compared.
func Hours() []float64 { return []float64{0.5, 1, 2, 4} }

// Fire is a fire of wood beside the bed of charcoal.
type Fire struct {
	Name string
	furnace.WoodFire
}

// What an open fire of air-dry wood draws, and what a fire that smoulders gets
// (common practice): water of the wood, and multiples of its air.
const (
	woodWater = 0.20
	openFire  = 2.0
	closeFire = 0.6
)

// compare works out what else could be built or burnt.
func (p *Plan) compare() error {
	var err error
	if p.Grounds, err = p.Firing.Grounds(Hours()); err != nil {
		return err
	}
	if p.Pipes, err = p.Firing.Pipes(); err != nil {
		return err
	}
	for _, x := range []struct {
		name string
		air  float64
	}{{"open fire of wood with 20 % water, twice its air", openFire}, {"the same wood, closed in, six tenths of its air", closeFire}} {
		w, err := furnace.Wood(woodWater, x.air)
		if err != nil {
			return err
		}
		p.Fires = append(p.Fires, Fire{x.name, w})
	}
	return nil
}
