package fragment

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Point is a place on the edge, in mm.
type Point struct{ X, Y float64 }

// Circle is a circle that was fitted to points.
type Circle struct {
	X, Y, R   float64
	Curvature Curvature
	Limits    Limits    // 95 %, by profile likelihood
	Residuals []float64 // distances, outwards positive
	Outliers  []int     // points that were given little weight
	RMS       float64
}

// tuning of Huber's weights: 95 % efficient where all errors are normal.
const huber = 1.345

// FitCircle fits a circle to points read to u mm: algebraically (Kåsa 1976) to
// begin with, then by least distances, points far off weighted down (Huber
// 1964). Limits of the diameter come from the profile of the distances over
// the curvature, a straight edge included. Where the points scatter more than
// u says, their scatter takes its place.
func FitCircle(pts []Point, u float64) (Circle, error) {
	if len(pts) < 4 {
		return Circle{}, fmt.Errorf("%d points are too few for a circle and its error; read four or more along the edge", len(pts))
	}
	if !(u > 0) {
		return Circle{}, fmt.Errorf("the reading error of the points has to be above 0, not %g", u)
	}
	a := arc{}
	for _, p := range pts {
		a.cx, a.cy = a.cx+p.X/float64(len(pts)), a.cy+p.Y/float64(len(pts))
	}
	for _, p := range pts {
		a.pts = append(a.pts, Point{p.X - a.cx, p.Y - a.cy})
		a.w = append(a.w, 1)
		a.size = math.Max(a.size, math.Hypot(p.X-a.cx, p.Y-a.cy))
	}
	if !(a.size > 0) {
		return Circle{}, fmt.Errorf("all points lie at one place")
	}
	q := a.begin()
	for range 8 {
		q = a.least(q, false)
		scale := math.Max(u, a.scatter(q))
		for i, d := range a.distances(q) {
			a.w[i] = 1
			if r := math.Abs(d) / scale; r > huber {
				a.w[i] = huber / r
			}
		}
	}
	q = a.least(q, false)
	c := a.circle(q)
	sum := 0.0
	for i, d := range c.Residuals {
		sum += d * d
		if a.w[i] < 0.5 {
			c.Outliers = append(c.Outliers, i)
		}
	}
	c.RMS = math.Sqrt(sum / float64(len(pts)))
	u = math.Max(u, math.Sqrt(a.sum(q)/float64(len(pts)-3)))
	k := math.Abs(q[0])
	lo, hi := a.profile(q, u, -1), a.profile(q, u, 1)
	if q[0] < 0 {
		lo, hi = -hi, -lo
	}
	c.Curvature = Curvature{k, (hi - lo) / (2 * k95)}
	c.Limits = Curvature{K: k}.Limits(0)
	c.Limits.Low = 2 / hi
	c.Limits.High = math.Inf(1)
	if lo > 0 {
		c.Limits.High = 2 / lo
	}
	return c, nil
}

// arc is points about their middle. Circles through them are written as
// curvature, direction and height of the tangent under the middle (q), which
// has a straight line among them.
type arc struct {
	pts    []Point
	w      []float64
	cx, cy float64
	size   float64
}

type shape [3]float64 // curvature, angle, height

// distance of a point from a circle of curvature k that touches the line of an
// angle at a height: 2q/(1+√(1−2kq)) with q = v − k(u²+v²)/2, finite for k = 0.
func (s shape) distance(p Point) float64 {
	sin, cos := math.Sincos(s[1])
	u, v := p.X*cos+p.Y*sin, p.Y*cos-p.X*sin-s[2]
	q := v - s[0]*(u*u+v*v)/2
	return 2 * q / (1 + math.Sqrt(math.Max(0, 1-2*s[0]*q)))
}

func (a *arc) distances(s shape) []float64 {
	out := make([]float64, len(a.pts))
	for i, p := range a.pts {
		out[i] = s.distance(p)
	}
	return out
}

func (a *arc) sum(s shape) float64 {
	sum := 0.0
	for i, d := range a.distances(s) {
		sum += a.w[i] * d * d
	}
	return sum
}

// scatter is the spread of the distances by their median size.
func (a *arc) scatter(s shape) float64 {
	ds := a.distances(s)
	for i := range ds {
		ds[i] = math.Abs(ds[i])
	}
	return 1.4826 * medianOf(ds)
}

// begin fits x²+y² + Dx + Ey + F = 0 by least squares.
func (a *arc) begin() shape {
	m, b := mat.NewDense(len(a.pts), 3, nil), mat.NewVecDense(len(a.pts), nil)
	for i, p := range a.pts {
		x, y := p.X/a.size, p.Y/a.size
		m.SetRow(i, []float64{x, y, 1})
		b.SetVec(i, -(x*x + y*y))
	}
	var z mat.VecDense
	if err := z.SolveVec(m, b); err != nil {
		return a.line()
	}
	x, y := -z.AtVec(0)/2*a.size, -z.AtVec(1)/2*a.size
	r2 := x*x + y*y - z.AtVec(2)*a.size*a.size
	if !(r2 > 0) || r2 > 1e8*a.size*a.size {
		return a.line()
	}
	return touching(x, y, math.Sqrt(r2))
}

// touching writes a circle about (x, y) as a shape: the tangent where the line
// from its middle through the middle of the points meets it.
func touching(x, y, r float64) shape {
	far := math.Hypot(x, y)
	angle := 0.0
	if far > 0 {
		angle = math.Atan2(-x, y) // the tangent's normal points to the circle's middle
	}
	return shape{1 / r, angle, far - r}
}

// line is the straight line of least distances.
func (a *arc) line() shape {
	var xx, xy, yy float64
	for _, p := range a.pts {
		xx, xy, yy = xx+p.X*p.X, xy+p.X*p.Y, yy+p.Y*p.Y
	}
	return shape{0, math.Atan2(2*xy, xx-yy) / 2, 0}
}

// least brings the sum of squares to its least, with the curvature held where
// asked.
func (a *arc) least(s shape, hold bool) shape {
	from := 0
	if hold {
		from = 1
	}
	q := marquardt(s[:], []float64{1e-6 / a.size, 1e-6, 1e-6 * a.size}, from, a.w, func(q []float64) []float64 { return a.distances(shape(q)) })
	return shape(q)
}

// circle writes a shape as a circle at its place.
func (a *arc) circle(s shape) Circle {
	c := Circle{Residuals: a.distances(s)}
	if s[0] > 0 {
		for i := range c.Residuals {
			c.Residuals[i] = -c.Residuals[i]
		}
	}
	r := 1 / s[0]
	sin, cos := math.Sincos(s[1])
	c.X, c.Y, c.R = a.cx-(s[2]+r)*sin, a.cy+(s[2]+r)*cos, math.Abs(r)
	return c
}

// profile is the curvature at which the least sum has risen by what a 95 %
// limit allows (χ² of one degree of freedom, 3.84), upwards or downwards.
func (a *arc) profile(s shape, u float64, sign float64) float64 {
	limit := a.sum(s) + k95*k95*u*u
	step := 1e-3 / a.size
	far := s
	for range 60 {
		near := far
		far[0] = s[0] + sign*step
		if far = a.least(far, true); a.sum(far) > limit {
			lo, hi := near, far
			for range 40 {
				mid := lo
				mid[0] = (lo[0] + hi[0]) / 2
				if mid = a.least(mid, true); a.sum(mid) > limit {
					hi = mid
				} else {
					lo = mid
				}
			}
			return hi[0]
		}
		step *= 1.5
		if step > 2/a.size {
			break
		}
	}
	return far[0]
}
