package fragment

import (
	"math"
	"strings"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

var (
	nameFields = []string{"fragment", "piece", "sherd"}
	layerNames = []string{"slagged", "bloated", "vitrified", "oxidised", "grey", "raw"}
	millimetre = map[string]float64{"mm": 1, "cm": 10, "m": 1000}
)

// IsSheet reports whether a field sheet tells of fragments: it names them and
// has a chord, a template, a layer or points.
func IsSheet(t *sheet.Records) bool {
	return t.Has(nameFields...) && (isPoints(t) || t.Has("chord") || t.Has("template from") || t.Has(layerNames...))
}

func isPoints(t *sheet.Records) bool { return t.Has("x") && t.Has("y") && t.Has(nameFields...) }

type reader struct {
	out     []Fragment
	notices source.Notices
	assumed int
	first   source.Cell
}

// Read takes fragments, and points of their edges, out of the field sheets.
// What is wrong is told with the cell and what would mend it.
func Read(sheets []sheet.Records) ([]Fragment, source.Notices) {
	var r reader
	for i := range sheets {
		if t := &sheets[i]; IsSheet(t) && !isPoints(t) {
			for _, rec := range t.Rows {
				r.row(t, rec)
			}
		}
	}
	for i := range sheets {
		if t := &sheets[i]; isPoints(t) {
			for _, rec := range t.Rows {
				r.point(t, rec)
			}
		}
	}
	if r.assumed > 0 {
		r.notices.Add(source.Note, "FRAGMENT_ASSUMED_U", r.first, "%d readings of fragments state no uncertainty; %g mm are assumed for a sagitta, %g for a chord, %g for a point, %g for the depth of a layer: state yours in columns such as Sagitta ± (mm)", r.assumed, AssumedSagitta, AssumedChord, AssumedPoint, AssumedDepth)
	}
	return r.out, r.notices
}

func (r *reader) row(t *sheet.Records, rec sheet.Record) {
	name, at := t.Text(rec, nameFields...)
	if name == "" {
		return
	}
	for _, f := range r.out {
		if strings.EqualFold(f.Name, name) {
			r.notices.Add(source.Error, "FRAGMENT_TWICE", at, "the fragment %q stands at %s already; give every fragment one row", name, f.At)
			return
		}
	}
	f := Fragment{Name: name, At: at}
	f.Site, _ = t.Text(rec, "site")
	f.Context, _ = t.Text(rec, "context")
	f.Face, _ = t.Text(rec, "face")
	f.Note, _ = t.Text(rec, "note", "notes", "remarks")
	f.Chord, f.UChord = r.length(t, rec, "chord", AssumedChord, false)
	f.Sagitta, f.USagitta = r.length(t, rec, "sagitta", AssumedSagitta, true)
	f.TemplateFrom, _ = r.length(t, rec, "template from", 0, false)
	f.TemplateTo, _ = r.length(t, rec, "template to", 0, false)
	f.Wall, _ = r.length(t, rec, "wall", 0, false)
	if f.Chord > 0 && f.Sagitta > f.Chord/2 {
		r.notices.Add(source.Error, "FRAGMENT_SAGITTA", at, "a sagitta of %g mm over a chord of %g mm is more than half a circle; exchange the two, or correct one", f.Sagitta, f.Chord)
		return
	}
	if f.TemplateTo < f.TemplateFrom {
		r.notices.Add(source.Error, "FRAGMENT_TEMPLATE", at, "a template from %g to %g mm is no range; exchange the two", f.TemplateFrom, f.TemplateTo)
		return
	}
	r.layers(t, rec, &f)
	r.out = append(r.out, f)
}

// layers reads thicknesses from the hot face outwards.
func (r *reader) layers(t *sheet.Records, rec sheet.Record, f *Fragment) {
	_, f.UDepth = math.NaN(), AssumedDepth
	depth := 0.0
	for _, name := range layerNames {
		x, _ := r.length(t, rec, name, 0, true)
		if math.IsNaN(x) || x == 0 {
			continue
		}
		depth += x
		c, _ := t.Cell(rec, name)
		f.Layers = append(f.Layers, Depth{Layer: name, Outer: depth, At: c.At})
	}
	if n := len(f.Layers); n > 0 {
		f.Layers[n-1].Broken = true
		if i := t.Index("depth ±", "layers ±"); i >= 0 && i < len(rec.Cells) && rec.Cells[i].Class == quantity.Measured && rec.Cells[i].Value > 0 {
			f.UDepth = rec.Cells[i].Value
		} else {
			r.assume(f.Layers[0].At)
		}
	}
}

func (r *reader) assume(at source.Cell) {
	if r.assumed == 0 {
		r.first = at
	}
	r.assumed++
}

// length reads a length in mm and its standard uncertainty, from a ± column or
// assumed; NaN where nothing was read.
func (r *reader) length(t *sheet.Records, rec sheet.Record, name string, assumed float64, zero bool) (x, u float64) {
	i := t.Index(name)
	if i < 0 || i >= len(rec.Cells) || rec.Cells[i].Empty() || rec.Cells[i].Class == quantity.Missing {
		return math.NaN(), math.NaN()
	}
	f, c := t.Fields[i], rec.Cells[i]
	factor, ok := millimetre[strings.ToLower(f.Unit)]
	switch {
	case !ok:
		r.notices.AddNew(source.Notices{{Severity: source.Error, Code: "FRAGMENT_UNIT", At: source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref},
			Message: "the column " + f.Name + " has no unit of length; write it in the heading: " + f.Name + " (mm)"}})
		return math.NaN(), math.NaN()
	case c.Class != quantity.Measured:
		r.notices.Add(source.Error, "FRAGMENT_NUMBER", c.At, "%q is no length; write a number, or leave the cell empty where nothing was read", c.Text)
		return math.NaN(), math.NaN()
	case c.Value < 0 || c.Value == 0 && !zero:
		r.notices.Add(source.Error, "FRAGMENT_NUMBER", c.At, "a %s of %g is impossible", strings.ToLower(f.Name), c.Value)
		return math.NaN(), math.NaN()
	}
	x, u = c.Value*factor, assumed
	if k := t.Index(name+" ±", "± "+name); k >= 0 && k < len(rec.Cells) && rec.Cells[k].Class == quantity.Measured && rec.Cells[k].Value > 0 {
		u = rec.Cells[k].Value * factor
	} else if assumed > 0 {
		r.assume(c.At)
	}
	return x, u
}

