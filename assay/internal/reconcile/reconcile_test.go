package reconcile

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/stat/distuv"

	"smeltbook/assay/source/checkdata"
)

// lin is a linear balance with the given factors.
func lin(factors ...float64) Balance {
	var b Balance
	for i, f := range factors {
		if f != 0 {
			b.Terms = append(b.Terms, Term{f, []int{i}})
		}
	}
	return b
}

// The four flows round a reactor of Ripps (1965, Chemical Engineering Progress
// Symposium Series 61(55):8); balances, readings and true flows from memory.
// The balances leave one free number, so the adjusted flows are in the ratio
// of the true ones.
func TestRipps(t *testing.T) {
	truth := []float64{0.1739, 5.0435, 1.2175, 4.00}
	r, err := Solve([]Reading{
		{"1", 0.1858, math.Sqrt(0.000289)}, {"2", 4.7935, math.Sqrt(0.0025)}, {"3", 1.2295, math.Sqrt(0.000576)}, {"4", 3.8800, math.Sqrt(0.04)},
	}, []Balance{lin(0.1, 0.6, -0.2, -0.7), lin(-0.8, -0.1, 0.2, 0.1), lin(0.1, 0.3, -0.6, -0.2)})
	if err != nil {
		t.Fatal(err)
	}
	for i := range truth {
		checkdata.Near(t, "ratio", r.Value[i]/r.Value[1], truth[i]/truth[1], 1e-4)
	}
	if r.DoF != 3 {
		t.Errorf("%d degrees of freedom", r.DoF)
	}
}

// Two weighings of the same thing are the weighted mean, after any textbook of
// statistics; here also the test of the difference and what each says of the
// other.
func TestWeightedMean(t *testing.T) {
	r, err := Solve([]Reading{{"a", 10, 1}, {"b", 13, 2}}, []Balance{lin(1, -1)})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "mean", r.Value[0], (10/1.0+13/4.0)/(1/1.0+1/4.0), 1e-12)
	checkdata.Near(t, "u", r.U[1], math.Sqrt(1/(1/1.0+1/4.0)), 1e-12)
	checkdata.Near(t, "covariance", r.Cov.At(0, 1), r.U[0]*r.U[0], 1e-12)
	checkdata.Near(t, "chi-square", r.Chi2, 9.0/5, 1e-12)
	checkdata.Near(t, "P", r.P, 2*distuv.UnitNormal.Survival(3/math.Sqrt(5)), 1e-12)
	for _, x := range r.Tests {
		checkdata.Near(t, "z", math.Abs(x.Z), 3/math.Sqrt(5), 1e-9)
		if len(x.Like) != 1 {
			t.Errorf("reading %d is like %v: two readings cannot tell which is off", x.Reading, x.Like)
		}
	}
	checkdata.Near(t, "others of a", r.Tests[0].Others, 13, 1e-9)
	checkdata.Near(t, "their u", r.Tests[0].OthersU, 2, 1e-9)
}

// splitter is feed = concentrate + tailings with one content each: mass and
// content balances.
func splitter(mass, content [3]Reading) ([]Reading, []Balance) {
	rs := append(append([]Reading{}, mass[:]...), content[:]...)
	return rs, []Balance{
		{"mass", []Term{{1, []int{0}}, {-1, []int{1}}, {-1, []int{2}}}},
		{"copper", []Term{{1, []int{0, 3}}, {-1, []int{1, 4}}, {-1, []int{2, 5}}}},
	}
}

