package melt

import "slices"

// shortStay is how many °C a mineral must be there to be worth telling.
const shortStay = 1e-5

// tidy leaves out the minerals that vanished where they had appeared.
func (f *freezing) tidy() {
	p := f.p
	place := make([]int, len(p.Minerals))
	kept := p.Minerals[:0]
	for i, s := range p.Minerals {
		place[i] = len(kept)
		if s.AppearsC-s.VanishesC < shortStay && !p.holds(i) {
			place[i] = -1
			continue
		}
		kept = append(kept, s)
	}
	if len(kept) == len(place) {
		return
	}
	p.Minerals = kept
	for i := range p.Steps {
		s := &p.Steps[i]
		s.Solids = slices.DeleteFunc(s.Solids, func(d Solid) bool { return place[d.number] < 0 })
		for j := range s.Solids {
			s.Solids[j].number = place[s.Solids[j].number]
		}
	}
}

// holds reports whether any step holds some of a mineral.
func (p *Path) holds(number int) bool {
	for i := range p.Steps {
		for _, d := range p.Steps[i].Solids {
			if d.number == number && d.Share > 1e-9 {
				return true
			}
		}
	}
	return false
}
