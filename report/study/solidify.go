package study

import (
	"smeltbook/phase/flow"
	"smeltbook/phase/slag"
)

// Solidification follows a melt through its melting interval.
type Solidification interface {
	Crystals(w slag.Wt) (flow.Crystals, error)
}

// SolidifyWith lets the viscosities of the study count the crystals that a
// model finds. It is called before the study is used.
func (s *Study) SolidifyWith(m Solidification) { s.solidify = m }

// Crystals returns the crystals of a sample's slag at any temperature, nil
// where no model of solidification says: the slag then counts as all liquid.
func (s *Study) Crystals(id string) flow.Crystals {
	e, ok := s.estimates[id]
	if !ok || s.solidify == nil {
		return nil
	}
	c, err := s.solidify.Crystals(e.Melt.Wt)
	if err != nil {
		return nil
	}
	return c
}

// CountsCrystals reports whether viscosities count crystals.
func (s *Study) CountsCrystals() bool { return s.solidify != nil }
