package report

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay"
	"smeltbook/assay/logratio/effects"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// oreGrade is the setting that is no column of the field sheet.
const oreGrade = "ore grade"

// usualSettings are looked at where the notebook names none, as far as the
// field sheet has them.
var usualSettings = []string{oreGrade, "Flux + Second flux / Ore", "Flux / Ore", "Charcoal / Ore", "Air", "Blowing"}

// settingOf reads a setting of the firings as a notebook names it: a column of
// the field sheet, a sum of columns over another, "Flux + Second flux / Ore",
// or the copper of the ore.
func (b *builder) settingOf(name string, runs []assay.Run) (effects.Setting, error) {
	s := effects.Setting{Name: name}
	if strings.EqualFold(name, oreGrade) {
		s.Name, s.Unit = oreGrade, "wt% Cu"
		for _, r := range runs {
			cu, _ := meanCopper(b.study.Campaign.OfStock(r.Text("ore stock"), assay.Ore))
			s.Values = append(s.Values, cu.Or(math.NaN()))
		}
		return s, nil
	}
	top, bottom, ratio := strings.Cut(name, "/")
	for _, r := range runs {
		v, unit, err := sumOf(r, top)
		if err != nil {
			return s, err
		}
		s.Unit = unit
		if ratio {
			w, per, err := sumOf(r, bottom)
			if err != nil {
				return s, err
			}
			v /= w
			s.Unit = unit + "/" + per
			if unit == per {
				s.Unit = ""
			}
		}
		if math.IsInf(v, 0) {
			v = math.NaN()
		}
		s.Values = append(s.Values, v)
	}
	return s, nil
}

// sumOf adds columns of a firing's record; NaN where one holds no number.
func sumOf(r assay.Run, names string) (sum float64, unit string, err error) {
	for k, name := range strings.Split(names, "+") {
		name = strings.TrimSpace(name)
		found := false
		for _, f := range r.Fields {
			if !strings.EqualFold(strings.TrimSpace(f.Name), name) {
				continue
			}
			if found = true; k > 0 && f.Unit != unit {
				return 0, "", fmt.Errorf("%q adds %s to %s; only columns of one unit can be added", names, f.Unit, unit)
			}
			unit = f.Unit
			if f.Cell.Class != quantity.Measured {
				sum = math.NaN()
			} else {
				sum += f.Cell.Value
			}
			break
		}
		if !found {
			return 0, "", fmt.Errorf("the field sheet of the firings has no column %q%s", name, source.DidYouMean(name, numberColumns(r)))
		}
	}
	return sum, unit, nil
}

func numberColumns(r assay.Run) []string {
	names := []string{oreGrade}
	for _, f := range r.Fields {
		if f.Cell.Class == quantity.Measured && !math.IsNaN(f.Cell.Value) && !strings.Contains(f.Name, "±") {
			names = append(names, strings.TrimSpace(f.Name))
		}
	}
	return names
}

// copperYield is the metal won of the copper charged, per cent: ingot and
// prills as weighed over the copper of the ore.
func (b *builder) copperYield(r assay.Run) float64 {
	ingot, ok := r.Mass("ingot")
	ore, okOre := r.Mass("ore")
	cu, _ := meanCopper(b.study.Campaign.OfStock(r.Text("ore stock"), assay.Ore))
	if !ok || !okOre || !cu.Known() || ore.Value*cu.Value == 0 {
		return math.NaN()
	}
	return 100 * (ingot.Value + r.PrillsTotal().Or(0)) / (ore.Value * cu.Value / 100)
}
