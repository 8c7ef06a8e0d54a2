package hearth

import (
	"fmt"
	"math"
	"slices"

	"smeltbook/assay/source"
)

// Border is the depth in mm of the outer border of a layer under the hot face,
// with its standard uncertainty.
type Border struct {
	Layer    Layer
	Depth, U float64
}

// Span is a value with its 95 % limits; an end on the edge of what was searched
// is open.
type Span struct {
	Value, Low, High  float64
	OpenLow, OpenHigh bool
}

// Profile is what the borders of a wall leave of its heating.
type Profile struct {
	FaceTC   Span // °C of the hot face
	Reach    Span // mm, 2√(diffusivity·time)
	Hours    Span // from the reach and the band of diffusivity; limits are those of both together
	Misfit   float64
	Borders  int
	GroundTC float64
	allowed  []pair
	Notices  source.Notices
}

type pair struct{ face, reach float64 }

// Assumed is what has to be assumed of a wall.
type Assumed struct {
	GroundTC    float64
	Diffusivity [2]float64 // mm²/s, least and most
	Thickness   float64    // mm of the wall where it is known, 0 where not
	Diameter    float64    // mm of the furnace where it is known, 0 where not
}

// FiredClay is the diffusivity of fired clay and brick in mm²/s (handbooks of
// heat transfer, from memory: common brick 0.4 to 0.6; porous or damp clay
// differs).
func FiredClay() [2]float64 { return [2]float64{0.35, 0.7} }

// Edges of the search: no charcoal fire without a blower's blast makes a face
// hotter, and no firing heats farther.
const (
	faceFrom, faceTo, faceStep = 700.0, 1600.0, 5.0
	reachFrom, reachTo, steps  = 10.0, 500.0, 240
	rise                       = 3.841 // of χ² for a 95 % limit of one number
)

// Fit finds the hot face and the reach that explain the depths of the borders,
// by a search over both: each border's band counts as a standard deviation of
// its width over √12, its depth by the slope of the temperature there.
func Fit(borders []Border, marks []Mark, a Assumed) (Profile, error) {
	p := Profile{GroundTC: a.GroundTC}
	type read struct{ depth, u, tc, uT float64 }
	var rs []read
	for _, b := range borders {
		for _, m := range marks {
			if m.Layer == b.Layer && b.Depth > 0 && b.U > 0 {
				rs = append(rs, read{b.Depth, b.U, (m.Low + m.High) / 2, (m.High - m.Low) / math.Sqrt(12)})
			}
		}
	}
	p.Borders = len(rs)
	if len(rs) < 2 {
		return p, fmt.Errorf("%d border of layers tells nothing of the heating: the heat of the face and its time cannot be parted by one; measure the depths of two borders or more", len(rs))
	}
	if !(a.Diffusivity[0] > 0 && a.Diffusivity[1] >= a.Diffusivity[0]) {
		return p, fmt.Errorf("a diffusivity from %g to %g mm²/s is impossible", a.Diffusivity[0], a.Diffusivity[1])
	}
	chi := func(face, reach float64) float64 {
		sum := 0.0
		for _, r := range rs {
			slope := (face - a.GroundTC) * 2 / math.Sqrt(math.Pi) * math.Exp(-r.depth*r.depth/reach/reach) / reach
			d := Temperature(r.depth, reach, face, a.GroundTC) - r.tc
			sum += d * d / (r.uT*r.uT + slope*slope*r.u*r.u)
		}
		return sum
	}
	ratio := math.Pow(reachTo/reachFrom, 1.0/steps)
	type node struct {
		pair
		chi float64
	}
	var all []node
	best := node{chi: math.Inf(1)}
	for face := faceFrom; face <= faceTo; face += faceStep {
		for i, reach := 0, reachFrom; i <= steps; i, reach = i+1, reach*ratio {
			n := node{pair{face, reach}, chi(face, reach)}
			if n.chi < best.chi {
				best = n
			}
			all = append(all, n)
		}
	}
	p.Misfit = best.chi
	p.FaceTC, p.Reach = Span{Value: best.face, Low: math.Inf(1), High: math.Inf(-1)}, Span{Value: best.reach, Low: math.Inf(1), High: math.Inf(-1)}
	for _, n := range all {
		if n.chi <= best.chi+rise {
			p.allowed = append(p.allowed, n.pair)
			p.FaceTC.Low, p.FaceTC.High = math.Min(p.FaceTC.Low, n.face), math.Max(p.FaceTC.High, n.face)
			p.Reach.Low, p.Reach.High = math.Min(p.Reach.Low, n.reach), math.Max(p.Reach.High, n.reach)
		}
	}
	p.FaceTC.OpenLow, p.FaceTC.OpenHigh = p.FaceTC.Low <= faceFrom, p.FaceTC.High >= faceTo
	p.Reach.OpenLow, p.Reach.OpenHigh = p.Reach.Low <= reachFrom, p.Reach.High >= reachTo*0.999
	mid := math.Sqrt(a.Diffusivity[0] * a.Diffusivity[1])
	p.Hours = Span{Hours(p.Reach.Value, mid), Hours(p.Reach.Low, a.Diffusivity[1]), Hours(p.Reach.High, a.Diffusivity[0]), p.Reach.OpenLow, p.Reach.OpenHigh}
	p.judge(a, rise*float64(max(len(rs)-2, 1)))
	return p, nil
}

// judge tells where the picture of a wall without another side fails.
func (p *Profile) judge(a Assumed, most float64) {
	tell := func(code, format string, args ...any) {
		p.Notices.Add(source.Warning, code, source.Cell{}, format, args...)
	}
	if p.Misfit > most {
		tell("LAYERS_MISFIT", "no steady hot face explains all borders (χ² %.1f for %d of them): the wall was heated more than once, its face was eaten back or relined, or a border was misread", p.Misfit, p.Borders)
	}
	if a.Thickness > 0 && p.Reach.Value > a.Thickness {
		tell("WALL_THIN", "the heat reached %.0f mm and the wall is %.0f mm thick: what lay behind it counts, and it is not known", p.Reach.Value, a.Thickness)
	}
	if a.Diameter > 0 && p.Reach.Value > a.Diameter/2 {
		tell("WALL_CURVED", "the heat reached %.0f mm, more than the radius of the furnace: it spread outwards, and the time from a flat wall is too short", p.Reach.Value)
	}
}

// Between returns the lowest and the highest temperature at a depth of all
// that is allowed, and that of the best.
func (p Profile) Between(depth float64) Span {
	s := Span{Value: Temperature(depth, p.Reach.Value, p.FaceTC.Value, p.GroundTC), Low: math.Inf(1), High: math.Inf(-1)}
	for _, x := range p.allowed {
		t := Temperature(depth, x.reach, x.face, p.GroundTC)
		s.Low, s.High = math.Min(s.Low, t), math.Max(s.High, t)
	}
	return s
}

// ByLayer orders borders from the hot face outwards.
func ByLayer(bs []Border) []Border {
	out := slices.Clone(bs)
	slices.SortStableFunc(out, func(a, b Border) int { return slices.Index(Layers(), a.Layer) - slices.Index(Layers(), b.Layer) })
	return out
}
