package balance

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/quantity"
)

// Content is an element of a material in wt%, mostly the mean of several
// analyses. DoF are the degrees of freedom of its uncertainty, 0 where that
// does not rest on scatter.
type Content struct {
	quantity.Quantity
	DoF int
}

// Assays are the contents of a material by element. Streams that share them,
// as the prills of all sieves do, share their errors.
type Assays struct {
	Name    string // "KR-S01, KR-S02, KR-S03"
	Samples []string
	Content map[string]Content
}

// Stream is something that went into a firing or came out of it.
type Stream struct {
	Name   string            // "slag", "prills 2–4 mm"
	Kind   string            // "ore", "flux", "ash", "lining"; "metal", "prill", "matte", "slag", "dust"
	Out    bool              // came out
	Mass   quantity.Quantity // kg, dry
	Assays *Assays
}

// metallic kinds hold no element that only oxides hold (common practice), so
// nobody analyses them for it.
var (
	metallicKinds = []string{"metal", "prill", "matte"}
	oxidic        = []string{"Si", "Ti", "Al", "Mn", "Mg", "Ca", "Na", "K", "Ba", "P"}
)

// content returns the wt% of an element; ok is false where nobody knows it.
func (s Stream) content(element string) (x, u float64, dof int, ok bool) {
	c, found := s.Assays.Content[element]
	if found && (c.Known() || c.Class.Censored()) {
		x, u = content(c.Quantity)
		return x, u, c.DoF, true
	}
	return 0, 0, 0, slices.Contains(metallicKinds, s.Kind) && slices.Contains(oxidic, element)
}

// Firing is all that was weighed of one firing.
type Firing struct {
	Name    string
	Streams []Stream
}

// check refuses what cannot be reckoned with.
func (f Firing) check() error {
	in, out := false, false
	for _, s := range f.Streams {
		switch {
		case !s.Mass.Known() || s.Mass.Value < 0 || math.IsInf(s.Mass.Value, 0):
			return fmt.Errorf("%s: the weight of %s is not known (%s kg)", f.Name, s.Name, s.Mass.Text())
		case s.Assays == nil:
			return fmt.Errorf("%s: %s has no analysis", f.Name, s.Name)
		}
		in, out = in || !s.Out, out || s.Out
	}
	if !in || !out {
		return fmt.Errorf("%s: a balance needs what went in and what came out", f.Name)
	}
	return nil
}

// Elements returns the elements known of something that went in and of
// something that came out, sorted by name.
func (f Firing) Elements() []string {
	seen := map[string][2]bool{}
	for _, s := range f.Streams {
		if s.Assays == nil {
			continue
		}
		for e, c := range s.Assays.Content {
			x := seen[e]
			if c.Known() || c.Class.Censored() {
				x[0], x[1] = x[0] || !s.Out, x[1] || s.Out
			}
			seen[e] = x
		}
	}
	var out []string
	for e, x := range seen {
		if x[0] && x[1] {
			out = append(out, e)
		}
	}
	slices.Sort(out)
	return out
}