// The Lagrange conditions, checked apart from the way they were found: at the
// solution the weighted adjustments are a combination of the gradients of the
// balances; and no neighbour that obeys the balances is better.
func TestLagrangeConditions(t *testing.T) {
	rnd := rand.New(rand.NewPCG(7, 7))
	for range 200 {
		c, tl := 1+9*rnd.Float64(), 1+20*rnd.Float64()
		gc, gt := 10+15*rnd.Float64(), 1+5*rnd.Float64()
		read := func(x, rel float64) Reading { return Reading{"", x * (1 + rel*rnd.NormFloat64()), x * rel} }
		rs, bs := splitter([3]Reading{read(c+tl, 0.01), read(c, 0.01), read(tl, 0.02)},
			[3]Reading{read((c*gc+tl*gt)/(c+tl), 0.03), read(gc, 0.02), read(gt, 0.05)})
		r, err := Solve(rs, bs)
		if err != nil {
			t.Fatal(err)
		}
		x := r.Value
		checkdata.Near(t, "mass", x[0]-x[1]-x[2], 0, 1e-9*x[0])
		checkdata.Near(t, "copper", x[0]*x[3]-x[1]*x[4]-x[2]*x[5], 0, 1e-9*x[0]*x[3])
		grads := mat.NewDense(6, 2, []float64{1, x[3], -1, -x[4], -1, -x[5], 0, x[0], 0, -x[1], 0, -x[2]})
		w := mat.NewVecDense(6, nil)
		for i := range rs {
			w.SetVec(i, (x[i]-rs[i].Value)/(rs[i].U*rs[i].U))
		}
		var lambda, fit mat.VecDense
		if err := lambda.SolveVec(grads, w); err != nil {
			t.Fatal(err)
		}
		fit.MulVec(grads, &lambda)
		for i := range rs {
			checkdata.Near(t, "stationary", fit.AtVec(i)*rs[i].U, w.AtVec(i)*rs[i].U, 1e-7)
		}
		if r.DoF != 2 {
			t.Fatalf("%d degrees of freedom", r.DoF)
		}
	}
}

// Drawing readings within their uncertainties gives adjusted values whose
// scatter is the stated covariance and whose Chi2 is chi-square.
func TestCovarianceByDrawing(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 1))
	truth := []float64{60, 24, 36, 9.2, 17, 4}
	u := []float64{0.3, 0.2, 0.3, 0.3, 0.4, 0.15}
	const n = 4000
	sum, sq := make([]float64, 6), make([]float64, 6)
	chi, rejected := 0.0, 0
	var last Result
	for range n {
		var rs []Reading
		for i := range truth {
			rs = append(rs, Reading{"", truth[i] + u[i]*rnd.NormFloat64(), u[i]})
		}
		_, bs := splitter([3]Reading{}, [3]Reading{})
		r, err := Solve(rs, bs)
		if err != nil {
			t.Fatal(err)
		}
		for i, x := range r.Value {
			sum[i] += x - truth[i]
			sq[i] += (x - truth[i]) * (x - truth[i])
		}
		chi += r.Chi2
		if _, bad := r.Suspect(0.05); bad {
			rejected++
		}
		last = r
	}
	for i := range truth {
		sd := math.Sqrt(sq[i] / n)
		checkdata.Near(t, "scatter over stated u", sd/last.U[i], 1, 0.05)
		checkdata.Near(t, "bias in u", sum[i]/n/u[i], 0, 0.06)
	}
	checkdata.Near(t, "mean chi-square", chi/n, 2, 4*math.Sqrt(4.0/n))
	if rate := float64(rejected) / n; rate > 0.06 {
		t.Errorf("a suspect is named in %.3f of sound sets; the level is 0.05", rate)
	}
}

// A content of a stream that nobody weighed or assayed follows where the other
// streams determine it.
func TestUnread(t *testing.T) {
	inf := math.Inf(1)
	rs, bs := splitter([3]Reading{{"F", 14.1, 0.1}, {"C", 7, 0.1}, {"T", 7, inf}}, [3]Reading{{"f", 16.8, 0.3}, {"c", 24.3, 0.3}, {"t", 5, inf}})
	r, err := Solve(rs, bs)
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "tailings", r.Value[2], 7.1, 1e-9)
	checkdata.Near(t, "their content", r.Value[5], (14.1*16.8-7*24.3)/7.1, 1e-9)
	checkdata.Near(t, "u of tailings", r.U[2], math.Hypot(0.1, 0.1), 1e-9)
	if r.DoF != 0 || !math.IsNaN(r.P) || len(r.Tests) != 0 {
		t.Errorf("nothing is left to test: %+v", r)
	}
	x := r.Value
	ut := math.Sqrt(math.Pow((x[3]-x[5])*0.1, 2)+math.Pow((x[5]-x[4])*0.1, 2)+math.Pow(x[0]*0.3, 2)+math.Pow(x[1]*0.3, 2)) / x[2]
	checkdata.Near(t, "u of their content", r.U[5], ut, 1e-9)

	rs[4].U = inf // neither product assayed
	r, err = Solve(rs, bs)
	if err != nil {
		t.Fatal(err)
	}
	if r.Determined[4] || r.Determined[5] || !r.Determined[2] || !math.IsNaN(r.Value[5]) || !math.IsNaN(r.U[4]) {
		t.Errorf("two contents from one balance: %+v", r.Determined)
	}
}

