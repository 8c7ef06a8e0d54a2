package redox

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

// Bound is what one observation says of the oxygen potential at one
// temperature: log10 of the oxygen fugacity in bar lies from Low to High. An
// open end is infinite.
type Bound struct {
	Low, High float64
	Reason    string // a plain sentence without full stop
	Source    string
	Soft      bool // rests on a model outside its range or on an analysis that cooling or weathering changed
	Notices   source.Notices
}

// Window is the interval of oxygen potential that all observations leave.
type Window struct {
	TC           float64
	Low, High    float64 // log10 bar; infinite where nothing bounds that side
	FromLow      int     // place in Bounds of the one that sets Low, −1 where none
	FromHigh     int     // and High
	Bounds       []Bound // all that were used, in the order given
	Contradicted bool    // Low is above High: two observations exclude each other at this temperature
	Notices      source.Notices
}

// Join returns the window that all bounds leave at a temperature in °C. Bounds
// that contradict each other leave none: Low is then above High, and a notice
// names the two. A soft bound gives way to a firm one.
func Join(tc float64, bounds ...Bound) Window {
	w := Window{TC: tc, Low: math.Inf(-1), High: math.Inf(1), FromLow: -1, FromHigh: -1, Bounds: bounds}
	w.narrow(false)
	if w.Low <= w.High {
		w.narrow(true)
	}
	for _, b := range bounds {
		w.Notices = append(w.Notices, b.Notices...)
	}
	if w.Low > w.High {
		w.Contradicted = true
		w.Notices.Add(source.Warning, "OXYGEN_CONTRADICTION", source.Cell{},
			"at %.0f °C two observations exclude each other: %s (log fO2 at least %s), but %s (at most %s); check them, or the temperature",
			tc, bounds[w.FromLow].Reason, signed(w.Low), bounds[w.FromHigh].Reason, signed(w.High))
	}
	return w
}

// narrow takes the firm or the soft bounds into the window. A soft bound that
// would empty it is told and left out.
func (w *Window) narrow(soft bool) {
	for i, b := range w.Bounds {
		if b.Soft != soft {
			continue
		}
		if soft && (b.Low > w.High || b.High < w.Low) {
			w.Notices.Add(source.Warning, "OXYGEN_BOUND_IGNORED", source.Cell{},
				"%s gives log fO2 %s to %s, outside what the other observations leave (%s to %s); it is the less sure witness and is not used",
				b.Reason, signed(b.Low), signed(b.High), signed(w.Low), signed(w.High))
			continue
		}
		if b.Low > w.Low {
			w.Low, w.FromLow = b.Low, i
		}
		if b.High < w.High {
			w.High, w.FromHigh = b.High, i
		}
	}
}

func signed(x float64) string {
	switch {
	case math.IsInf(x, -1):
		return "any lower value"
	case math.IsInf(x, 1):
		return "any higher value"
	case x < 0:
		return fmt.Sprintf("−%.1f", -x)
	}
	return fmt.Sprintf("%.1f", x)
}

// Presence says whether something was seen in a slag.
type Presence int

// What a search under the microscope can end in.
const (
	NotLookedFor Presence = iota
	Present
	Absent
)

// Evidence is what is known of one slag. What is left at zero is unknown and
// bounds nothing.
type Evidence struct {
	CopperMetal    Presence   // metallic copper beside or in the slag
	CopperActivity float64    // of copper in that metal; 0: 1
	IronMetal      Presence   // metallic iron in the slag or the copper
	FeOActivity    [2]float64 // low and high; both 0: from half its mole fraction to 1
	FerricShare    [2]float64 // Fe(III) of all iron, low and high; both 0: not analysed
	Others         []Bound    // from elsewhere, for example copper.OxygenFromDissolved
}

// WindowOf returns the window of oxygen potential at a temperature in °C for a
// slag of composition w (wt%) from what was seen in it. It is never narrower
// than the gas over charcoal allows at its lower end.
func WindowOf(w slag.Wt, tc float64, e Evidence) (Window, error) {
	bed, ns := CharcoalGas().LogFO2(tc)
	if ns.Failed() {
		return Window{}, ns[0]
	}
	bounds := []Bound{{Low: bed, High: math.Inf(1), Source: gasSource,
		Reason: "gas over charcoal blown with air cannot be more reducing than in balance with carbon"}}
	if e.CopperMetal == Present {
		b, err := copperMetal(tc, e.CopperActivity)
		if err != nil {
			return Window{}, err
		}
		bounds = append(bounds, b)
	}
	if e.IronMetal != NotLookedFor {
		b, err := ironMetal(w, tc, e)
		if err != nil {
			return Window{}, err
		}
		bounds = append(bounds, b)
	}
	if e.FerricShare != ([2]float64{}) {
		b, err := ferricBound(w, tc, e.FerricShare)
		if err != nil {
			return Window{}, err
		}
		bounds = append(bounds, b)
	}
	return Join(tc, append(bounds, e.Others...)...), nil
}

