package wetlab

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/quantity"
	"smeltbook/assay/sheet"
	"smeltbook/assay/source"
)

// Titrant is a solution that the sheet standardises.
type Titrant struct {
	Name          string
	Runs          int
	Concentration quantity.Quantity // mol/L
}

// NamedLine is a calibration line that the sheet holds.
type NamedLine struct {
	Name string
	Line
	From []source.Cell
}

// standardisations reads the lines that fix titrants.
func (s *Sheet) standardisations(rows []row) {
	runs := map[string][]quantity.Quantity{}
	var order []string
	for _, x := range rows {
		if fold(x.text[roleMethod].Text) != fold(standardisation) {
			continue
		}
		name := x.text[roleSample].Text
		q, err := Standardisation{Titrant: name, Standard: x.text[roleAnalyte].Text, At: x.at, Readings: x.readings}.Compute()
		if err != nil {
			s.Notices.Add(source.Error, "STANDARDISATION", x.at, "%v", err)
			continue
		}
		if runs[name] == nil {
			order = append(order, name)
		}
		runs[name] = append(runs[name], q)
	}
	for _, name := range order {
		s.Titrants = append(s.Titrants, Titrant{name, len(runs[name]), meanTitre(runs[name])})
		if len(runs[name]) < 3 {
			s.Notices.Add(source.Note, "FEW_STANDARDISATIONS", source.Cell{File: s.File, Sheet: s.Sheet}, "%s was standardised in %d runs; three or more are usual", clip(name), len(runs[name]))
		}
	}
}

// fromTitrant gives a determination the concentration of the titrant it names.
func (s *Sheet) fromTitrant(d *Determination, cell sheet.RecordCell) {
	if cell.Empty() || d.has(Concentration) || d.has(Titre) {
		return
	}
	i, hint := named(s.Titrants, cell.Text, func(t Titrant) string { return t.Name })
	if i < 0 {
		s.Notices.Add(source.Error, "UNKNOWN_TITRANT", cell.At, "the titrant %q is not standardised on this sheet and has no concentration%s", clip(cell.Text), hint)
		return
	}
	q := s.Titrants[i].Concentration
	q.From = append([]source.Cell{cell.At}, q.From...)
	d.Readings = append(d.Readings, Reading{Key: Concentration, Quantity: q, Raw: cell.Text})
}

// calibrations fits the lines through standards of one name.
func (s *Sheet) calibrations(rows []row) {
	xs, ys, from := map[string][]float64{}, map[string][]float64{}, map[string][]source.Cell{}
	var order []string
	at := map[string]source.Cell{}
	for _, x := range rows {
		if fold(x.text[roleMethod].Text) != fold(calibrationStandard) {
			continue
		}
		name := x.text[roleSample].Text
		d := Determination{Readings: x.readings}
		c, okC := d.reading(StandardContent)
		y, okY := d.reading(Signal)
		if !okC || !okY {
			s.Notices.Add(source.Error, "MISSING_READING", x.at, "a standard of %s needs %q and %q", clip(name), heading(StandardContent), heading(Signal))
			continue
		}
		if xs[name] == nil {
			order = append(order, name)
			at[name] = x.at
		}
		xs[name], ys[name] = append(xs[name], c.Value), append(ys[name], y.Value)
		from[name] = append(append(from[name], c.From...), y.From...)
	}
	for _, name := range order {
		l, err := FitLine(xs[name], ys[name])
		if err != nil {
			s.Notices.Add(source.Error, "CALIBRATION", at[name], "the calibration %q: %v", clip(name), err)
			continue
		}
		s.Lines = append(s.Lines, NamedLine{name, l, from[name]})
	}
}

