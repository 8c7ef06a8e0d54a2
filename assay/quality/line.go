package quality

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Line is y = A + B·x with what its fit is worth.
type Line struct {
	A, B     float64
	UA, UB   float64 // standard uncertainties; NaN where the fit gives none
	Cov      float64 // covariance of A and B
	N        int
	MSWD     float64    // mean square of weighted deviates, near 1 where the stated errors explain the scatter; NaN without stated errors
	Residual float64    // standard deviation about the line, n − 2
	X        [2]float64 // range of x: no reading is corrected outside
	relX     float64    // relative standard uncertainty of x, root mean square
}

// Point is a pair of results of one thing, x by the method trusted and y by
// the other, with standard uncertainties and their covariance.
type Point struct {
	X, Y, UX, UY, Cov float64
}

// Errors of fits.
var (
	ErrFew      = errors.New("too few points for a line")
	ErrNoSpread = errors.New("the points have no spread along the line")
)

// sums are the centred sums of a set of points.
type sums struct{ x, y, xx, yy, xy float64 }

func centred(xs, ys []float64) (s sums) {
	n := float64(len(xs))
	for i := range xs {
		s.x += xs[i] / n
		s.y += ys[i] / n
	}
	for i := range xs {
		dx, dy := xs[i]-s.x, ys[i]-s.y
		s.xx += dx * dx
		s.yy += dy * dy
		s.xy += dx * dy
	}
	return s
}

// finish adds what all lines have in common.
func (l Line) finish(xs, ys []float64) Line {
	l.N = len(xs)
	l.X = [2]float64{math.Inf(1), math.Inf(-1)}
	var ss float64
	for i, x := range xs {
		l.X[0], l.X[1] = math.Min(l.X[0], x), math.Max(l.X[1], x)
		r := ys[i] - l.A - l.B*x
		ss += r * r
	}
	l.Residual = math.Sqrt(ss / float64(l.N-2))
	return l
}

// Ordinary fits y on x by least squares. With errors in x it flattens the
// slope.
func Ordinary(xs, ys []float64) (Line, error) {
	if len(xs) < 3 {
		return Line{}, ErrFew
	}
	s := centred(xs, ys)
	if s.xx == 0 {
		return Line{}, ErrNoSpread
	}
	l := Line{B: s.xy / s.xx, MSWD: math.NaN()}
	l.A = s.y - l.B*s.x
	l = l.finish(xs, ys)
	l.UB = l.Residual / math.Sqrt(s.xx)
	l.UA = l.Residual * math.Sqrt(1/float64(l.N)+s.x*s.x/s.xx)
	l.Cov = -s.x * l.UB * l.UB
	return l, nil
}

// Deming fits a line with errors in both variables; lambda is the variance of
// the errors of y over that of x, taken as the same for all points.
// Uncertainties are from leaving out one point at a time.
func Deming(xs, ys []float64, lambda float64) (Line, error) {
	if len(xs) < 3 {
		return Line{}, ErrFew
	}
	l, err := demingOnly(xs, ys, lambda)
	if err != nil {
		return Line{}, err
	}
	l = l.finish(xs, ys)
	l.UA, l.UB, l.Cov = math.NaN(), math.NaN(), math.NaN()
	if len(xs) < 4 {
		return l, nil
	}
	n := float64(len(xs))
	var as, bs []float64
	for i := range xs {
		part, err := demingOnly(without(xs, i), without(ys, i), lambda)
		if err != nil {
			return l, nil
		}
		as, bs = append(as, part.A), append(bs, part.B)
	}
	s := centred(as, bs)
	l.UA, l.UB, l.Cov = math.Sqrt(s.xx*(n-1)/n), math.Sqrt(s.yy*(n-1)/n), s.xy*(n-1)/n
	return l, nil
}

func demingOnly(xs, ys []float64, lambda float64) (Line, error) {
	s := centred(xs, ys)
	if s.xy == 0 || !(lambda > 0) {
		return Line{}, ErrNoSpread
	}
	d := s.yy - lambda*s.xx
	b := (d + math.Sqrt(d*d+4*lambda*s.xy*s.xy)) / (2 * s.xy)
	return Line{A: s.y - b*s.x, B: b, MSWD: math.NaN()}, nil
}

func without(xs []float64, i int) []float64 {
	return append(append(make([]float64, 0, len(xs)-1), xs[:i]...), xs[i+1:]...)
}

// Steps of the iteration, and how still the slope must stand.
const (
	yorkSteps = 200
	yorkStill = 1e-13
)