// copperMetal bounds from above: copper metal was not oxidised. With copper of
// activity a the line lies at Cu–Cu2O − 4 log a.
func copperMetal(tc, activity float64) (Bound, error) {
	if activity == 0 {
		activity = 1
	}
	if !(activity > 0) || activity > 1 {
		return Bound{}, fmt.Errorf("an activity of copper of %g is impossible; give one above 0 and up to 1", activity)
	}
	line, ns := CopperCuprite().LogFO2(tc)
	return Bound{Low: math.Inf(-1), High: line - 4*math.Log10(activity), Source: CopperCuprite().Source, Notices: beyond(ns, CopperCuprite()),
		Reason: "copper metal was there and not oxidised to cuprous oxide"}, nil
}

// ironMetal bounds from below where iron metal is absent, and from above where
// it is present.
func ironMetal(w slag.Wt, tc float64, e Evidence) (Bound, error) {
	a, reason := e.FeOActivity, "as given"
	if a == ([2]float64{}) {
		x := w.AllFeO().Mol()[slag.FeO]
		if x <= 0 {
			return Bound{}, fmt.Errorf("the slag holds no iron oxide, so iron metal tells nothing of its oxygen potential")
		}
		a, reason = [2]float64{x / 2, 1}, "from half its mole fraction to 1, our assumption"
	}
	lo, _, err := IronLimit(tc, a[0], 1)
	if err != nil {
		return Bound{}, err
	}
	hi, ns, err := IronLimit(tc, a[1], 1)
	if err != nil {
		return Bound{}, err
	}
	if a[0] > a[1] {
		return Bound{}, fmt.Errorf("activities of FeO from %g to %g are no interval; give the lower value first", a[0], a[1])
	}
	b := Bound{Low: math.Inf(-1), High: math.Inf(1), Source: IronWustite().Source, Notices: beyond(ns, IronWustite())}
	if e.IronMetal == Present {
		b.High = hi
		b.Reason = fmt.Sprintf("iron metal was there, beside FeO of activity %.2f to %.2f (%s)", a[0], a[1], reason)
	} else {
		b.Low = lo
		b.Reason = fmt.Sprintf("no iron metal formed, with FeO of activity %.2f to %.2f (%s)", a[0], a[1], reason)
	}
	return b, nil
}

// ferricBound is soft: the balance of iron is an extrapolation for slags, and
// analyses record cooling and weathering.
func ferricBound(w slag.Wt, tc float64, share [2]float64) (Bound, error) {
	if share[0] > share[1] || share[0] < 0 || !(share[1] < 1) {
		return Bound{}, fmt.Errorf("a share of ferric iron from %g to %g is impossible; give the lower value first, both between 0 and 1", share[0], share[1])
	}
	b := Bound{Low: math.Inf(-1), Soft: true, Source: KressCarmichael,
		Reason: fmt.Sprintf("%.1f to %.1f %% of the iron is ferric", 100*share[0], 100*share[1])}
	var err error
	if b.High, b.Notices, err = FromFerricShare(w, tc, share[1]); err != nil {
		return Bound{}, err
	}
	if share[0] > 0 {
		if b.Low, _, err = FromFerricShare(w, tc, share[0]); err != nil {
			return Bound{}, err
		}
	}
	b.Notices.Add(source.Warning, "IRON_AFTER_COOLING", source.Cell{},
		"analysed ferric iron also records cooling and weathering, which mostly oxidise; its oxygen potential may be too high")
	return b, nil
}

// beyond turns the range warning of a line whose use past its range is part of
// its derivation into a note.
func beyond(ns source.Notices, b Buffer) source.Notices {
	for i := range ns {
		if ns[i].Code == "BUFFER_RANGE" && b.derivation != "" {
			ns[i].Severity = source.Note
		}
	}
	return ns
}

// Reasons returns why the window ends where it does, lower end first.
func (w Window) Reasons() []string {
	var out []string
	for _, i := range []int{w.FromLow, w.FromHigh} {
		if i >= 0 {
			out = append(out, w.Bounds[i].Reason)
		}
	}
	return out
}
