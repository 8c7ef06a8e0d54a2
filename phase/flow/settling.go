package flow

import (
	"fmt"
	"math"

	"smeltbook/assay/source"
)

const gravity = 9.80665 // m/s²

// Drag is a law of how a drop sinks.
type Drag string

// The laws of settling. Textbook fluid mechanics.
const (
	Stokes             Drag = "stokes"              // rigid sphere: small drops, unclean surfaces; the slow end
	HadamardRybczynski Drag = "hadamard_rybczynski" // clean, mobile surface: the fast end
	SchillerNaumann    Drag = "schiller_naumann"    // rigid sphere at Reynolds numbers of 0.1 to 800
)

// Bath is a slag with the metal that sinks through it, in SI units.
type Bath struct {
	Viscosity      float64 // of the slag, Pa·s
	SlagDensity    float64 // kg/m³
	MetalDensity   float64 // kg/m³
	MetalViscosity float64 // Pa·s
}

// Bath returns the slag at a temperature in °C with drops of liquid copper in
// it. It fails where the slag has no viscosity.
func (s *Slag) Bath(tc float64) (Bath, source.Notices, error) {
	v, err := s.At(tc)
	if err != nil {
		return Bath{}, nil, err
	}
	liquid := s.wt
	if v.SolidMass > 0 {
		liquid = s.crystals.Liquid(tc)
	}
	rho := Density(liquid, tc)
	if v.SolidMass > 0 {
		rho.Value = rho.Value*(1-v.SolidVolume) + s.susp.SolidDensity*v.SolidVolume
	}
	metal := CopperDensity(tc)
	ns := append(append(v.Notices, rho.Notices...), metal.Notices...)
	b := Bath{Viscosity: v.Eta, SlagDensity: 1000 * rho.Value, MetalDensity: 1000 * metal.Value, MetalViscosity: copperViscosity(tc)}
	return b, ns, b.check()
}

func (b Bath) check() error {
	switch {
	case !(b.Viscosity > 0) || !(b.SlagDensity > 0) || !(b.MetalDensity > 0) || !(b.MetalViscosity > 0):
		return fmt.Errorf("settling needs viscosities in Pa·s and densities in kg/m³ above 0, not %+v", b)
	case b.MetalDensity <= b.SlagDensity:
		return fmt.Errorf("metal of %.0f kg/m³ does not sink in slag of %.0f kg/m³", b.MetalDensity, b.SlagDensity)
	}
	return nil
}

// mobility is Hadamard–Rybczynski's factor on Stokes, 1 for a rigid drop and
// 1.5 for one without viscosity.
func (b Bath) mobility() float64 {
	return 3 * (b.Viscosity + b.MetalViscosity) / (2*b.Viscosity + 3*b.MetalViscosity)
}

// Velocity returns the speed in m/s at which drops of diameter d (m) sink.
func (b Bath) Velocity(law Drag, d float64) float64 {
	v := gravity * d * d * (b.MetalDensity - b.SlagDensity) / (18 * b.Viscosity)
	switch law {
	case HadamardRybczynski:
		return v * b.mobility()
	case SchillerNaumann:
		return b.schillerNaumann(v, d)
	}
	return v
}

// schillerNaumann solves v(1 + 0.15 Re^0.687) = v_Stokes, where the left side
// rises with v, by Newton's method from above; it is convex, so that the
// steps cannot leave the bracket.
func (b Bath) schillerNaumann(stokes, d float64) float64 {
	re := b.SlagDensity * d / b.Viscosity // per m/s
	v := stokes
	for range 60 {
		c := 0.15 * math.Pow(re*v, 0.687)
		next := v - (v*(1+c)-stokes)/(1+1.687*c)
		if math.Abs(next-v) <= 1e-14*v {
			return next
		}
		v = next
	}
	return v
}

// Reynolds returns the Reynolds number of a drop of diameter d (m) at v (m/s).
func (b Bath) Reynolds(v, d float64) float64 { return b.SlagDensity * v * d / b.Viscosity }

// Time returns the seconds in which drops of diameter d (m) sink through a
// depth in m.
func (b Bath) Time(law Drag, d, depth float64) float64 { return depth / b.Velocity(law, d) }

