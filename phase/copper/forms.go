package copper

import (
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/assay/source"
)

// Finds are all measurements that tell in which form the copper of one slag
// is, in wt% of the slag as found with its prills. A Quantity or pointer left
// at its zero value was not measured.
type Finds struct {
	Total       quantity.Quantity // all copper, wt% Cu
	Conditions  *Conditions       // of the liquid slag under copper metal; bounds the dissolved copper
	Prills      *Prills           // by image analysis
	Sieved      quantity.Quantity // copper metal won by crushing and sieving, wt% of the slag: a lower bound of the metal
	AcidSoluble quantity.Quantity // copper that dilute acid without oxidant takes out, wt% Cu
	Sulphur     quantity.Quantity // wt% S
	MatteCopper Interval          // wt% Cu of the matte; zero: 20 wt% to that of Cu2S
}

// Form is one form of copper in the slag.
type Form struct {
	Key     string
	Label   string
	Wt      Interval // wt% Cu of the slag
	Share   Interval // of all copper, 0 to 1
	Because string   // what bounds it, a plain sentence without full stop
}

// Forms splits the copper of a slag into its forms. The intervals are the
// tightest that the measurements leave, each taken within twice its standard
// uncertainty; they are not independent, for their sum is the total.
type Forms struct {
	Dissolved Form // as oxide in the liquid slag
	Sulphide  Form // in drops of matte or dissolved with sulphur
	Metal     Form // entrained drops of metal
	Unreduced Form // ore that never reacted, and copper of weathering
	// SulphideEstimate is Nagamori's form 0.00495·S·Cu(matte), from memory and
	// not verified; it bounds nothing. NaN without sulphur.
	SulphideEstimate Interval
	Unseparated      []string // labels of the forms that the data cannot tell apart
	Together         Interval // wt% Cu of those together
	Help             []string // measurements that would tell them apart
	Notices          source.Notices
}

// All returns the four forms in a fixed order.
func (f *Forms) All() []*Form { return []*Form{&f.Dissolved, &f.Sulphide, &f.Metal, &f.Unreduced} }

// copperPerSulphur is the copper that sulphur can bind, by weight, as Cu2S.
var copperPerSulphur = func() float64 {
	cu, _, _ := chem.AtomicWeight("Cu")
	s, _, _ := chem.AtomicWeight("S")
	return 2 * cu / s
}()

const (
	nagamori    = 0.00495 // from memory, unsure
	poorMatte   = 20.0    // wt% Cu, our assumption of the poorest matte
	unseparable = 0.10    // of the total: an interval wider than this tells little
)

// SplitForms splits the copper of a slag into dissolved, sulphide-bound,
// metallic and unreduced or weathered copper:
//
//	total = dissolved + sulphide + metal + unreduced, none below zero
//	dissolved ≤ what slag under copper metal holds, and at least it
//	sulphide  ≤ S·2M(Cu)/M(S)
//	metal     = from the area of prills, and ≥ what sieving won
//	unreduced ≤ acid-soluble ≤ dissolved + unreduced
//
// The last line says that dilute acid takes all of the unreduced and weathered
// copper, some of the dissolved, and neither metal nor sulphide (common
// practice). What is not measured bounds nothing. It fails where a measurement
// exceeds the copper found or where they exclude each other.
func SplitForms(f Finds) (Forms, error) {
	total, ok := bounds(f.Total)
	if !ok {
		return Forms{}, fmt.Errorf("the total copper of the slag is not known (%s)", f.Total.Mark())
	}
	if !(total.Hi > 0) {
		return Forms{}, fmt.Errorf("the slag holds no copper to split")
	}
	out := Forms{
		Dissolved:        Form{Key: "dissolved", Label: "dissolved as oxide", Because: "not bounded: neither temperature nor oxygen potential is known"},
		Sulphide:         Form{Key: "sulphide", Label: "bound to sulphur", Because: "not bounded: sulphur was not analysed"},
		Metal:            Form{Key: "metal", Label: "entrained metal", Because: "not bounded: prills were not measured"},
		Unreduced:        Form{Key: "unreduced", Label: "unreduced or weathered", Because: "not bounded: acid-soluble copper was not measured"},
		SulphideEstimate: Interval{math.NaN(), math.NaN()},
	}
	for _, p := range out.All() {
		p.Wt = Interval{0, total.Hi}
	}
	acid := Interval{0, math.Inf(1)}
	steps := []func(*Finds, Interval, *Forms) error{boundMetal, boundSulphide, boundDissolved}
	for _, step := range steps {
		if err := step(&f, total, &out); err != nil {
			return Forms{}, err
		}
	}
	if a, ok := measured(f.AcidSoluble); ok {
		if a.Lo > total.Hi {
			return Forms{}, fmt.Errorf("acid-soluble copper is at least %.2f wt%%, more than the %.2f wt%% found in the slag; check both", a.Lo, total.Hi)
		}
		acid = a
		out.Unreduced.Wt.Hi = min(out.Unreduced.Wt.Hi, a.Hi)
		out.Unreduced.Because = "at most the acid-soluble copper, which also holds some of the dissolved"
	}
	if err := tighten(&out, total, acid); err != nil {
		return Forms{}, err
	}
	out.finish(&f, total)
	return out, nil
}