// A reading moved by ten standard uncertainties is named, and what the others
// say of it is near the truth.
func TestSuspect(t *testing.T) {
	// Three contents, so that a wrong assay differs from a wrong weight.
	truth := []float64{60, 24, 36, 9.2, 17, 4, 20, 25, 16 + 2.0/3, 50, 30, 63 + 1.0/3}
	u := []float64{0.2, 0.1, 0.2, 0.2, 0.3, 0.1, 0.4, 0.4, 0.4, 0.8, 0.5, 1}
	bs := []Balance{{"mass", []Term{{1, []int{0}}, {-1, []int{1}}, {-1, []int{2}}}}}
	for k := range 3 {
		bs = append(bs, Balance{"content", []Term{{1, []int{0, 3 + 3*k}}, {-1, []int{1, 4 + 3*k}}, {-1, []int{2, 5 + 3*k}}}})
	}
	truth[5] = (truth[0]*truth[3] - truth[1]*truth[4]) / truth[2]
	for i := range truth {
		var rs []Reading
		for j := range truth {
			rs = append(rs, Reading{"", truth[j], u[j]})
		}
		rs[i].Value += 20 * u[i]
		r, err := Solve(rs, bs)
		if err != nil {
			t.Fatal(err)
		}
		s, ok := r.Suspect(0.05)
		if !ok {
			t.Errorf("reading %d is off by 20 u and no suspect is named: %+v", i, r.Tests)
			continue
		}
		same := s.Reading == i
		for _, j := range s.Like {
			same = same || j == i
		}
		if !same && i < 3 { // the assay of a balance of its own can hide behind its neighbours
			t.Errorf("reading %d is off, %d named, like %v", i, s.Reading, s.Like)
		}
		for _, x := range r.Tests {
			if x.Reading == i && i >= 3 {
				checkdata.Near(t, "what the others say, in u", (x.Others-truth[i])/x.OthersU, 0, 0.5)
			}
		}
	}
}

func TestExactAndImpossible(t *testing.T) {
	r, err := Solve([]Reading{{"a", 2, 0}, {"b", 2.2, 0.1}, {"c", 3, 0.1}}, []Balance{lin(1, -1), {"", []Term{{1, []int{0}}, {-1, []int{2}}, {1, nil}}}})
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "bound to what is known", r.Value[1], 2, 1e-12)
	checkdata.Near(t, "constant", r.Value[2], 3, 1e-12)
	checkdata.Near(t, "no uncertainty left", r.U[1], 0, 1e-9)
	if _, err := Solve([]Reading{{"a", 2, 0}, {"b", 3, 0}}, []Balance{lin(1, -1)}); !errors.Is(err, ErrNoSolution) {
		t.Errorf("two known things that differ: %v", err)
	}
	for name, rs := range map[string][]Reading{"not a number": {{"a", math.NaN(), 1}}, "negative u": {{"a", 1, -1}}} {
		if _, err := Solve(rs, nil); err == nil {
			t.Errorf("%s is accepted", name)
		}
	}
	if _, err := Solve([]Reading{{"a", 1, 1}}, []Balance{lin(1, 1)}); err == nil {
		t.Error("an index out of range is accepted")
	}
	if r, err := Solve([]Reading{{"a", 1, 1}}, nil); err != nil || r.Value[0] != 1 || r.U[0] != 1 {
		t.Errorf("no balances: %+v, %v", r, err)
	}
}

func BenchmarkSolve(b *testing.B) {
	rs, bs := splitter([3]Reading{{"F", 60, 0.2}, {"C", 24.5, 0.1}, {"T", 35.7, 0.2}}, [3]Reading{{"f", 9.3, 0.2}, {"c", 16.6, 0.3}, {"t", 3.4, 0.1}})
	b.Run("stage/6", func(b *testing.B) {
		for range b.N {
			if _, err := Solve(rs, bs); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("anchor/svd-6x6", func(b *testing.B) {
		a := mat.NewDense(6, 6, nil)
		for i := range 36 {
			a.Set(i/6, i%6, math.Sin(float64(i*i)))
		}
		for range b.N {
			var svd mat.SVD
			svd.Factorize(a, mat.SVDFull)
		}
	})
}
