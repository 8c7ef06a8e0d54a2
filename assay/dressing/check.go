package dressing

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// coverage is how many standard uncertainties a balance may be off before a
// row is doubted; two for plain contradictions, three for weights that do not
// add, which are many.
const (
	doubtful   = 2.0
	impossible = 3.0
)

// checkCircuit tells what in a circuit cannot be right, before anything is
// computed: with the cell, and what would mend it.
func checkCircuit(c Circuit) source.Notices {
	var ns source.Notices
	for k, s := range c.Stages {
		if s.Feed.At.IsZero() {
			ns.Add(source.Error, "DRESSING_NO_FEED", s.At, "stage %q has no feed; add the row with what went into it", s.Name)
			continue
		}
		if len(s.Products) < 2 {
			ns.Add(source.Error, "DRESSING_NO_PRODUCTS", s.At,
				"stage %q has %d product; a stage parts its feed, so add the row of the other, with its weight and assays left empty where there are none", s.Name, len(s.Products))
			continue
		}
		checkFeedLink(c, k, &ns)
		checkMasses(s, &ns)
		for _, component := range c.Components {
			checkGrades(s, component, &ns)
		}
		checkFractions(s, &ns)
	}
	return ns
}

// checkFeedLink looks for the stage that made the feed of a later one.
func checkFeedLink(c Circuit, k int, ns *source.Notices) {
	s := c.Stages[k]
	if k == 0 {
		return
	}
	i, j, ok := c.From(k)
	if !ok {
		what := "is fed with something unnamed"
		if s.Feed.Product != "" {
			what = "is fed with " + s.Feed.Product
		}
		ns.Add(source.Warning, "DRESSING_MISSING_STAGE", s.Feed.At,
			"stage %q %s, which no earlier stage of circuit %q makes, so what the circuit won of the first feed is not known; add the rows of the missing stage, or write the same name as product of the stage it came from", s.Name, what, c.Name)
		return
	}
	made := c.Stages[i].Products[j].Mass
	fed := s.Feed.Mass
	if made.Known() && fed.Known() && fed.Value-made.Value > impossible*math.Hypot(made.U, fed.U) {
		ns.Add(source.Warning, "DRESSING_MORE_THAN_MADE", at(fed, s.Feed),
			"stage %q takes %s kg of %s, but stage %q made only %s kg; weigh again, or correct one of the two", s.Name, fed.Text(), s.Feed.Product, c.Stages[i].Name, made.Text())
	}
}

// at is the cell of a value, or that of the row where it has none.
func at(q quantity.Quantity, s Stream) source.Cell {
	if len(q.From) > 0 {
		return q.From[0]
	}
	return s.At
}

// checkMasses compares the feed with the sum of the products.
func checkMasses(s Stage, ns *source.Notices) {
	sum, u2 := 0.0, s.Feed.Mass.U*s.Feed.Mass.U
	for _, p := range s.Products {
		if p.Role == Lost && !p.Mass.Known() {
			continue
		}
		if !p.Mass.Known() {
			return
		}
		sum += p.Mass.Value
		u2 += p.Mass.U * p.Mass.U
	}
	if !s.Feed.Mass.Known() {
		return
	}
	short, u := s.Feed.Mass.Value-sum, math.Sqrt(u2)
	where := at(s.Feed.Mass, s.Feed)
	switch {
	case short > impossible*u && !s.Lossy():
		ns.Add(source.Warning, "DRESSING_WEIGHTS", where,
			"the products of stage %q weigh %s kg less than its feed; weigh again, or, if something ran off or blew away, add a row with the stream lost and no weight", s.Name, quantity.WithU(short, u, "kg", "").Text())
	case -short > impossible*u:
		ns.Add(source.Warning, "DRESSING_WEIGHTS", where,
			"the products of stage %q weigh %s kg more than its feed; weigh again, or say whether they were wet, for only weights of one state of dryness add up", s.Name, quantity.WithU(-short, u, "kg", "").Text())
	}
}

// checkGrades holds the feed of a stage against its products.
func checkGrades(s Stage, component string, ns *source.Notices) {
	f := s.Feed.Grade(component)
	if !f.Known() {
		return
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	var loU, hiU float64
	for _, p := range s.Products {
		g := p.Grade(component)
		if !g.Known() {
			return
		}
		if g.Value < lo {
			lo, loU = g.Value, g.U
		}
		if g.Value > hi {
			hi, hiU = g.Value, g.U
		}
		if component == Copper && p.Role == Tailings && g.Value-f.Value > doubtful*math.Hypot(g.U, f.U) {
			ns.Add(source.Warning, "DRESSING_TAILINGS_RICHER", at(g, p),
				"the tailings of stage %q hold %s wt%% Cu, more than its feed with %s; the two assays were exchanged, or the stage threw the copper away: assay both again, or swap the words concentrate and tailings", s.Name, g.Text(), f.Text())
		}
	}
	below, above := lo-f.Value > doubtful*math.Hypot(loU, f.U), f.Value-hi > doubtful*math.Hypot(hiU, f.U)
	if below || above {
		ns.Add(source.Warning, "DRESSING_FEED_OUTSIDE", at(f, s.Feed),
			"the feed of stage %q holds %s wt%% %s, which lies between none of its products (%s); a mixture lies between its parts, so assay the feed again, or look for a product that is missing", s.Name, f.Text(), component, grades(s, component))
	}
}

func grades(s Stage, component string) string {
	var parts []string
	for _, p := range s.Products {
		parts = append(parts, fmt.Sprintf("%s %s", p.Name(), p.Grade(component).Text()))
	}
	return strings.Join(parts, ", ")
}

// checkFractions holds the sizes of a stream against the whole of it.
func checkFractions(s Stage, ns *source.Notices) {
	for _, whole := range append([]Stream{s.Feed}, s.Products...) {
		var mass, metal, u2 float64
		parts, assayed := 0, true
		for _, p := range s.Fractions {
			if p.Role != whole.Role || p.Product != whole.Product {
				continue
			}
			parts++
			g := p.Grade(Copper)
			if !g.Known() || !p.Mass.Known() {
				assayed = false
				continue
			}
			mass += p.Mass.Value
			metal += p.Mass.Value * g.Value
			u2 += p.Mass.Value * p.Mass.Value * g.U * g.U
		}
		g := whole.Grade(Copper)
		if parts == 0 || !assayed || !g.Known() || mass == 0 {
			continue
		}
		mean, u := metal/mass, math.Sqrt(u2)/mass
		if math.Abs(mean-g.Value) > impossible*math.Hypot(u, g.U) {
			ns.Add(source.Warning, "DRESSING_SIZES", at(g, whole),
				"the sizes of the %s of stage %q come to %s wt%% Cu together, the whole was assayed at %s; assay again, or look for a size that is missing", whole.Name(), s.Name, quantity.WithU(mean, u, "wt%", "").Text(), g.Text())
		}
	}
	for _, p := range s.Fractions {
		found := p.Role == s.Feed.Role && p.Product == s.Feed.Product
		for _, w := range s.Products {
			found = found || p.Role == w.Role && p.Product == w.Product
		}
		if !found {
			ns.Add(source.Error, "DRESSING_SIZE_OF_NOTHING", p.At, "stage %q has a size of its %s but no row for the whole of it; add that row, with its weight", s.Name, p.Name())
		}
	}
}
