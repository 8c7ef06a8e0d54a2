package notebook

import (
	"strconv"

	"go.yaml.in/yaml/v3"

	"smeltbook/assay"
	"smeltbook/assay/chem"
	"smeltbook/assay/quality"
)

// demands is the front matter's quality.
type demands struct {
	Totals yaml.Node // by method
	Target yaml.Node // by analyte
}

// limits are the bounds of a total as written.
type limits struct {
	Good   []float64
	Accept []float64
	Use    []float64
}

func (d *decoder) demands(q demands) assay.Demands {
	var out assay.Demands
	for _, p := range d.optional(&q.Totals, "totals") {
		var l limits
		d.value(p.value, rv(&l), "the totals of "+strconv.Quote(p.key))
		t := quality.FullAnalysis()
		ok := d.bounds(p, l.Good, &t.Good) && d.bounds(p, l.Accept, &t.Accept) && d.bounds(p, l.Use, &t.Use)
		if err := t.Check(); ok && err != nil {
			d.fail(p.value.Line, "WRONG_VALUE", "the totals of %q: %v", p.key, err)
			continue
		}
		if out.Totals == nil {
			out.Totals = map[string]quality.TotalLimits{}
		}
		out.Totals[p.key] = t
	}
	for _, p := range d.optional(&q.Target, "target") {
		if !d.analyte(p.line, p.key) {
			continue
		}
		if u, ok := d.relative(p); ok {
			if out.Targets == nil {
				out.Targets = map[string]float64{}
			}
			out.Targets[p.key] = u
		}
	}
	return out
}

// bounds takes a pair of limits; none leaves those there are.
func (d *decoder) bounds(p pair, stated []float64, into *[2]float64) bool {
	switch len(stated) {
	case 0:
		return true
	case 2:
		*into = [2]float64{stated[0], stated[1]}
		return true
	}
	d.fail(p.value.Line, "WRONG_VALUE", "limits of a total are two numbers, as in accept: [98.5, 101.5], not %d", len(stated))
	return false
}

func (d *decoder) analyte(line int, id string) bool {
	if _, ok := chem.LookupAnalyte(id); !ok {
		d.fail(line, "UNKNOWN_WORD", "%q is no oxide or element known here; write it as SiO2 or Cu", id)
		return false
	}
	return true
}

// correction is one method's entry under the recipe's correct.
type correction struct {
	Analytes []string
	Kinds    []string
}

func (d *decoder) corrections(n *yaml.Node) []assay.Correction {
	var out []assay.Correction
	for _, p := range d.optional(n, "correct") {
		var x correction
		d.value(p.value, rv(&x), "the correction of "+strconv.Quote(p.key))
		if len(x.Analytes) == 0 {
			d.fail(p.line, "WRONG_VALUE", "the correction of %q names no analytes; write for example {analytes: [Cu], kinds: [slag]}", p.key)
			continue
		}
		known := true
		for _, a := range x.Analytes {
			known = d.analyte(p.line, a) && known
		}
		if known {
			out = append(out, assay.Correction{Method: p.key, Analytes: x.Analytes, Kinds: x.Kinds, Line: p.line})
		}
	}
	return out
}
