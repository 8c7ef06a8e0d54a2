package furnace

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"smeltbook/phase/redox"
)

// Risk is something that can go wrong.
type Risk struct {
	Key    string  // "too_cold"
	Margin float64 // how far off it is, in standard uncertainties or what stands for one; below 0 it is foreseen
	Stops  bool    // it ends the firing; else it spoils something
	Says   string  // what is foreseen
	Do     string  // what helps
}

// feoActivity is assumed of the slag where iron is asked after.
const feoActivity = 0.5

// risks lists what can go wrong: what stops the firing first, then by margin.
func (o *Firing) risks() {
	f, s := o.Furnace, o.State
	add := func(key string, margin float64, stops bool, do, says string, args ...any) {
		o.Risks = append(o.Risks, Risk{key, margin, stops, fmt.Sprintf(says, args...), do})
	}
	hot := o.Spread.HotTC
	add("too_cold", (hot.Value-o.WorkingTC)/hot.U, true, "more air, charcoal broken smaller or larger by a trial, a smaller bowl, slower charging",
		"before the pipe %s, where %.0f °C are asked; hot enough in %.0f %% of the draws", hot.WithUnit(), o.WorkingTC, 100*o.Spread.HotEnough)
	add("blown_through", (0.8-s.BurnShare)/0.2, true, "heap more charcoal, break it smaller, or spread the air over two pipes",
		"oxygen reaches %.0f cm into the bed, over %.0f %% of the charcoal that the gas passes", 100*s.BurnReach, 100*s.BurnShare)
	if o.ChargeKg > 0 {
		add("overcharged", (o.MostKgH-o.RateKgH)/max(0.2*o.MostKgH, 0.2), true, "charge less at a time, or blow more",
			"%.2g kg/h are charged, and the fire carries %.2g at most", o.RateKgH, o.MostKgH)
	}
	if limit, ok := ironRatio(s.BedTC()); ok {
		r := o.Spread.Ratio
		sd := math.Sqrt(math.Log1p(r.SD * r.SD / (r.Mean * r.Mean)))
		add("iron", math.Log(limit/s.Ratio())/max(sd, 0.1), false, "less charcoal over the pipe, larger lumps, or a little less air",
			"CO/CO2 is %.2g in the bed (%.2g to %.2g); from %.2g on iron comes down with the copper", s.Ratio(), r.Low, r.High, limit)
	}
	add("lining", (o.LiningTC-hot.Value)/math.Hypot(hot.U, 50), false, "a better clay with sand or chaff at the pipe, less air, or a pipe that reaches further in",
		"the wall at the pipe faces %.0f °C and gives way from about %.0f", hot.Value, o.LiningTC)
	add("floor", (s.FloorTC-1085)/80, false, "a lower pipe, a pipe that points down, a longer heating up, or a shallower bowl",
		"by the lumps alone the floor has about %.0f °C; copper freezes at 1085", s.FloorTC)
	if b := o.Backdraw; b.Share > 0 {
		add("bellows", (LeatherTC-b.BellowsTC)/15, true, "a pipe in two pieces with a gap, a valve that shuts, a longer nozzle, or two bellows on one pipe",
			"%.0f %% of an intake is gas of the fire, it arrives with %.0f °C, and the bellows warm to %.0f °C; leather stands about %.0f", 100*b.Share, b.ArrivesTC, b.BellowsTC, LeatherTC)
	}
	if m, says := o.people(); says != "" {
		add("people", m, false, "more people in turns, larger bellows worked more slowly, or a wider pipe", "%s", says)
	}
	if f.Ground.Moisture > 0 {
		beyond := o.Drying.DriedM - f.Bowl.Lining
		add("damp_ground", (beyond-0.02)/0.02, false, "heat the empty bowl longer, dry the pit with a wood fire the day before, or bed the lining on dry sand or sherds",
			"at the first charge the ground is dry %.0f mm behind the lining; steam under a melt throws it out", 1000*max(beyond, 0))
	}
	slices.SortStableFunc(o.Risks, func(a, b Risk) int {
		if x, y := a.Stops && a.Margin < 0, b.Stops && b.Margin < 0; x != y {
			if x {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.Margin, b.Margin)
	})
}

// ironRatio is CO/CO2 in balance with iron and a slag of feoActivity.
func ironRatio(tc float64) (float64, bool) {
	log, _, err := redox.IronLimit(tc, feoActivity, 1)
	if err != nil {
		return 0, false
	}
	r, err := redox.GasRatio(log, tc)
	return r, err == nil
}

// people is how near those who blow come to what is kept up for hours.
func (o *Firing) people() (float64, string) {
	b := o.Blower
	switch b.Kind {
	case "fan":
		return 0, ""
	case "blowpipe":
		each := b.Stroke * b.PerMinute
		return (MostBlowpipe*0.7 - each) / 10, fmt.Sprintf("each blows %.0f L/min by mouth for %.1f h; %.0f is the most and half of it is kept up", each, o.TotalH, MostBlowpipe)
	}
	return min((MostStrokes-b.PerMinute)/10, (MostWatts-o.Watts)/20),
		fmt.Sprintf("%.0f strokes of %.2g L a minute against %.0f Pa for %.1f h, %.0f W beside lifting the bellows; %.0f strokes and %.0f W are kept up in spells", b.PerMinute, b.Stroke, o.Pressure, o.TotalH, o.Watts, MostStrokes, MostWatts)
}
