package melt

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"smeltbook/assay/source"
	"smeltbook/phase/slag"
)

var (
	// ErrSplit tells that a melt meets the region of two liquids in a way that
	// the model cannot follow.
	ErrSplit = errors.New("the melt splits into two liquids while another mineral is already there; the model does not describe two liquids, so its freezing cannot be followed")
	// ErrFreezing tells that the equations of freezing could not be solved.
	ErrFreezing = errors.New("the freezing of the melt could not be followed")
)

// EndOfFreezing says what the lowest temperature of a path is.
type EndOfFreezing string

const (
	// FrozenAtOnce: the rest of the liquid freezes at one temperature, as at a
	// eutectic. It is the solidus.
	FrozenAtOnce EndOfFreezing = "frozen_at_once"
	// LastLiquid: 1 wt% of liquid is left. Traces may keep such a rest liquid
	// far below; the temperature serves as the solidus.
	LastLiquid EndOfFreezing = "last_liquid"
	// LimitReached: the calculation stopped at 900 °C with liquid left. The
	// solidus is lower and was not computed.
	LimitReached EndOfFreezing = "limit_reached"
	// LiquidSplits: the liquid splits in two, which the model does not describe.
	// The solidus is lower and was not computed.
	LiquidSplits EndOfFreezing = "liquid_splits"
	// LostTrack: the equations could not be followed further. The solidus is
	// lower and was not computed.
	LostTrack EndOfFreezing = "lost_track"
)

// Member is the share of an end member in a solid, as mole fraction of
// formulae.
type Member struct {
	Formula  string
	Fraction float64 // 0 to 1
}

// Solid is one solid of a partly frozen melt.
type Solid struct {
	Phase   Phase
	Mineral string   // the mineral by name, where a phase stands for several
	Share   float64  // wt% of the whole
	Wt      slag.Wt  // its composition, wt%
	Members []Member // by the order of the model; absent ones are left out

	number int // place in Path.Minerals
}

// State is a melt in equilibrium with its solids.
type State struct {
	TC     float64 // °C
	Liquid float64 // mass fraction of liquid, 0 to 1
	Melt   slag.Wt // composition of the liquid, wt%; zero without liquid
	Solids []Solid // in the order of appearance
}

// Stay is a solid with the temperatures between which it is there.
type Stay struct {
	Phase     Phase
	Mineral   string
	AppearsC  float64 // °C
	VanishesC float64 // °C, where the liquid or another solid has used it up; NaN where it stays
}

// Path is the freezing of a melt in equilibrium, as a closed system that is
// slow enough for every grain to keep up with the liquid (lever rule). Slag in
// a furnace pit cools faster: cored grains, skeletal olivine and glass lie
// outside the model.
type Path struct {
	Liquidus Liquidus
	Whole    slag.Wt // wt%: iron as Liquidus takes it, oxides of the model only, sum 100
	Steps    []State // hottest first; at most about 5 °C or a tenth of the whole apart, and one at every event
	Minerals []Stay  // in the order of appearance

	T90MoltenC   float64 // °C where 90 wt% is liquid; NaN where the limit came first
	THalfMoltenC float64 // °C where 50 wt% is liquid; NaN where the limit came first
	SolidusC     float64 // °C of the last step; what it means is told by End
	End          EndOfFreezing

	// SplitsC is the temperature, °C and to about one step, from which on the
	// liquid of the path could not even last by chance but would split in two,
	// which the model does not describe; NaN where it never does. By its energy
	// the liquid would do so somewhat above already, which is not looked for.
	// Below it the path keeps one liquid and is
	// indicative; it may go over at one temperature to a smaller amount of
	// liquid, and the liquid may even grow a little on cooling.
	SplitsC float64

	// Unhosted lists the oxides of the melt that no mineral of the model takes up.
	// They stay in the liquid to the end, which keeps some liquid that a real
	// slag would not have.
	Unhosted []slag.Oxide

	Notices source.Notices // about the freezing; those about the model stand in Liquidus
}

const (
	freezingLimit = 900 + celsius // K
	lastLiquid    = 0.01          // mass fraction
	worthTelling  = 0.1           // wt% of an oxide without a mineral
)

// Freezer is working space for Model.SolidifyIn, to be used by one goroutine
// at a time. The zero value is ready.
type Freezer struct{ f freezing }

