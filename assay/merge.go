package assay

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// metallic reports whether samples of a kind hold elements, not oxides.
func metallic(kind string) bool {
	return kind == Metal || kind == Prill || kind == Matte
}

// groupOf names what an analyte is a statement about, so that "CuO" by one
// method and "Cu" by another are seen as two answers to one question, while
// titrated ferrous iron and total iron are two questions.
func groupOf(id string) string {
	a, ok := chem.LookupAnalyte(id)
	if !ok {
		return id
	}
	switch a.Kind {
	case chem.Oxide, chem.OxideTotal, chem.Element:
		if id == "FeO" || id == "Fe2O3" {
			return id
		}
		return a.Element
	}
	return id
}

// choose takes for every group of analytes the values of the most trusted
// method that has a number there, or failing that a limit.
func choose(assays []Assay, r Recipe) (parts []chem.Part, chosen map[string]string) {
	type candidate struct {
		method string
		values []chem.Part
	}
	groups := map[string][]candidate{}
	var order []string
	for _, a := range assays {
		for _, v := range a.Values {
			if v.Class == quantity.Missing || v.Class == quantity.NotRun || v.Class == quantity.Unusable {
				continue
			}
			g := groupOf(v.Analyte)
			method := a.Method
			if v.Method != "" {
				method = recogniseMethod(v.Method, a.Method)
			}
			list, seen := groups[g]
			if !seen {
				order = append(order, g)
			}
			i := slices.IndexFunc(list, func(c candidate) bool { return c.method == method })
			if i < 0 {
				list = append(list, candidate{method: method})
				i = len(list) - 1
			}
			list[i].values = append(list[i].values, chem.Part{ID: v.Analyte, Quantity: v.Quantity})
			groups[g] = list
		}
	}
	chosen = map[string]string{}
	for _, g := range order {
		list := groups[g]
		slices.SortStableFunc(list, func(a, b candidate) int {
			if known := boolRank(anyKnown(b.values)) - boolRank(anyKnown(a.values)); known != 0 {
				return known
			}
			return r.rank(a.method) - r.rank(b.method)
		})
		best := list[0]
		parts = append(parts, combineReplicates(best.values))
		chosen[g] = best.method
	}
	ironOrigin(parts, chosen)
	return parts, chosen
}

// ironOrigin records for the printed iron forms which method they came from:
// a stated total, else the ferrous and ferric determinations.
func ironOrigin(parts []chem.Part, chosen map[string]string) {
	from := chosen["Fe"]
	if from == "" {
		from = chosen["FeO"]
	}
	if from == "" {
		from = chosen["Fe2O3"]
	}
	if from != "" {
		chosen["FeO"], chosen["Fe2O3"] = from, from
	}
}

func anyKnown(ps []chem.Part) bool {
	return slices.ContainsFunc(ps, func(p chem.Part) bool { return p.Known() })
}

func boolRank(b bool) int {
	if b {
		return 1
	}
	return 0
}

// combineReplicates averages repeated determinations of one analyte by one
// method. They share a calibration, so the standard uncertainty of their mean
// is no less than that of one of them (root mean square), and no less than
// their scatter over √n. Replicates below a limit are left out beside numbers.
func combineReplicates(ps []chem.Part) chem.Part {
	first := ps[0]
	var xs, us []float64
	var from []source.Cell
	for _, p := range ps {
		if p.ID != first.ID { // the same element stated twice in two forms: one determination, not two
			continue
		}
		if p.Known() {
			xs, us = append(xs, p.Value), append(us, p.U)
			from = append(from, p.From...)
		}
	}
	switch len(xs) {
	case 0:
		return first
	case 1:
		i := slices.IndexFunc(ps, func(p chem.Part) bool { return p.ID == first.ID && p.Known() })
		return ps[i]
	}
	n := float64(len(xs))
	var mean, stated, scatter float64
	for i := range xs {
		mean += xs[i] / n
		stated += us[i] * us[i] / n
	}
	for _, x := range xs {
		scatter += (x - mean) * (x - mean) / (n - 1)
	}
	u := math.Sqrt(math.Max(stated, scatter/n))
	if math.IsNaN(stated) {
		u = math.Sqrt(scatter / n)
	}
	return chem.Part{ID: first.ID, Quantity: quantity.WithU(mean, u, "wt%",
		fmt.Sprintf("mean of %d determinations; %s", len(xs), first.UNote), from...)}
}