// tighten narrows the four intervals until every value in each belongs to some
// split that obeys all constraints. They form a tree (dissolved + unreduced is
// a part of the total), so one pass up and one down is exact.
func tighten(out *Forms, total, acid Interval) error {
	d, s, m, u := &out.Dissolved.Wt, &out.Sulphide.Wt, &out.Metal.Wt, &out.Unreduced.Wt
	// Unreduced reaches up to the acid-soluble copper, so this is no empty interval.
	oxide := Interval{max(d.Lo+u.Lo, acid.Lo), d.Hi + u.Hi}
	if least := oxide.Lo + s.Lo + m.Lo; least > total.Hi {
		return fmt.Errorf("the forms measured hold at least %.2f wt%% copper together, more than the %.2f wt%% found; check the total and the parts", least, total.Hi)
	}
	if most := oxide.Hi + s.Hi + m.Hi; most < total.Lo {
		return fmt.Errorf("the forms measured hold at most %.2f wt%% copper together, less than the %.2f wt%% found; one of them was measured too low, or the conditions are not those of this slag", most, total.Lo)
	}
	o := oxide
	oxide = narrowed(o, total, *s, *m)
	*s, *m = narrowed(*s, total, o, *m), narrowed(*m, total, o, *s)
	*d, *u = narrowed(*d, oxide, *u), narrowed(*u, oxide, *d)
	return nil
}

// narrowed returns the part of i that can stand beside the others in a sum
// within total.
func narrowed(i, total Interval, others ...Interval) Interval {
	var lo, hi float64
	for _, o := range others {
		lo += o.Lo
		hi += o.Hi
	}
	return Interval{max(i.Lo, total.Lo-hi), min(i.Hi, total.Hi-lo)}
}

// finish adds the shares and says what cannot be told apart.
func (f *Forms) finish(finds *Finds, total Interval) {
	wide := Interval{}
	rest := Interval{}
	for _, p := range f.All() {
		p.Wt.Lo, p.Wt.Hi = max(p.Wt.Lo, 0), max(p.Wt.Hi, 0)
		p.Share = Interval{p.Wt.Lo / total.Hi, 1}
		if total.Lo > 0 {
			p.Share.Hi = min(p.Wt.Hi/total.Lo, 1)
		}
		if p.Wt.Hi-p.Wt.Lo > unseparable*total.Hi {
			f.Unseparated = append(f.Unseparated, p.Label)
			wide.Lo += p.Wt.Lo
			wide.Hi += p.Wt.Hi
		} else {
			rest.Lo += p.Wt.Lo
			rest.Hi += p.Wt.Hi
		}
	}
	if len(f.Unseparated) < 2 {
		f.Unseparated = nil
		return
	}
	f.Together = narrowed(wide, total, rest)
	f.Together = Interval{max(f.Together.Lo, 0), min(f.Together.Hi, total.Hi)}
	for _, h := range []struct {
		wide    Form
		missing bool
		what    string
	}{
		{f.Dissolved, finds.Conditions == nil, "temperature and oxygen potential (dissolved)"},
		{f.Sulphide, isZero(finds.Sulphur), "sulphur (sulphide)"},
		{f.Metal, finds.Prills == nil, "the area of prills in polished sections (metal)"},
		{f.Unreduced, isZero(finds.AcidSoluble), "copper soluble in dilute acid (unreduced or weathered)"},
	} {
		if h.missing && h.wide.Wt.Hi-h.wide.Wt.Lo > unseparable*total.Hi {
			f.Help = append(f.Help, h.what)
		}
	}
	help := ""
	if len(f.Help) > 0 {
		help = "; it would help to know " + strings.Join(f.Help, ", ")
	}
	f.Notices.Add(source.Note, "COPPER_FORMS_UNSEPARATED", source.Cell{},
		"these data cannot tell apart copper %s; together they are %.2f to %.2f wt%% of the slag%s",
		strings.Join(f.Unseparated, ", "), f.Together.Lo, f.Together.Hi, help)
}

func isZero(q quantity.Quantity) bool { _, ok := measured(q); return !ok }

// Kg returns what a form of copper is in kg in a given mass of slag (kg).
func (f Form) Kg(slagKg float64) Interval {
	return Interval{f.Wt.Lo * slagKg / 100, f.Wt.Hi * slagKg / 100}
}
