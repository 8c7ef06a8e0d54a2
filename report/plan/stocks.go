package plan

import (
	"slices"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/phase/charge"
	"smeltbook/report/notebook"
)

// Stock is an ore or a flux of the plan.
type Stock struct {
	Material balance.Material
	Bound    charge.Bound
	Store    *float64 // kg there are
	Samples  []*assay.Sample
	Line     int
}

func (t *settler) example(kind, otherwise string) string {
	if names := t.stocks(kind); len(names) > 0 {
		return names[0]
	}
	return otherwise
}

// stocks are the names of the stocks of a kind that are analysed.
func (t *settler) stocks(kind string) []string {
	var out []string
	for _, s := range Own(t.c, kind) {
		name := StockOf(s.ID)
		if len(t.c.OfStock(name, kind)) < 2 {
			name = s.ID
		}
		if !slices.Contains(out, name) {
			out = append(out, name)
		}
	}
	return out
}

// stock adds what the notebook says of an ore or a flux. Any ore, flux or slag
// may serve as either.
func (t *settler) stock(list []Stock, s notebook.ChargeStock, kind string, usual charge.Bound) []Stock {
	samples := OfName(t.c, s.Name, assay.Ore, assay.Flux, assay.Slag)
	if len(samples) == 0 {
		t.fail(s.Line, "UNKNOWN_STOCK", "no sample is %q or taken from it, so it cannot be charged%s", s.Name, source.DidYouMean(s.Name, append(t.stocks(assay.Ore), t.stocks(assay.Flux)...)))
		return list
	}
	m, err := Material(s.Name, samples)
	if err != nil {
		t.notices.Add(source.Error, "STOCK_NOT_ANALYSED", samples[0].At, "%s is to be charged (%s) but has no analysis; have it analysed, or name a stock that is", s.Name, source.Line(t.file, s.Line))
		return list
	}
	m.Kind = kind
	if s.Moisture != nil {
		if !(*s.Moisture >= 0 && *s.Moisture < 100) {
			t.fail(s.Line, "BAD_RANGE", "%g wt%% moisture of %s is impossible; give 0 to 100", *s.Moisture, s.Name)
			return list
		}
		m.Moisture = quantity.WithU(*s.Moisture, 0, "wt%", "stated in the notebook")
	}
	if s.Store != nil && !(*s.Store >= 0) {
		t.fail(s.Line, "BAD_RANGE", "%g kg of %s in store is impossible; give zero or more", *s.Store, s.Name)
		return list
	}
	out := Stock{Material: m, Bound: usual, Store: s.Store, Samples: samples, Line: s.Line}
	switch {
	case s.Limits != nil:
		out.Bound = charge.Bound{Lo: s.Limits.Lo, Hi: s.Limits.Hi}
	case kind == assay.Flux:
		t.assume("at most %g kg %s for a kg of ore", usual.Hi, s.Name)
	case len(t.cfg.Ores) > 1:
		t.assume("any share of %s", s.Name)
	}
	if kind == assay.Flux && out.Bound.Hi > charge.MostFlux {
		t.fail(s.Line, "BAD_RANGE", "%g kg %s for a kg of ore is more than a charge can be; give at most %g", out.Bound.Hi, s.Name, charge.MostFlux)
		return list
	}
	return append(list, out)
}

// stored lets no more be charged of a stock than there is, where the weight of
// all ore is known.
func (t *settler) stored() {
	ore := t.Batch * float64(t.Batches)
	for _, list := range [][]Stock{t.Ores, t.Fluxes} {
		for i, s := range list {
			if s.Store == nil || ore == 0 || *s.Store/ore >= s.Bound.Hi {
				continue
			}
			most := *s.Store / ore
			if most < s.Bound.Lo {
				t.fail(s.Line, "STORE", "%s: %g kg in store are less than the %.3g kg that %d batches take at the least; plan fewer, or lower its limit", s.Material.Name, *s.Store, s.Bound.Lo*ore, t.Batches)
				continue
			}
			list[i].Bound.Hi = most
			t.assume("at most %.2g kg %s for a kg of ore, for %g kg are in store", most, s.Material.Name, *s.Store)
		}
	}
}

// shares asks whether the shares of the ores can sum to one.
func (t *settler) shares() {
	lo, hi := 0.0, 0.0
	for _, s := range t.Ores {
		lo, hi = lo+s.Bound.Lo, hi+s.Bound.Hi
	}
	if len(t.notices) == 0 && (lo > 1+1e-9 || hi < 1-1e-9) {
		t.fail(t.cfg.Ores[0].Line, "SHARES", "the shares of the ores sum to at least %g and at most %g, but all ore is 1; widen them, or plan fewer batches where the store is short", lo, hi)
	}
}
