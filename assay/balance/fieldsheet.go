package balance

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/assay/summary"
)

// FromRun lays out a firing of the campaign by weight and analysis: in go ore
// and fluxes by their stocks, the ash of the charcoal burnt and the lining lost;
// out come slag, ingot, prills by sieve, matte, slag on the wall and sweepings.
// Ore and flux are counted dry where moisture was determined.
//
// ok is false where the balance cannot be made; the notices then hold an error
// that names the cell and says what would mend it.
func FromRun(c *assay.Campaign, r assay.Run) (f Firing, ns source.Notices, ok bool) {
	b := &layout{campaign: c, run: r, firing: Firing{Name: r.ID}}
	for _, x := range charged {
		b.charge(x)
	}
	b.ash()
	b.lining()
	for _, x := range weighedOut {
		if x.column == "matte" {
			b.prills() // told between metal and matte
		}
		b.product(x)
	}
	return b.firing, b.notices, !b.notices.Failed()
}

// Materials returns what went in as the charge of a forecast.
func (f Firing) Materials(c *assay.Campaign) []Material {
	var out []Material
	for _, s := range f.Streams {
		if s.Out || s.Mass.Value == 0 {
			continue
		}
		if m, ok := s.material(c); ok {
			out = append(out, m)
		}
	}
	return out
}

func (s Stream) material(c *assay.Campaign) (Material, bool) {
	var samples []*assay.Sample
	for _, id := range s.Assays.Samples {
		if x, ok := c.Sample(id); ok {
			samples = append(samples, x)
		}
	}
	mean, err := MeanComposition(samples)
	return Material{Name: s.Name, Kind: s.Kind, Mass: s.Mass, Moisture: quantity.None(quantity.NotRun, math.NaN(), "wt%"), Composition: mean}, err == nil
}

// The columns of a field sheet that a balance reads: what was charged, by stock,
// and what came out.
var (
	charged = []struct{ weight, stock, kind string }{
		{"ore", "ore stock", assay.Ore}, {"second ore", "second ore stock", assay.Ore},
		{"flux", "flux stock", assay.Flux}, {"second flux", "second flux stock", assay.Flux},
	}
	weighedOut = []struct {
		column, kind string
		needed       bool
	}{
		{"ingot", assay.Metal, true}, {"matte", assay.Matte, false}, {"slag", assay.Slag, true},
		{"slag on the wall", assay.Slag, false}, {"sweepings", assay.Dust, false},
	}
)

// layout gathers the streams of a firing.
type layout struct {
	campaign *assay.Campaign
	run      assay.Run
	firing   Firing
	notices  source.Notices
	known    map[string]*Assays
}

func (b *layout) fail(code string, at source.Cell, format string, args ...any) {
	b.notices.Add(source.Error, code, at, b.run.ID+": "+format, args...)
}

func (b *layout) tell(code string, at source.Cell, format string, args ...any) {
	b.notices.Add(source.Note, code, at, b.run.ID+": "+format, args...)
}

// scaleU is the relative standard uncertainty assumed of a weight that states
// none.
const scaleU = 0.01

// weight returns a weight of the record; a weight without uncertainty is given
// the assumed one, and that is told.
func (b *layout) weight(column string) (quantity.Quantity, bool) {
	q, ok := b.run.Mass(column)
	if !ok {
		return q, false
	}
	if q.Value < 0 {
		b.fail("NEGATIVE_WEIGHT", b.run.Cell(column), "a weight of %s kg of %s cannot be; correct the cell", q.Text(), column)
		return q, false
	}
	if !q.HasU() && q.Value > 0 {
		b.tell("SCALE_ASSUMED", b.run.Cell(column), "the weight of %s has no ±; %g %% of it is assumed; give the ± of the scales in a column beside it", column, 100*scaleU)
		q = quantity.WithU(q.Value, scaleU*q.Value, q.Unit, "assumed", q.From...)
	}
	return q, true
}

func (b *layout) add(name, kind string, out bool, mass quantity.Quantity, samples []*assay.Sample) {
	if mass.Value == 0 {
		return
	}
	b.firing.Streams = append(b.firing.Streams, Stream{Name: name, Kind: kind, Out: out, Mass: mass, Assays: b.assaysOf(samples)})
}

// assaysOf returns the contents of some samples, the same for the same samples.
func (b *layout) assaysOf(samples []*assay.Sample) *Assays {
	var ids []string
	for _, s := range samples {
		ids = append(ids, s.ID)
	}
	name := strings.Join(ids, ", ")
	if b.known == nil {
		b.known = map[string]*Assays{}
	}
	if b.known[name] == nil {
		b.known[name] = AssaysOf(samples)
	}
	return b.known[name]
}

