// Package dressing reckons how well an ore was dressed, from the weights and
// assays of every stage of crushing, hand-picking, washing and panning.
//
// A stage divides one feed into products. Of each product and component it
// gives yield (the share of the mass), recovery (the share of the component),
// enrichment, ratio of concentration and separation efficiency, with standard
// uncertainties. A circuit of stages is reconciled as a whole: weights and
// assays are adjusted within their errors until masses and components balance,
// and a reading that does not fit is named. Sampling tells how far an assay can
// be trusted on the mass that was split out, after Gy.
package dressing

import (
	"math"
	"slices"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Role says what a stream is in its stage.
type Role string

// The roles of streams, with the words of the trade.
const (
	Feed        Role = "feed"
	Concentrate Role = "concentrate"
	Middlings   Role = "middlings"
	Tailings    Role = "tailings"
	Lost        Role = "lost" // what ran off with the water or blew away, not caught
)

// Copper is the component that the figures of dressing are about.
const Copper = "Cu"

// Grade is the content of one component.
type Grade struct {
	Component string            // an analyte, "Cu" or "SiO2"
	Content   quantity.Quantity // wt%
}

// Size is a fraction between two sieves, in mm. Below is +Inf for what stayed
// on the coarsest sieve; the zero Size is the whole stream.
type Size struct{ Above, Below float64 }

// Whole reports whether no sieve parts the stream.
func (s Size) Whole() bool { return s == Size{} }

// Stream is what went into a stage or came out of it, as the sheet has it.
type Stream struct {
	Role    Role
	Product string // the stock it is; the same name as feed of a later stage links the two
	Size    Size
	Mass    quantity.Quantity // kg; class Missing where it was not weighed
	Grades  []Grade           // in the order of the sheet; class Missing where not assayed
	// Sample is the mass in g of the split that was assayed and Top the size in
	// mm that 95 % of it passes; Missing where not stated.
	Sample, Top quantity.Quantity
	Note        string
	At          source.Cell // of the word that says what stream it is
}

// Name is the stream's role and, where it has one, its stock.
func (s Stream) Name() string {
	if s.Product == "" {
		return string(s.Role)
	}
	return string(s.Role) + " " + s.Product
}

// Grade returns the content of a component, Missing where there is none.
func (s Stream) Grade(component string) quantity.Quantity {
	for _, g := range s.Grades {
		if g.Component == component {
			return g.Content
		}
	}
	return quantity.None(quantity.Missing, math.NaN(), "wt%")
}

// Stage is one operation.
type Stage struct {
	Name      string
	Feed      Stream
	Products  []Stream // in the order of the sheet
	Fractions []Stream // parts of any of the streams by size
	At        source.Cell
}

// Lossy reports whether a stream was lost and not weighed.
func (s Stage) Lossy() bool {
	return slices.ContainsFunc(s.Products, func(p Stream) bool { return p.Role == Lost })
}

// Circuit is stages that ore went through one after the other.
type Circuit struct {
	Name       string
	Stages     []Stage
	Components []string // of any stream, in the order of the sheet
}

// From returns the stage and the product of it, by their places, whose stock is
// fed to the stage at place k; ok is false where no earlier stage made it.
func (c Circuit) From(k int) (stage, product int, ok bool) {
	stock := c.Stages[k].Feed.Product
	if stock == "" {
		return 0, 0, false
	}
	for i := k - 1; i >= 0; i-- {
		for j, p := range c.Stages[i].Products {
			if p.Product == stock {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}

// Log is all dressing of a campaign.
type Log struct{ Circuits []Circuit }

// Stage returns a stage by its name or the first word of it ("A1" of "A1
// hand-picking"), with the circuit it belongs to.
func (l Log) Stage(name string) (circuit, stage int, ok bool) {
	for exact := range 2 {
		for i, c := range l.Circuits {
			for j, s := range c.Stages {
				if s.Name == name || exact == 1 && firstWord(s.Name) == name {
					return i, j, true
				}
			}
		}
	}
	return 0, 0, false
}