// Solidify follows the freezing of w, a melt in wt% of any sum, treated as in
// Liquidus, from the liquidus to the solidus or to 900 °C.
//
// A silica-rich melt that splits into two liquids starts at the temperature at
// which its liquidus is capped, with as much silica frozen there as leaves one
// liquid; the first two steps then have one temperature. A notice says so.
//
// It fails as Liquidus does, and with ErrSplit or ErrFreezing.
func (m *Model) Solidify(w slag.Wt) (Path, error) {
	var space Freezer
	return m.SolidifyIn(&space, w)
}

// SolidifyIn is Solidify with working space that may be used again.
func (m *Model) SolidifyIn(space *Freezer, w slag.Wt) (Path, error) {
	l, err := m.Liquidus(w)
	if err != nil {
		return Path{}, err
	}
	p := Path{Liquidus: l, T90MoltenC: math.NaN(), THalfMoltenC: math.NaN(), SplitsC: math.NaN()}
	if err := space.f.run(m, &w, &p); err != nil {
		return Path{}, err
	}
	p.remark()
	return p, nil
}

// remark adds the notices about the freezing.
func (p *Path) remark() {
	add := func(s source.Severity, code, format string, args ...any) {
		p.Notices.Add(s, code, source.Cell{}, format, args...)
	}
	if p.jumps() {
		add(source.Warning, "SOLIDIFICATION_TWO_LIQUIDS", "the melt splits into two liquids, which the model does not describe; at %.0f °C so much silica is taken out at once that one liquid is left", p.Steps[0].TC)
	}
	if p.End == LimitReached {
		add(source.Warning, "SOLIDIFICATION_LIMIT", "at %.0f °C, where the calculation stops, %.0f wt%% is still liquid; the solidus is lower and was not computed", p.SolidusC, 100*p.Steps[len(p.Steps)-1].Liquid)
	}
	var unhosted []string
	for _, o := range p.Unhosted {
		if p.Whole[o] >= worthTelling {
			unhosted = append(unhosted, fmt.Sprintf("%v (%.1f wt%%)", o, p.Whole[o]))
		}
	}
	if len(unhosted) > 0 {
		add(source.Warning, "SOLIDIFICATION_UNHOSTED", "no mineral of the model takes up %s, so the liquid keeps it to the end; the amounts of rest liquid are too high and the solidus is too low", strings.Join(unhosted, ", "))
	}
	if p.End == LostTrack {
		add(source.Warning, "SOLIDIFICATION_LOST", "below %.0f °C, with %.0f wt%% liquid left, the freezing could not be followed; the solidus is lower and was not computed", p.SolidusC, 100*p.Steps[len(p.Steps)-1].Liquid)
	}
	switch {
	case p.End == LiquidSplits:
		add(source.Warning, "SOLIDIFICATION_LIQUID_SPLITS", "at %.0f °C, with %.0f wt%% liquid left, the liquid splits in two, which the model does not describe; the calculation stops there", p.SolidusC, 100*p.Steps[len(p.Steps)-1].Liquid)
	case !math.IsNaN(p.SplitsC):
		add(source.Warning, "SOLIDIFICATION_LIQUID_SPLITS", "from about %.0f °C down the liquid would split in two, which the model does not describe; the path keeps one liquid there and is indicative", p.SplitsC)
	}
	add(source.Note, "SOLIDIFICATION_EQUILIBRIUM", "the path holds for slow cooling in equilibrium; zoned or skeletal crystals and glass, as in slag that cooled fast, are outside the model")
}

// jumps reports whether the path starts with silica taken out at once.
func (p *Path) jumps() bool {
	return len(p.Steps) > 1 && p.Steps[0].TC == p.Steps[1].TC && p.Steps[0].Liquid == 1 && p.Steps[1].Liquid < 1 && p.Liquidus.First.silica() && p.capped()
}

// capped reports whether silica was held to its ceiling.
func (p *Path) capped() bool {
	x, _ := cationFractions(p.Whole)
	return math.Abs(p.Liquidus.TC+celsius-silicaCeiling(x[si])) < 1e-9
}

func freezingError(tc float64, why string) error {
	return fmt.Errorf("%w below %.1f °C: %s", ErrFreezing, tc, why)
}