// charge adds something charged by weight.
func (b *layout) charge(x struct{ weight, stock, kind string }) {
	kg, ok := b.weight(x.weight)
	switch {
	case !ok && x.weight == "ore":
		b.fail("ORE_NOT_WEIGHED", b.run.Cell("ore"), "the ore charged has no weight in kg or g, so there is no balance; enter it with its unit in the heading, as in \"Ore (kg)\"")
		return
	case !ok || kg.Value == 0:
		return
	}
	stock := b.run.Text(x.stock)
	samples := b.analysed(b.campaign.OfStock(stock, x.kind))
	if len(samples) == 0 {
		b.fail("STOCK_WITHOUT_ASSAYS", b.run.Cell(x.stock), "%s of the stock %q is charged, but no sample of it is analysed; send a split of it to the laboratory and list it in the field sheet as %s-1 of kind %s, or correct the name%s",
			x.weight, stock, orName(stock, x.kind), x.kind, source.DidYouMean(stock, b.campaign.SampleIDs()))
		return
	}
	var moist []quantity.Quantity
	for _, s := range samples {
		if q, ok := s.AsReported.Get("H2O-"); ok && q.Known() {
			moist = append(moist, q)
		}
	}
	m := Material{Name: stock, Mass: kg, Moisture: summary.Mean(moist, "wt%")}
	if !m.Moisture.Known() {
		b.tell("MOISTURE_UNKNOWN", b.run.Cell(x.weight), "the moisture of %s is not known and counts as none; weigh a split before and after drying at 105 °C and enter H2O-", stock)
	}
	b.add(x.weight+" "+stock, x.kind, false, m.Dry(), samples)
}

func orName(stock, kind string) string {
	if stock == "" {
		return strings.ToUpper(kind)
	}
	return stock
}

// analysed drops samples without any analysis.
func (b *layout) analysed(samples []*assay.Sample) []*assay.Sample {
	return slices.DeleteFunc(slices.Clone(samples), func(s *assay.Sample) bool { return len(s.Assays) == 0 })
}

// ash adds the ash of the charcoal that burnt.
func (b *layout) ash() {
	charcoal, ok := b.weight("charcoal")
	share, known := b.run.Percent("charcoal ash")
	if !ok || !known {
		b.tell("ASH_UNKNOWN", b.run.Cell("charcoal"), "the charcoal or its share of ash is not recorded, so no ash is counted; enter charcoal in kg and its ash in %%")
		return
	}
	if left, ok := b.weight("charcoal left"); ok {
		charcoal = quantity.Difference(charcoal, left)
		if charcoal.Value < 0 {
			b.fail("CHARCOAL_LEFT", b.run.Cell("charcoal left"), "more charcoal is left than was charged; correct one of the two")
			return
		}
	} else {
		b.tell("CHARCOAL_LEFT", b.run.Cell("charcoal"), "charcoal left over is not recorded: all of it counts as burnt, so the ash may be too much")
	}
	samples := b.analysed(b.ofKind(assay.Ash))
	if len(samples) == 0 {
		b.fail("ASH_WITHOUT_ASSAYS", b.run.Cell("charcoal"), "no ash of the charcoal is analysed; burn some to ash, have it analysed and list it as a sample of kind ash")
		return
	}
	b.add("ash of the charcoal", assay.Ash, false, quantity.Product(charcoal, share.Scale(0.01, "1"), "kg"), samples)
}

// ofKind returns the samples of a kind from the firing, else from all firings of
// the campaign; of slag, which differs most, from the firing alone.
func (b *layout) ofKind(kind string) []*assay.Sample {
	var own, all []*assay.Sample
	for _, s := range b.campaign.Samples {
		if s.Kind != kind || s.Origin == assay.Excavated || len(s.Assays) == 0 {
			continue
		}
		all = append(all, s)
		if strings.EqualFold(s.Run, b.run.ID) {
			own = append(own, s)
		}
	}
	if len(own) > 0 || kind == assay.Slag {
		return own
	}
	return all
}

// lining adds the wall that was lost.
func (b *layout) lining() {
	before, okBefore := b.weight("lining before")
	after, okAfter := b.weight("lining after")
	lost, ok := b.weight("lining lost")
	if okBefore && okAfter {
		between := quantity.Difference(before, after)
		if ok && math.Abs(between.Value-lost.Value) > 2*math.Hypot(known(between.U), known(lost.U))+1e-9 {
			b.fail("WEIGHTS_DO_NOT_ADD", b.run.Cell("lining lost"), "the lining weighed %s kg before and %s after, %s kg less, but %s kg is entered as lost; correct one of the three (%s, %s)",
				before.Text(), after.Text(), between.Text(), lost.Text(), b.run.Cell("lining before").Ref, b.run.Cell("lining after").Ref)
			return
		}
		if !ok {
			lost, ok = between, true
		}
	}
	if !ok {
		b.tell("LINING_UNKNOWN", b.run.At, "the lining lost is not recorded and counts as none; weigh the dried lining before and after")
		return
	}
	if lost.Value < 0 {
		b.fail("LINING_GREW", b.run.Cell("lining after"), "the lining weighs more after the firing than before; knock off the slag and weigh it as slag on the wall, or correct the weights")
		return
	}
	samples := b.ofKind(assay.Lining)
	if len(samples) == 0 && lost.Value > 0 {
		b.fail("LINING_WITHOUT_ASSAYS", b.run.Cell("lining lost"), "no lining of the replica furnace is analysed; send a piece to the laboratory and list it as a sample of kind lining")
		return
	}
	b.add("lining lost", assay.Lining, false, lost, samples)
	b.borrowed("lining", samples)
}

