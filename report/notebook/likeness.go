package notebook

// Likeness is how groups are compared. The front matter states it for the
// whole notebook, and so before any result is seen; an entry may state it anew.
type Likeness struct {
	Margin      *float64          // how far apart centres may lie, in units of the site's scatter
	Parts       []string          // oxides and elements whose ratios count
	Balances    map[string]string // name: parts on both sides of a bar, "SiO2 | FeO CaO"
	Replacement string            // of values below detection
}

// Over returns l with what it leaves open taken from other. Balances belong to
// their parts: those of other hold only where l names no parts of its own.
func (l Likeness) Over(other Likeness) Likeness {
	if l.Margin == nil {
		l.Margin = other.Margin
	}
	if l.Balances == nil && len(l.Parts) == 0 {
		l.Balances = other.Balances
	}
	if len(l.Parts) == 0 {
		l.Parts = other.Parts
	}
	if l.Replacement == "" {
		l.Replacement = other.Replacement
	}
	return l
}
