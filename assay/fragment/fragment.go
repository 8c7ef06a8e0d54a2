package fragment

import (
	"math"

	"smeltbook/assay/source"
)

// Fragment is a piece of furnace wall as the field sheet records it. Lengths
// are in mm, NaN where nothing was read.
type Fragment struct {
	Name, Site, Context, Note string
	At                        source.Cell
	Face                      string // "slagged", "rim", … as written
	Chord, UChord             float64
	Sagitta, USagitta         float64
	TemplateFrom, TemplateTo  float64
	Wall                      float64 // thickness of the whole wall where both faces are there
	Points                    []Point
	UPoints                   float64
	Layers                    []Depth // in the order of the sheet's columns, which is from the hot face
	UDepth                    float64
}

// Depth is the outer border of a layer under the hot face, in mm. Broken is
// set for the outermost layer that is there: it ends in a break, and its
// border is not known.
type Depth struct {
	Layer  string
	Outer  float64
	Broken bool
	At     source.Cell
}

// Standard uncertainties taken where a sheet states none (common practice for
// callipers and a profile gauge on a rough face), mm.
const (
	AssumedChord   = 0.5
	AssumedSagitta = 0.5
	AssumedPoint   = 0.4
	AssumedDepth   = 1.5
)

// Way is how a diameter was read.
type Way string

const (
	BySagitta  Way = "chord and sagitta"
	ByTemplate Way = "rim template"
	ByPoints   Way = "points of the edge"
)

// Reading is the curvature of a fragment by its best way.
type Reading struct {
	Way    Way
	Curve  Curvature
	Limits Limits // 95 %
	Chord  float64
	Circle *Circle // of points
}

// Read returns the curvature of a fragment: from points of its edge where
// there are enough, else from chord and sagitta, else from a rim template. ok
// is false where there is none of them.
func (f Fragment) Read() (r Reading, ok bool) {
	if len(f.Points) >= 4 {
		if c, err := FitCircle(f.Points, f.UPoints); err == nil {
			return Reading{ByPoints, c.Curvature, c.Limits, spanOf(f.Points), &c}, true
		}
	}
	if f.Chord > 0 && !math.IsNaN(f.Sagitta) {
		c := OfSagitta(f.Chord, f.UChord, f.Sagitta, f.USagitta)
		return Reading{BySagitta, c, c.Limits(k95), f.Chord, nil}, true
	}
	if f.TemplateFrom > 0 && f.TemplateTo >= f.TemplateFrom {
		to := math.Max(f.TemplateTo, f.TemplateFrom*1.001)
		c := OfTemplate(f.TemplateFrom, to)
		return Reading{ByTemplate, c, Limits{2 / c.K, f.TemplateFrom, f.TemplateTo}, f.Chord, nil}, true
	}
	return r, false
}

// spanOf is the greatest distance between two points.
func spanOf(pts []Point) float64 {
	most := 0.0
	for i, p := range pts {
		for _, q := range pts[:i] {
			most = math.Max(most, math.Hypot(p.X-q.X, p.Y-q.Y))
		}
	}
	return most
}
