package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio/likeness"
	"smeltbook/phase/copper"
	"smeltbook/report/notebook"
)

// statedClay is what the notebook's lining entry says of slag, ore and clay, for
// entries that ask for the same share of clay; ok is false where it says nothing.
func (b *builder) statedClay() (o liningOptions, ok bool) {
	for _, e := range b.notebook.Entries() {
		if e.Kind != "lining" {
			continue
		}
		o = liningOptions{}
		if !e.Decode(&o).Failed() && len(o.Slag) == 2 && o.Ore != "" && len(o.Clay) > 0 {
			return o, true
		}
	}
	return liningOptions{}, false
}

// clayWords says how much clay the slags of either page hold, for whoever looks
// at the wall from the other side; empty where the notebook does not ask for it.
func (b *builder) clayWords(e *notebook.Entry) string {
	o, ok := b.statedClay()
	if !ok {
		return ""
	}
	share, ok := b.clayShare(e, o)
	if !ok || share == nil {
		return ""
	}
	var said []string
	for _, g := range share.slags {
		var lo, hi, most []float64
		for _, s := range g.Samples {
			if c := share.by[s.ID]; c.why == "" {
				lo, hi, most = append(lo, 100*c.Low), append(hi, 100*c.High), append(most, 100*c.atMost)
			}
		}
		if len(lo) > 0 {
			said = append(said, fmt.Sprintf("the slags of %s %s–%s %% (medians of the least and the greatest share by two tracers in %s), and none can hold more than %s %%",
				g.Name, short(max(0, median(lo))), short(median(hi)), samplesText(len(lo)), short(slices.Max(most))))
		}
	}
	if len(said) == 0 {
		return ""
	}
	return "From the other side, molten wall in the slag, as entry `lining` reckons it: " + strings.Join(said, "; ") + "."
}

// Extras of likeness that are no variables of a sample alone.
const (
	clayExtra = "clay share"
	lossExtra = "copper loss"
)

// slagExtra works one of these for the samples of a likeness entry; the sentence
// says what is wrong where it cannot be had.
func (b *builder) slagExtra(e *notebook.Entry, key string, d likenessData, ore string, clay []string) (likeness.Extra, string) {
	stated, _ := b.statedClay()
	if ore == "" {
		ore = stated.Ore
	}
	if len(clay) == 0 {
		clay = stated.Clay
	}
	if ore == "" || key == clayExtra && len(clay) == 0 {
		return likeness.Extra{}, fmt.Sprintf("%q needs the group of the ore and, for clay, of the walls; state them with ore: and clay:", key)
	}
	x := likeness.Extra{Name: "clay in the slag", Unit: "%", Values: make([]float64, len(d.samples))}
	if key == lossExtra {
		x.Name = "copper of the ore lost, at least"
	}
	gs, ok := b.groups(e, []string{ore})
	if !ok {
		return x, "the ore is no group" // told with the group's name
	}
	if key == lossExtra {
		for i, s := range d.samples {
			x.Values[i] = leastLoss(s, gs[0])
		}
		return x, ""
	}
	share, ok := b.clayShare(e, liningOptions{Slag: []string{d.groups[0].Name, d.groups[1].Name}, Ore: ore, Clay: slices.Clone(clay)})
	if !ok || share == nil {
		return x, "the share of clay cannot be worked"
	}
	for i, s := range d.samples {
		c := share.by[s.ID]
		if x.Values[i] = 50 * (c.Low + c.High); c.why != "" {
			x.Values[i] = nan
		}
	}
	return x, ""
}

// leastLoss is the least share in per cent of the copper of an ore that is in
// the slag, counted by oxides of the ore that all went to it; NaN where it is
// not known.
func leastLoss(s *assay.Sample, ore assay.Group) float64 {
	oreCu, _ := meanCopper(ore.Samples)
	slagCu, ok := copper.TotalCopper(s.AsReported)
	if !ok || !oreCu.Known() {
		return nan
	}
	var tracers []copper.Tracer
	for _, n := range toSlag {
		inOre, inSlag := meanPart(ore.Samples, n), asOxide(s, n)
		if inOre.Known() && inSlag.Known() && inOre.Value > 0 && inSlag.Value > 0 {
			tracers = append(tracers, copper.Tracer{Name: n, Ore: inOre, Slag: inSlag, AllToSlag: true})
		}
	}
	y, err := copper.SlagPerCopper(oreCu, slagCu, tracers)
	if err != nil || math.IsNaN(y.Recovered.Hi) {
		return nan
	}
	return 100 * (1 - y.Recovered.Hi)
}
