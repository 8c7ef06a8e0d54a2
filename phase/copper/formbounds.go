package copper

import (
	"fmt"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// measured is bounds for what may not have been measured at all.
func measured(q quantity.Quantity) (Interval, bool) {
	if q.Unit == "" && q.Value == 0 && len(q.From) == 0 { // the zero Quantity
		return Interval{}, false
	}
	return bounds(q)
}

func boundMetal(f *Finds, total Interval, out *Forms) error {
	m := &out.Metal
	if f.Prills != nil {
		i, err := f.Prills.interval()
		if err != nil {
			return err
		}
		if i.Lo > total.Hi {
			return fmt.Errorf("the prills seen hold at least %.2f wt%% copper, more than the %.2f wt%% found in the slag; the sections were richer than the sample analysed, or the prills were taken out of it before: analyse the same piece or add the prills to the total", i.Lo, total.Hi)
		}
		m.Wt = Interval{i.Lo, min(i.Hi, total.Hi)}
		m.Because = "from the area of prills and the densities of copper and slag"
	}
	if s, ok := measured(f.Sieved); ok {
		if s.Lo > total.Hi {
			return fmt.Errorf("sieving won at least %.2f wt%% copper metal, more than the %.2f wt%% found in the slag; add the prills sieved out to the total", s.Lo, total.Hi)
		}
		if s.Lo > m.Wt.Lo {
			m.Wt.Lo = s.Lo
			if f.Prills == nil {
				m.Because = "at least what sieving won; finer prills stay in the powder"
			} else {
				m.Because += ", and at least what sieving won"
			}
			if s.Lo > m.Wt.Hi {
				out.Notices.Add(source.Warning, "COPPER_SIEVED_ABOVE_AREA", source.Cell{},
					"sieving won more metal (%.2f wt%%) than the sections showed (%.2f wt%%); the larger prills missed the sections, so the area is not used as an upper bound", s.Lo, m.Wt.Hi)
				m.Wt.Hi = total.Hi
			}
		}
	}
	return nil
}

func boundSulphide(f *Finds, _ Interval, out *Forms) error {
	s, ok := measured(f.Sulphur)
	if !ok {
		return nil
	}
	matte := f.MatteCopper
	if matte == (Interval{}) {
		matte = Interval{poorMatte, 100 * copperPerSulphur / (1 + copperPerSulphur)}
	}
	if !(matte.Lo >= 0) || matte.Lo > matte.Hi || matte.Hi > 100 {
		return fmt.Errorf("a matte with %g to %g wt%% copper is impossible", matte.Lo, matte.Hi)
	}
	out.SulphideEstimate = Interval{nagamori * s.Lo * matte.Lo, nagamori * s.Hi * matte.Hi}
	out.Notices.Add(source.Note, "COPPER_SULPHIDE_UNVERIFIED", source.Cell{},
		"the sulphide-bound copper after Nagamori 1974 (%.3f to %.3f wt%%) rests on a coefficient from memory that is not verified; it is shown and bounds nothing", out.SulphideEstimate.Lo, out.SulphideEstimate.Hi)
	out.Sulphide.Wt.Hi = min(out.Sulphide.Wt.Hi, copperPerSulphur*s.Hi)
	out.Sulphide.Because = "at most what all sulphur would bind as Cu2S"
	return nil
}

func boundDissolved(f *Finds, total Interval, out *Forms) error {
	if f.Conditions == nil {
		return nil
	}
	l, err := Split(f.Total, *f.Conditions)
	if err != nil {
		return err
	}
	out.Notices = append(out.Notices, l.Notices...)
	d := &out.Dissolved
	d.Wt = Interval{min(l.Equilibrium.Lo, total.Lo), min(l.Equilibrium.Hi, total.Hi)}
	d.Because = fmt.Sprintf("a slag under copper metal dissolves %.2f to %.2f wt%% at the temperature and oxygen potential given", l.Equilibrium.Lo, l.Equilibrium.Hi)
	if d.Wt.Lo+out.Metal.Wt.Lo > total.Hi {
		out.Notices.Add(source.Warning, "COPPER_DISSOLVED_BELOW_EQUILIBRIUM", source.Cell{},
			"the metal seen leaves less than the %.2f wt%% that a slag under copper metal would dissolve at these conditions; they are not those of this slag, and dissolved copper is bounded from above alone", d.Wt.Lo)
		d.Wt.Lo = 0
	}
	return nil
}
