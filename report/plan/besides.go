package plan

import (
	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
)

func (t *settler) fuel() {
	t.Charcoal = PerOre(t.c, "charcoal")
	switch {
	case t.cfg.Charcoal != nil:
		t.Charcoal = quantity.WithU(*t.cfg.Charcoal, 0, "kg", "stated in the notebook")
	case t.Charcoal.Known():
		t.assume("%s kg charcoal for a kg of ore, as the firings had it", t.Charcoal.Text())
	default:
		t.Charcoal = quantity.New(usualCharcoal, "kg", "assumed")
		t.assume("%g kg charcoal for a kg of ore", usualCharcoal)
	}
	part := t.cfg.Ash
	if part == nil {
		part = &notebook.ChargePart{}
	}
	percent := t.amount(part, "ash", "wt% of the charcoal", 30)
	if !percent.Known() {
		if percent = MeanPercent(t.c, "charcoal ash"); percent.Known() {
			t.assume("%s wt%% ash in the charcoal, as the field sheet has it", percent.Text())
		} else {
			percent = quantity.WithU(usualAsh, usualAshU, "%", "assumed")
			t.assume("%s wt%% ash in the charcoal", percent.Text())
		}
	}
	if len(part.Of) == 1 {
		for _, a := range balance.ExampleAshes() {
			if a.Name == part.Of[0] {
				t.Warnings.Add(source.Warning, "ASH_UNVERIFIED", source.Line(t.file, part.Line), "the ash of %s is an example (%s); an analysis of your own ash is far better", a.Name, a.Source)
				t.Others = append(t.Others, balance.Material{Name: "ash of " + a.Name, Kind: assay.Ash, Mass: AshOf(t.Charcoal, percent), Composition: a.Composition})
				return
			}
		}
	}
	t.other(part, assay.Ash, "fuel ash", AshOf(t.Charcoal, percent), "name one of your own with ash: {of: …}, or an example: beech bark, poplar or pine bark")
}

func (t *settler) lining() {
	part := t.cfg.Lining
	if part == nil {
		part = &notebook.ChargePart{}
	}
	kg := t.amount(part, "lining", "kg for a kg of ore", 5)
	if !kg.Known() {
		if kg = PerOre(t.c, "lining lost"); kg.Known() {
			t.assume("%s kg of wall melt for a kg of ore, as the firings lost it", kg.Text())
		}
	}
	t.other(part, assay.Lining, "wall", kg, "say how much melts with lining: {per_ore: …}, weighed before and after a firing")
}

// amount is a stated amount with its uncertainty.
func (t *settler) amount(part *notebook.ChargePart, name, unit string, most float64) quantity.Quantity {
	if part.Amount == nil {
		return quantity.Quantity{Class: quantity.Missing}
	}
	if !(*part.Amount >= 0 && *part.Amount <= most) || part.U != nil && !(*part.U >= 0) {
		t.fail(part.Line, "BAD_RANGE", "%q of the charge is in %s, from 0 to %g with an uncertainty of zero or more", name, unit, most)
	}
	u := 0.0
	if part.U != nil {
		u = *part.U
	}
	return quantity.WithU(*part.Amount, u, unit, "stated in the notebook")
}

// other adds ash or lining where amount and analysis are known.
func (t *settler) other(part *notebook.ChargePart, kind, name string, kg quantity.Quantity, what string) {
	samples := Own(t.c, kind)
	if len(part.Of) > 0 {
		samples = nil
		for _, of := range part.Of {
			found := OfName(t.c, of, kind)
			if len(found) == 0 {
				t.fail(part.Line, "UNKNOWN_STOCK", "no sample of the kind %s is %q or taken from it%s", kind, of, source.DidYouMean(of, t.stocks(kind)))
				return
			}
			samples = append(samples, found...)
		}
	}
	m, err := Material(name, samples)
	if err != nil || !kg.Known() {
		t.Warnings.Add(source.Warning, "LEFT_OUT", source.Line(t.file, t.cfg.Line), "%s is left out of the slag, for its %s is not known; %s", name, map[bool]string{true: "analysis", false: "amount"}[err != nil], what)
		return
	}
	if !kg.HasU() {
		kg.U = 0
	}
	m.Mass = kg
	t.Others, t.OtherSamples = append(t.Others, m), append(t.OtherSamples, samples...)
}

func (t *settler) slagCopper() {
	xs := t.cfg.SlagCopper
	if len(xs) == 0 {
		h := t.Behaviour
		t.assume("the slag keeps %s wt%% Cu and %s wt%% S, %s of the sulphur and %s of the alkalis stay", h.CopperInSlag.Text(), h.SlagSulphur.Text(), h.SulphurKept.Text(), h.AlkalisKept.Text())
		return
	}
	u := 0.0
	if len(xs) == 2 {
		u = xs[1]
	}
	if len(xs) > 2 || !(xs[0] >= 0 && xs[0] <= 60) || !(u >= 0) {
		t.fail(t.cfg.Line, "BAD_RANGE", "\"slag_copper\" takes the wt%% Cu of the slag and its standard uncertainty, as in [1.0, 0.3], not %v", xs)
		return
	}
	t.Behaviour.CopperInSlag = quantity.WithU(xs[0], u, "wt%", "stated in the notebook")
	h := t.Behaviour
	t.assume("the slag keeps %s wt%% S, %s of the sulphur and %s of the alkalis stay", h.SlagSulphur.Text(), h.SulphurKept.Text(), h.AlkalisKept.Text())
}
