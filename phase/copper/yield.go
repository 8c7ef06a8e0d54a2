package copper

import (
	"fmt"
	"math"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Tracer is something that ore and slag both hold, by which excavated slag can
// be counted back to ore; both in wt%.
type Tracer struct {
	Name        string // "FeO", "SiO2"
	Ore, Slag   quantity.Quantity
	OnlyFromOre bool // nothing but the ore brought it: bounds the slag from above
	AllToSlag   bool // none of it went elsewhere, as iron may into the copper: bounds it from below
}

// Yield is the slag that belongs to one kilogram of ore and to one of copper.
type Yield struct {
	SlagPerOre    Interval // kg/kg
	SlagPerCopper Interval // kg/kg; +Inf where no copper need have been won
	Recovered     Interval // share of the ore's copper that was won, 0 to 1
	Tracers       []TracerBound
	Notices       source.Notices
}

// TracerBound is what one tracer says of the slag from one kilogram of ore.
type TracerBound struct {
	Name       string
	SlagPerOre Interval // Ore/Slag within the uncertainty of both
	Low, High  bool     // which ends bound
}

// SlagPerCopper bounds the kilograms of slag for each kilogram of copper from
// an ore and a slag. Of each tracer
//
//	s = t_ore/t_slag    kg slag per kg ore
//
// is at least the slag where all of the tracer went to the slag (whatever
// lining, flux and ash added needs more slag still), and at most where it came
// from the ore alone. With s, and the copper of ore and slag in wt%,
//
//	slag per copper = s/((c_ore − s·c_slag)/100)
//
// Both coppers are of the same state as the tracers: of the ore as charged, of
// the slag with its prills. Uncertainties count twice. It fails where nothing
// bounds the slag.
func SlagPerCopper(oreCu, slagCu quantity.Quantity, tracers []Tracer) (Yield, error) {
	ore, ok := bounds(oreCu)
	if !ok || !(ore.Hi > 0) {
		return Yield{}, fmt.Errorf("the copper of the ore is not known (%s)", oreCu.Text())
	}
	inSlag, ok := bounds(slagCu)
	if !ok {
		return Yield{}, fmt.Errorf("the copper of the slag is not known (%s)", slagCu.Text())
	}
	y := Yield{SlagPerOre: Interval{0, math.Inf(1)}}
	lowFrom, highFrom := "", ""
	for _, t := range tracers {
		b, err := t.bound()
		if err != nil {
			return Yield{}, err
		}
		y.Tracers = append(y.Tracers, b)
		if b.Low && b.SlagPerOre.Lo > y.SlagPerOre.Lo {
			y.SlagPerOre.Lo, lowFrom = b.SlagPerOre.Lo, t.Name
		}
		if b.High && b.SlagPerOre.Hi < y.SlagPerOre.Hi {
			y.SlagPerOre.Hi, highFrom = b.SlagPerOre.Hi, t.Name
		}
	}
	if lowFrom == "" && highFrom == "" {
		return Yield{}, fmt.Errorf("no tracer bounds the slag; say of at least one that only the ore brought it or that all of it went to the slag")
	}
	if y.SlagPerOre.Lo > y.SlagPerOre.Hi {
		return y, fmt.Errorf("by %s there is at least %.3g kg slag to a kg of ore, by %s at most %.3g; %s came from elsewhere too, or %s did not all go to the slag, or this ore did not make this slag",
			lowFrom, y.SlagPerOre.Lo, highFrom, y.SlagPerOre.Hi, highFrom, lowFrom)
	}
	if most := ore.Hi / inSlag.Lo; inSlag.Lo > 0 && y.SlagPerOre.Lo >= most {
		return y, fmt.Errorf("%.3g kg slag with %.3g wt%% copper hold all the copper of a kg of ore (%.3g wt%%): this ore did not make this slag", y.SlagPerOre.Lo, inSlag.Lo, ore.Hi)
	}
	y.SlagPerCopper = Interval{perCopper(y.SlagPerOre.Lo, ore.Hi, inSlag.Lo), perCopper(y.SlagPerOre.Hi, ore.Lo, inSlag.Hi)}
	y.Recovered = Interval{recovered(y.SlagPerOre.Hi, ore.Lo, inSlag.Hi), recovered(y.SlagPerOre.Lo, ore.Hi, inSlag.Lo)}
	y.explain(lowFrom, highFrom)
	return y, nil
}

func (t Tracer) bound() (TracerBound, error) {
	o, okOre := bounds(t.Ore)
	s, okSlag := bounds(t.Slag)
	if !okOre || !okSlag || !(s.Hi > 0) || !(o.Hi > 0) {
		return TracerBound{}, fmt.Errorf("%s traces nothing: ore %s, slag %s wt%%", t.Name, t.Ore.Text(), t.Slag.Text())
	}
	b := TracerBound{Name: t.Name, SlagPerOre: Interval{o.Lo / s.Hi, math.Inf(1)}, Low: t.AllToSlag, High: t.OnlyFromOre}
	if s.Lo > 0 {
		b.SlagPerOre.Hi = o.Hi / s.Lo
	}
	return b, nil
}

// perCopper is s/((c_ore − s c_slag)/100), +Inf where no copper is left.
func perCopper(s, ore, inSlag float64) float64 {
	won := ore - s*inSlag
	if math.IsInf(s, 1) || won <= 0 {
		return math.Inf(1)
	}
	return 100 * s / won
}

func recovered(s, ore, inSlag float64) float64 {
	if inSlag == 0 {
		return 1
	}
	if math.IsInf(s, 1) || ore <= 0 {
		return 0
	}
	return max(1-s*inSlag/ore, 0)
}

func (y *Yield) explain(lowFrom, highFrom string) {
	switch {
	case lowFrom == "":
		y.Notices.Add(source.Note, "YIELD_NO_LOWER_END", source.Cell{},
			"nothing bounds the slag from below, for no tracer is known to have gone to the slag whole; the slag to each kg of copper is known from above alone")
	case highFrom == "":
		y.Notices.Add(source.Note, "YIELD_NO_UPPER_END", source.Cell{},
			"nothing bounds the slag from above, for every tracer may have come from lining, flux or ash too; the slag to each kg of copper is known from below alone")
	}
	if math.IsInf(y.SlagPerCopper.Hi, 1) && highFrom != "" {
		y.Notices.Add(source.Warning, "YIELD_NO_COPPER", source.Cell{},
			"within the uncertainties the slag may hold all copper of the ore; no upper end of slag to copper")
	}
}