// SmallestCleared returns the diameter in m of the smallest drops that sink
// through a depth (m) within t seconds; all larger ones are gone by then.
func (b Bath) SmallestCleared(law Drag, depth, t float64) float64 {
	d := math.Sqrt(18 * b.Viscosity * depth / (gravity * (b.MetalDensity - b.SlagDensity) * t))
	switch law {
	case HadamardRybczynski:
		return d / math.Sqrt(b.mobility())
	case SchillerNaumann:
		// With v known the drop that Stokes gives is too small: its own drag
		// grows with it. d² = d_Stokes²·(1 + 0.15 Re^0.687) contracts.
		v, next := depth/t, d
		for range 200 {
			last := next
			next = d * math.Sqrt(1+0.15*math.Pow(b.Reynolds(v, last), 0.687))
			if math.Abs(next-last) <= 1e-14*next {
				break
			}
		}
		return next
	}
	return d
}

// Left returns the share, 0 to 1, of drops of diameter d (m) that are still in
// a slag of a depth (m) after t seconds: 1 − vt/h in a quiet bath, exp(−vt/h)
// in a stirred one.
func (b Bath) Left(law Drag, d, depth, t float64, stirred bool) float64 {
	x := b.Velocity(law, d) * t / depth
	if stirred {
		return math.Exp(-x)
	}
	return max(1-x, 0)
}

// Settling is what became of drops of one size.
type Settling struct {
	Diameter, Depth, Time    float64    // m, m, s
	Rigid                    Drag       // law of the slow end
	Slow, Fast               float64    // m/s, the rigid and the mobile drop
	Reynolds                 float64    // of the fast drop
	TimeFast, TimeSlow       float64    // s to sink through the depth
	LeftQuiet, LeftStirred   [2]float64 // share left after Time, fast drop first
	ClearedFast, ClearedSlow float64    // m, smallest drop cleared in Time
	Notices                  source.Notices
}

// Reynolds numbers up to which drops are slow enough for Stokes, and up to
// which Schiller & Naumann hold.
const stokesReynolds, schillerReynolds = 0.1, 800

// Settle follows drops of diameter d (m) through a depth (m) for t seconds.
// The slow end is the rigid drop, after Schiller & Naumann where its Reynolds
// number is above 0.1; the fast end is the drop with a mobile surface, which
// above that is not slowed enough and so bounds the speed from above.
func (b Bath) Settle(d, depth, t float64) (Settling, error) {
	if err := b.check(); err != nil {
		return Settling{}, err
	}
	if !(d > 0) || !(depth > 0) || !(t > 0) || math.IsInf(d+depth+t, 0) {
		return Settling{}, fmt.Errorf("settling needs a diameter, a depth and a time above 0, not %g m, %g m and %g s", d, depth, t)
	}
	s := Settling{Diameter: d, Depth: depth, Time: t}
	rigid := Stokes
	if b.Reynolds(b.Velocity(Stokes, d), d) > stokesReynolds {
		rigid = SchillerNaumann
	}
	s.Rigid = rigid
	s.Slow, s.Fast = b.Velocity(rigid, d), b.Velocity(HadamardRybczynski, d)
	s.Reynolds = b.Reynolds(s.Fast, d)
	s.TimeFast, s.TimeSlow = depth/s.Fast, depth/s.Slow
	s.LeftQuiet = [2]float64{b.Left(HadamardRybczynski, d, depth, t, false), b.Left(rigid, d, depth, t, false)}
	s.LeftStirred = [2]float64{b.Left(HadamardRybczynski, d, depth, t, true), b.Left(rigid, d, depth, t, true)}
	s.ClearedFast = b.SmallestCleared(HadamardRybczynski, depth, t)
	s.ClearedSlow = b.SmallestCleared(Stokes, depth, t)
	if b.Reynolds(depth/t, s.ClearedSlow) > stokesReynolds {
		s.ClearedSlow = b.SmallestCleared(SchillerNaumann, depth, t)
	}
	if s.Reynolds > stokesReynolds {
		s.Notices.Add(source.Note, "SETTLING_REYNOLDS", source.Cell{},
			"the drops sink fast (Reynolds number %.2g): the slow end is after Schiller & Naumann, the fast end an upper bound", s.Reynolds)
	}
	if b.Reynolds(s.Slow, d) > schillerReynolds {
		s.Notices.Add(source.Warning, "SETTLING_RANGE", source.Cell{},
			"the Reynolds number is above %d, beyond the law of Schiller & Naumann", int(schillerReynolds))
	}
	s.Notices.Add(source.Note, "SETTLING_CLINGING", source.Cell{},
		"drops that cling to spinel grains or bubbles do not settle (Bellemans et al. 2018, Adv. Colloid Interface Sci. 255:47); what is left may be more")
	return s, nil
}
