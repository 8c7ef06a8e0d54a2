package report

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/balance"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/report/figure"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// balanceElements are those shown where the notebook names none, as far as they
// are analysed.
var balanceElements = []string{"Cu", "Fe", "Si", "Al", "Ti", "Ca", "Mg", "Mn", "K", "Na", "P", "S"}

// balanceUsed says what the balance entries rested on, for the methods.
type balanceUsed struct {
	firings  int
	forecast bool
	tested   []string
}

// firedBalance is the balance of one firing.
type firedBalance struct {
	run assay.Run
	balance.Balance
	copper   balance.Whereabouts
	forecast balance.Forecast
	why      string // why there is no forecast
}

// balanceEntry shows where the copper of each firing went and whether its
// weights and analyses close.
func balanceEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o struct {
		Firings  []string
		Elements []string
	}
	if !b.options(e, &o) {
		return nil
	}
	runs, ok := b.balanceRuns(e, o.Firings)
	if !ok {
		return nil
	}
	var told sampleNotices
	var fired []firedBalance
	for _, r := range runs {
		x, ns, ok, err := b.balanceOf(r, o.Elements)
		if err != nil {
			ns.Add(source.Error, "NO_BALANCE", r.At, "%s: no balance: %v", r.ID, err)
		}
		told.add(r.ID, withoutRun(r, ns))
		if ok && err == nil {
			fired = append(fired, x)
		}
	}
	if len(fired) > 0 {
		fig, err := b.bandsFigure(fired)
		if err != nil {
			return err
		}
		out.Parts = append(out.Parts, fig, b.copperTable(fired), b.closingTable(fired), b.testTable(fired), b.forecastTable(fired), b.streamTable(fired))
		b.balances.firings += len(fired)
		for _, x := range fired {
			for _, t := range x.Tested {
				if !slices.Contains(b.balances.tested, t) {
					b.balances.tested = append(b.balances.tested, t)
				}
			}
		}
	}
	if list := told.list(0); len(list) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: list})
	}
	out.Margin = append(out.Margin, "Weights: "+origin([]source.Cell{{File: runs[0].At.File, Sheet: runs[0].At.Sheet}}), "Yield is on the copper charged, not on the ore")
	return nil
}

// balanceRuns returns the firings an entry is about: all, or those named.
func (b *builder) balanceRuns(e *notebook.Entry, names []string) ([]assay.Run, bool) {
	all := b.study.Campaign.Runs
	if len(all) == 0 {
		b.lack(e, "NO_FIRINGS", "there is no sheet of firings; make one with a row for each, with columns Run, Ore stock, Ore (kg), Slag (kg), Ingot (g) (`smeltbook start` writes an example)")
		return nil, false
	}
	if len(names) == 0 {
		return all, true
	}
	var out []assay.Run
	var ids []string
	for _, r := range all {
		ids = append(ids, r.ID)
	}
	for _, n := range names {
		r, ok := b.study.Campaign.Run(n)
		if !ok {
			b.fail(e, "UNKNOWN_FIRING", "there is no firing %q%s", n, source.DidYouMean(n, ids))
			return nil, false
		}
		out = append(out, r)
	}
	return out, true
}

// balanceOf makes the balance of a firing; ok is false where the field sheet
// does not allow one, which the notices tell.
func (b *builder) balanceOf(r assay.Run, elements []string) (x firedBalance, ns source.Notices, ok bool, err error) {
	x.run = r
	f, ns, ok := balance.FromRun(b.study.Campaign, r)
	if !ok {
		return x, ns, false, nil
	}
	if len(elements) == 0 {
		known := f.Elements()
		for _, el := range balanceElements {
			if slices.Contains(known, el) {
				elements = append(elements, el)
			}
		}
	}
	if x.Balance, err = f.Settle(elements); err != nil {
		return x, ns, false, err
	}
	if x.copper, err = f.Whereabouts("Cu"); err != nil {
		return x, ns, false, err
	}
	for _, el := range x.Elements {
		if n, more := el.MoreOut(r); more {
			ns = append(ns, n)
		}
	}
	how := balance.Usual()
	how.Draws, how.Seed = b.study.Conditions.Draws, b.study.Conditions.Seed
	if x.forecast, err = balance.Predict(f.Materials(b.study.Campaign), how); err != nil {
		x.why = err.Error()
	}
	return x, ns, true, nil
}

// withoutRun takes the name of the firing off sentences that will be told of
// several.
func withoutRun(r assay.Run, ns source.Notices) source.Notices {
	out := slices.Clone(ns)
	for i := range out {
		out[i].Message = strings.TrimPrefix(out[i].Message, r.ID+": ")
	}
	return out
}

// placeKinds are the places of the bands, with the streams they gather.
var placeKinds = []struct {
	name  string
	kinds []string
	look  int
}{
	{"ingot", []string{assay.Metal}, 1}, {"prills", []string{assay.Prill}, 2}, {"matte", []string{assay.Matte}, 5},
	{"slag", []string{assay.Slag}, 0}, {"sweepings", []string{assay.Dust}, 3}, {balance.UnaccountedFor, nil, 4},
}

// gathered sums the copper of a firing by place.
func (x firedBalance) gathered() []balance.Place {
	outs := map[string][]quantity.Quantity{}
	k := 0
	for _, s := range x.Streams {
		if s.Out {
			outs[s.Kind] = append(outs[s.Kind], x.copper.Places[k].Kg)
			k++
		}
	}
	var all []balance.Place
	for _, p := range placeKinds {
		kg := x.copper.Places[len(x.copper.Places)-1].Kg
		if p.kinds != nil {
			if kg = quantity.Sum("kg", outs[p.kinds[0]]...); len(outs[p.kinds[0]]) == 0 {
				continue
			}
		}
		all = append(all, balance.Place{Name: p.name, Kg: kg, Share: quantity.Ratio(kg, x.copper.Charged, "1")})
	}
	return all
}

func (b *builder) bandsFigure(fired []firedBalance) (*page.Figure, error) {
	body := &figure.Bands{Places: make([]string, len(placeKinds))}
	for _, p := range placeKinds {
		body.Places[p.look] = p.name
	}
	for _, x := range fired {
		row := figure.BandRow{Name: x.run.ID, Total: fmt.Sprintf("%.0f g Cu", 1000*x.copper.Charged.Value)}
		for _, p := range x.gathered() {
			row.Parts = append(row.Parts, figure.BandPart{
				Place: slices.Index(body.Places, p.Name), Share: p.Share.Value,
				Label:   fmt.Sprintf("%s %s g, %s %%", p.Name, short(1000*p.Kg.Value), short(100*p.Share.Value)),
				Details: []figure.Detail{{Label: "copper", Value: p.Kg.Scale(1000, "g").WithUnit()}, {Label: "of the copper charged", Value: p.Share.Scale(100, "%").WithUnit()}},
			})
		}
		body.Rows = append(body.Rows, row)
	}
	return b.figure(figure.Figure{
		Caption: "Where the copper of each firing went. The black bar on the left is all copper charged; each band is as thick as its part. What is unaccounted for is what went in less what was found; where it is negative more was found than went in, and it has no band.",
		Alt:     fmt.Sprintf("Bands of copper for %d firings, from the copper charged on the left to ingot, prills, matte, slag, sweepings and what is unaccounted for on the right.", len(fired)),
		Body:    body,
	}, page.Narrow)
}

func inGrams(q quantity.Quantity) string { return q.Scale(1000, "g").WithUnit() }