// York fits the straight line of the greatest likelihood through points with
// errors of their own in both variables, correlated or not (York et al. 2004,
// American Journal of Physics 72:367). Uncertainties are by the given errors;
// Scaled widens them where the scatter is larger.
func York(points []Point) (Line, error) {
	if len(points) < 3 {
		return Line{}, ErrFew
	}
	var xs, ys []float64
	var rel float64
	for _, p := range points {
		if !(p.UX >= 0 && p.UY >= 0 && p.UX+p.UY > 0) {
			return Line{}, fmt.Errorf("the point (%g, %g) has no uncertainty", p.X, p.Y)
		}
		xs, ys = append(xs, p.X), append(ys, p.Y)
		if p.X != 0 {
			rel += p.UX * p.UX / (p.X * p.X) / float64(len(points))
		}
	}
	first, err := Ordinary(xs, ys)
	if err != nil {
		return Line{}, err
	}
	b := first.B
	for range yorkSteps {
		next, l := yorkStep(points, b)
		if math.IsNaN(next) || math.IsInf(next, 0) {
			return Line{}, ErrNoSpread
		}
		if math.Abs(next-b) <= yorkStill*math.Abs(next) {
			_, l = yorkStep(points, next)
			l.relX = math.Sqrt(rel)
			return l.finish(xs, ys), nil
		}
		b = next
	}
	return Line{}, errors.New("the line does not settle: the errors are too large for the spread of the points")
}

// yorkStep makes the next slope from one, and the line that goes with it.
func yorkStep(points []Point, b float64) (next float64, l Line) {
	var w, mx, my float64
	weight := func(p Point) float64 { return 1 / (p.UY*p.UY + b*b*p.UX*p.UX - 2*b*p.Cov) }
	for _, p := range points {
		w += weight(p)
		mx += weight(p) * p.X
		my += weight(p) * p.Y
	}
	mx, my = mx/w, my/w
	beta := func(p Point) float64 {
		u, v := p.X-mx, p.Y-my
		return weight(p) * (u*p.UY*p.UY + b*v*p.UX*p.UX - (b*u+v)*p.Cov)
	}
	var top, bottom, adjusted float64
	for _, p := range points {
		z := weight(p) * beta(p)
		top += z * (p.Y - my)
		bottom += z * (p.X - mx)
		adjusted += weight(p) * (mx + beta(p)) / w
	}
	next = top / bottom
	l = Line{A: my - next*mx, B: next}
	var spread float64
	for _, p := range points {
		d := mx + beta(p) - adjusted
		spread += weight(p) * d * d
		r := p.Y - l.A - l.B*p.X
		l.MSWD += weight(p) * r * r / float64(len(points)-2)
	}
	l.UB = math.Sqrt(1 / spread)
	l.UA = math.Sqrt(1/w + adjusted*adjusted*l.UB*l.UB)
	l.Cov = -adjusted * l.UB * l.UB
	return next, l
}

// Scaled widens the uncertainties by √MSWD where the points scatter more than
// their stated errors explain; it never narrows them.
func (l Line) Scaled() Line {
	if l.MSWD > 1 {
		f := math.Sqrt(l.MSWD)
		l.UA, l.UB, l.Cov = l.UA*f, l.UB*f, l.Cov*f*f
	}
	return l
}

// Fits reports whether the stated errors explain the scatter: MSWD no more
// than 1 + 2√(2/(n−2)).
func (l Line) Fits() bool { return l.MSWD <= 1+2*math.Sqrt(2/float64(l.N-2)) }

// At is the line at x, with the standard uncertainty of the line there.
func (l Line) At(x float64) (y, u float64) {
	return l.A + l.B*x, math.Sqrt(math.Max(0, l.UA*l.UA+x*x*l.UB*l.UB+2*x*l.Cov))
}

// T is Student's t for two-sided 95 % with the line's degrees of freedom.
func (l Line) T() float64 {
	return distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(l.N - 2)}.Quantile(0.975)
}

// Scatter is the standard deviation of a single y of stated uncertainty uy
// about the line at x: the stated errors of both methods, widened by √MSWD where
// the points scatter more.
func (l Line) Scatter(x, uy float64) float64 {
	return math.Sqrt(math.Max(1, l.MSWD)) * math.Hypot(uy, l.B*l.relX*x)
}

// Correct turns a reading y of standard uncertainty uy into what the trusted
// method would have given, with the standard uncertainty of that prediction:
// x = (y − A)/B and u²(x) = [s_y² + u_A² + x²u_B² + 2x·cov]/B², s_y being the
// scatter about the line. ok is false where x lies outside the range of the
// points by more than its uncertainty: nothing says that the line goes on there.
func (l Line) Correct(y, uy float64) (x, u float64, ok bool) {
	s := l.Scaled()
	x = (y - s.A) / s.B
	_, ul := s.At(x)
	u = math.Hypot(l.Scatter(x, uy), ul) / math.Abs(s.B)
	return x, u, x+u >= l.X[0] && x-u <= l.X[1]
}
