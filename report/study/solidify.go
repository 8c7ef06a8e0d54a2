package study

import "smeltbook/phase/flow"

// Crystals returns the crystals of a sample's slag at any temperature, nil
// where its freezing could not be followed: it then counts as all liquid.
func (s *Study) Crystals(id string) flow.Crystals {
	e, ok := s.estimates[id]
	if !ok {
		return nil
	}
	return e.Crystals()
}

// CountsCrystals reports whether the viscosities of some slag count crystals.
func (s *Study) CountsCrystals() bool {
	for _, e := range s.estimates {
		if e.Path != nil {
			return true
		}
	}
	return false
}