func (r *reader) point(t *sheet.Records, rec sheet.Record) {
	name, at := t.Text(rec, nameFields...)
	if name == "" {
		return
	}
	before := len(r.notices)
	x, u := r.coordinate(t, rec, "x"), AssumedPoint
	y := r.coordinate(t, rec, "y")
	if len(r.notices) > before || math.IsNaN(x) || math.IsNaN(y) {
		if len(r.notices) == before {
			r.notices.Add(source.Error, "FRAGMENT_POINT", at, "this point of %q has no x or no y; write both, or delete the row", name)
		}
		return
	}
	if i := t.Index("point ±", "±"); i >= 0 && i < len(rec.Cells) && rec.Cells[i].Class == quantity.Measured && rec.Cells[i].Value > 0 {
		u = rec.Cells[i].Value
	}
	for i := range r.out {
		if f := &r.out[i]; strings.EqualFold(f.Name, name) {
			f.Points, f.UPoints = append(f.Points, Point{x, y}), u
			return
		}
	}
	r.out = append(r.out, Fragment{Name: name, At: at, Chord: math.NaN(), UChord: math.NaN(), Sagitta: math.NaN(), USagitta: math.NaN(),
		TemplateFrom: math.NaN(), TemplateTo: math.NaN(), Wall: math.NaN(), Points: []Point{{x, y}}, UPoints: u})
}

// coordinate reads a place in mm, which may be negative.
func (r *reader) coordinate(t *sheet.Records, rec sheet.Record, name string) float64 {
	i := t.Index(name)
	f, c := t.Fields[i], rec.Cells[i]
	factor, ok := millimetre[strings.ToLower(f.Unit)]
	switch {
	case c.Empty():
		return math.NaN()
	case !ok:
		r.notices.AddNew(source.Notices{{Severity: source.Error, Code: "FRAGMENT_UNIT", At: source.Cell{File: t.File, Sheet: t.Sheet, Ref: f.Ref},
			Message: "the places of points have no unit of length; write it in the heading: " + f.Name + " (mm)"}})
		return math.NaN()
	case c.Class != quantity.Measured:
		r.notices.Add(source.Error, "FRAGMENT_NUMBER", c.At, "%q is no place of a point; write a number", c.Text)
		return math.NaN()
	}
	return c.Value * factor
}