// fromLine gives a determination the concentration that its signal has on the
// calibration it names.
func (s *Sheet) fromLine(d *Determination, cell sheet.RecordCell) {
	y, ok := d.reading(Signal)
	if cell.Empty() || !ok || d.has(Solution) || d.has(Slope) {
		return
	}
	i, hint := named(s.Lines, cell.Text, func(l NamedLine) string { return l.Name })
	if i < 0 {
		s.Notices.Add(source.Error, "UNKNOWN_CALIBRATION", cell.At, "there is no calibration %q with three standards on this sheet%s", clip(cell.Text), hint)
		return
	}
	p := 1
	if r, ok := d.reading(SignalReadings); ok && r.Value >= 1 && r.Value <= 1000 {
		p = int(r.Value)
	}
	l := s.Lines[i]
	x, sx := l.At(y.Value, p)
	if x < l.Lo || x > l.Hi {
		s.Notices.Add(source.Warning, "BEYOND_CALIBRATION", y.From[0], "the signal of %s lies at %.3g mg/L, beyond the standards of %s (%.3g to %.3g mg/L)", clip(d.Sample), x, clip(l.Name), l.Lo, l.Hi)
	}
	q := quantity.WithU(x, sx, string(milligramL), fmt.Sprintf("from %d standards, s(y/x) %.2g", l.N, l.Syx), append(slices.Clone(y.From), l.From...)...)
	d.Readings = slices.DeleteFunc(slices.Clone(d.Readings), func(r Reading) bool { return r.Key == Signal })
	d.Readings = append(d.Readings, Reading{Key: Solution, Quantity: q, Raw: y.Raw, RawUnit: y.RawUnit})
}

// addition works out the portions of one solution to which standard was added.
func (s *Sheet) addition(rows []row) {
	m, err := Lookup(standardAddition)
	if err != nil {
		return
	}
	first := rows[0]
	d, ok := s.determination(first, m)
	if !ok {
		return
	}
	var xs, ys []float64
	var from []source.Cell
	content, aliquot := math.NaN(), math.NaN()
	for _, x := range rows {
		p := Determination{Readings: x.readings}
		added, okA := p.reading(AddedVolume)
		y, okY := p.reading(Signal)
		if !okA || !okY {
			s.Notices.Add(source.Error, "MISSING_READING", x.at, "an addition to %s needs %q (0 mL for none) and %q", clip(d.Sample), heading(AddedVolume), heading(Signal))
			return
		}
		xs, ys = append(xs, added.Value), append(ys, y.Value)
		from = append(append(from, added.From...), y.From...)
		if c, ok := p.reading(StandardContent); ok {
			content = c.Value
		}
		if a, ok := p.reading(Aliquot); ok {
			aliquot = a.Value
		}
	}
	l, err := FitLine(xs, ys)
	if err != nil {
		s.Notices.Add(source.Error, "CALIBRATION", first.at, "the additions to %s: %v", clip(d.Sample), err)
		return
	}
	if !(content > 0) || !(aliquot > 0) {
		s.Notices.Add(source.Error, "MISSING_READING", first.at, "the additions to %s need %q and the portion each was made to, %q", clip(d.Sample), heading(StandardContent), heading(Aliquot))
		return
	}
	x0, s0 := l.Added()
	q := quantity.WithU(x0*content/aliquot, s0*content/aliquot, string(milligramL), fmt.Sprintf("from %d additions, s(y/x) %.2g", l.N, l.Syx), from...)
	d.Readings = slices.DeleteFunc(slices.Clone(d.Readings), func(r Reading) bool {
		return slices.Contains([]Key{AddedVolume, Signal, StandardContent, Aliquot, MadeUpTo}, r.Key)
	})
	d.Readings = append([]Reading{{Key: Solution, Quantity: q, Raw: fmt.Sprintf("%d additions", l.N)}}, d.Readings...)
	s.Results = append(s.Results, d.Compute())
}

// named finds the thing of a name, or, with -1, suggests the nearest.
func named[T any](list []T, name string, of func(T) string) (i int, hint string) {
	var names []string
	for i, x := range list {
		if fold(of(x)) == fold(name) {
			return i, ""
		}
		names = append(names, of(x))
	}
	return -1, source.DidYouMean(name, names)
}
