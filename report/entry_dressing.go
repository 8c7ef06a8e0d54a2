package report

import (
	"context"
	"slices"
	"strings"

	"smeltbook/assay/dressing"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
	"smeltbook/report/notebook"
	"smeltbook/report/page"
)

// dressingOptions are those of a dressing entry.
type dressingOptions struct {
	Circuits   []string
	Mineral    string   // the copper mineral of the ore
	Liberation *float64 // mm, size below which its grains are free
	Sampling   string   // whether the error of splitting is added to the assays

	Ore      string    // group of ores whose yield in the furnace is asked
	Flux     string    // stock or sample of the flux
	Slag     string    // group of slags like those that would form
	Ratio    *float64  // FeO/SiO2 wanted in the slag
	Charcoal *float64  // kg for a kg of ore
	At       float64   // °C
	LogPO2   []float64 `yaml:"log_po2"`
}

// dressingUsed is what a dressing entry rested on, for the methods.
type dressingUsed struct {
	mineral  dressing.Mineral
	sampling dressing.Sampling
	added    bool
	sizes    bool
	rich     *richness
}

const (
	samplingAdded = "added"
	samplingShown = "shown"
)

// dressingEntry shows how well the ore was dressed, and how well it had to be.
func dressingEntry(_ context.Context, b *builder, e *notebook.Entry, out *page.Entry) error {
	var o dressingOptions
	if !b.options(e, &o) {
		return nil
	}
	circuits, ok := b.circuits(e, o.Circuits)
	if !ok {
		return nil
	}
	a := assumer{b: b, e: e}
	name := a.word("mineral", o.Mineral, "malachite", dressing.Minerals())
	mineral, _ := dressing.LookupMineral(name)
	sampling := dressing.DefaultSampling(mineral)
	sampling.Liberation = a.number("liberation", o.Liberation, sampling.Liberation, 1e-3, 100, "mm")
	added := o.Sampling == samplingAdded
	if o.Sampling != "" {
		a.word("sampling", o.Sampling, samplingShown, []string{samplingAdded, samplingShown})
	}
	if a.failed {
		return nil
	}
	used := dressingUsed{mineral: mineral, sampling: sampling, added: added}
	var balanced []*dressing.Reconciled
	var told source.Notices
	for _, c := range circuits {
		if added {
			c, _ = c.WithSampling(sampling)
		}
		r, err := dressing.Reconcile(c)
		if err != nil {
			b.lack(e, "DRESSING_BALANCE", "%v", err)
			return nil
		}
		balanced = append(balanced, &r)
		told = append(told, r.Notices...)
	}
	out.Parts = append(out.Parts, dressingText(balanced), b.stagesTable(balanced, mineral), b.waysTable(balanced), b.gangueTable(balanced))
	fig, err := b.gradeRecovery(balanced)
	if err != nil {
		return err
	}
	if fig != nil {
		out.Parts = append(out.Parts, fig)
	}
	if t := b.sizesTable(balanced); t != nil {
		used.sizes = true
		out.Parts = append(out.Parts, t)
	}
	out.Parts = append(out.Parts, b.reconciledTable(balanced))
	splits, ns := b.splitsTable(circuits, sampling, added)
	told = append(told, ns...)
	if splits != nil {
		out.Parts = append(out.Parts, splits)
	}
	if o.Ore != "" {
		rich, ns, ok := b.richness(e, o, mineral, balanced, &a)
		if !ok {
			return nil
		}
		told = append(told, ns...)
		if used.rich = rich; rich != nil {
			fig, err := b.richFigure(rich)
			if err != nil {
				return err
			}
			out.Parts = append(out.Parts, rich.text(), fig, b.richTable(rich))
		}
	} else if o.Flux != "" || o.Slag != "" || o.Ratio != nil || o.Charcoal != nil || o.At != 0 || len(o.LogPO2) > 0 {
		b.fail(e, "NO_ORE", "flux, slag, ratio, charcoal, at and log_po2 say how an ore would smelt; name the group of the ores with ore:")
		return nil
	}
	b.dressings = append(b.dressings, used)
	out.Parts = append(out.Parts, a.parts()...)
	if len(told) > 0 {
		out.Parts = append(out.Parts, &page.Notices{List: told})
	}
	out.Margin = dressingMargin(circuits)
	return nil
}

// circuits returns those named, or all.
func (b *builder) circuits(e *notebook.Entry, names []string) ([]dressing.Circuit, bool) {
	all := b.study.Campaign.Dressing.Circuits
	if len(all) == 0 {
		b.lack(e, "NO_DRESSING", "no field sheet tells of dressing; add one with the columns Stage, Stream, Mass (kg) and Cu grade (wt%%), one row a stream, or take this block out")
		return nil, false
	}
	if len(names) == 0 {
		return all, true
	}
	var known []string
	for _, c := range all {
		known = append(known, c.Name)
	}
	var out []dressing.Circuit
	for _, name := range names {
		i := slices.Index(known, name)
		if i < 0 {
			b.fail(e, "UNKNOWN_CIRCUIT", "there is no circuit %q%s", name, source.DidYouMean(name, known))
			return nil, false
		}
		out = append(out, all[i])
	}
	return out, true
}

func dressingMargin(circuits []dressing.Circuit) []string {
	var files []string
	stages := 0
	for _, c := range circuits {
		stages += len(c.Stages)
		for _, s := range c.Stages {
			if f := s.Feed.At.File; f != "" && !slices.Contains(files, f) {
				files = append(files, f)
			}
		}
	}
	return []string{counted(stages, "stage") + ", " + counted(len(circuits), "circuit"), "from " + strings.Join(files, ", ")}
}

// percent states a share in per cent.
func percent(q quantity.Quantity) quantity.Quantity { return q.Scale(100, "%") }