// borrowed tells where the analysis of another firing stands for this one's.
func (b *layout) borrowed(what string, samples []*assay.Sample) {
	if len(samples) == 0 || strings.EqualFold(samples[0].Run, b.run.ID) {
		return
	}
	of := "that of another firing"
	if len(samples) > 1 {
		of = fmt.Sprintf("the mean of %d samples of other firings", len(samples))
	}
	b.tell("ANALYSIS_BORROWED", b.run.At, "no %s of this firing is analysed; in its place counts %s", what, of)
}

// product adds something that was weighed after the firing.
func (b *layout) product(x struct {
	column, kind string
	needed       bool
}) {
	kg, ok := b.weight(x.column)
	switch {
	case !ok && x.needed:
		b.fail("PRODUCT_NOT_WEIGHED", b.run.Cell(x.column), "the %s has no weight in kg or g, so there is no balance; weigh it, or enter 0 where there was none", x.column)
		return
	case !ok || kg.Value == 0:
		return
	}
	b.came(x.column, x.kind, kg)
}

// came adds a product by the samples of its kind.
func (b *layout) came(name, kind string, kg quantity.Quantity) {
	samples := b.ofKind(kind)
	if len(samples) == 0 {
		if assumed := b.campaign.Config.Recipe.AssumedOf(kind); len(assumed) > 0 {
			b.assumed(name, kind, kg, assumed)
			return
		}
		instead := ""
		if word := assumable[kind]; word != "" {
			instead = fmt.Sprintf(", or state what to assume of it under recipe: in the notebook, as in assume: {%s: {Cu: [96, 2]}}", word)
		}
		b.fail("PRODUCT_WITHOUT_ASSAYS", b.run.Cell(name), "%s was weighed but no %s is analysed that can stand for it; send some to the laboratory and list it as a sample of kind %s with run %s%s", name, kind, kind, b.run.ID, instead)
		return
	}
	b.add(name, kind, true, kg, samples)
	b.borrowed(name, samples)
}

// assumable are the kinds whose contents the notebook may state, by its words.
var assumable = map[string]string{assay.Metal: "ingot", assay.Prill: "prills", assay.Matte: "matte"}

// assumed adds a product by contents that nobody analysed, and says so.
func (b *layout) assumed(name, kind string, kg quantity.Quantity, contents []assay.AssumedContent) {
	a := &Assays{Name: "assumed", Content: map[string]Content{}}
	var said []string
	for _, c := range contents {
		a.Content[c.Element] = Content{Quantity: c.Content}
		said = append(said, c.Content.WithUnit()+" "+c.Element)
	}
	b.notices.Add(source.Warning, "CONTENT_ASSUMED", b.run.Cell(name), "%s: no %s is analysed; %s is assumed of the %s, as the notebook states, so that what is said of its copper is an assumption", b.run.ID, kind, strings.Join(said, " and "), name)
	if b.known == nil {
		b.known = map[string]*Assays{}
	}
	if shared := b.known["assumed "+kind]; shared != nil {
		a = shared // one assumption, one error
	}
	b.known["assumed "+kind] = a
	b.firing.Streams = append(b.firing.Streams, Stream{Name: name, Kind: kind, Out: true, Mass: kg, Assays: a})
}

// prills adds the prills size by size.
func (b *layout) prills() {
	for _, p := range b.run.Prills() {
		if kg, ok := b.weight(p.Name); ok && kg.Value > 0 {
			b.came(strings.ToLower(p.Name[:1])+p.Name[1:], assay.Prill, kg)
		}
	}
}

// MoreOut returns an error notice where more of the element came out than went
// in, beyond the chance of one in a hundred: then a weight or an analysis is
// wrong, whatever may leave a furnace.
func (b ElementBalance) MoreOut(r assay.Run) (source.Notice, bool) {
	if !(b.Unaccounted.Value < 0) || !(b.P < 0.01) || len(b.Unknown) > 0 {
		return source.Notice{}, false
	}
	return source.Notice{Severity: source.Warning, Code: "MORE_OUT_THAN_IN", At: r.At,
		Message: fmt.Sprintf("%s: %.4g g of %s came out but only %.4g g went in, beyond the uncertainties; look at the weights of this row (ore %s, slag %s) and at the analyses of ore and slag",
			r.ID, 1000*b.Out.Value, b.Element, 1000*b.In.Value, r.Cell("ore").Ref, r.Cell("slag").Ref)}, true
}
