package quality

import "math"

// K is the coverage factor of expanded uncertainties.
const K = 2

// Mean is the mean of repeated readings with what is known of its error.
type Mean struct {
	N     int
	Value float64
	SD    float64 // of one reading, n − 1; NaN with one
	U     float64 // standard uncertainty of the mean; NaN when unknown
}

// MeanOf averages readings with their stated standard uncertainties, NaN where
// none is stated. The mean's uncertainty is their scatter over √n, but no less
// than the stated uncertainties over √n: few readings may agree by chance.
func MeanOf(xs, us []float64) Mean {
	m := Mean{N: len(xs), SD: math.NaN(), U: math.NaN()}
	if m.N == 0 {
		m.Value = math.NaN()
		return m
	}
	n := float64(m.N)
	var u2 float64
	for i, x := range xs {
		m.Value += x / n
		u2 += us[i] * us[i] / n
	}
	stated := math.Sqrt(u2)
	if m.N > 1 {
		var v float64
		for _, x := range xs {
			v += (x - m.Value) * (x - m.Value) / (n - 1)
		}
		m.SD = math.Sqrt(v)
		m.U = m.SD / math.Sqrt(n)
	}
	if stated/math.Sqrt(n) > m.U || math.IsNaN(m.U) {
		m.U = stated / math.Sqrt(n)
	}
	return m
}

// Bias is the distance of a mean from a certified value.
type Bias struct {
	Delta       float64 // mean − certified
	U           float64 // standard uncertainty of Delta
	Significant bool    // |Delta| exceeds twice U
	Recovery    float64 // percent of the certified value
	URecovery   float64
}

// BiasOf compares a mean of standard uncertainty um with a certified value of
// standard uncertainty uc (Linsinger, ERM Application Note 1; from memory).
// Without uc there is no test.
func BiasOf(mean, um, certified, uc float64) Bias {
	b := Bias{Delta: mean - certified, U: math.Hypot(um, uc), Recovery: 100 * mean / certified}
	b.Significant = math.Abs(b.Delta) > K*b.U
	b.URecovery = math.Abs(b.Recovery) * math.Hypot(um/mean, uc/certified)
	return b
}

// Scores place a result x of standard uncertainty ux beside an assigned value
// of standard uncertainty uX (ISO 13528). A score is NaN where an uncertainty
// it needs is unknown.
type Scores struct {
	Z      float64 // (x − X)/σ
	ZPrime float64 // (x − X)/√(σ² + uX²)
	Zeta   float64 // (x − X)/√(ux² + uX²)
	En     float64 // (x − X)/√(Ux² + UX²) with U = 2u
}

// ScoresOf scores a result; sigma is the target standard deviation.
func ScoresOf(x, ux, assigned, uX, sigma float64) Scores {
	d := x - assigned
	u := math.Hypot(ux, uX)
	return Scores{Z: d / sigma, ZPrime: d / math.Hypot(sigma, uX), Zeta: d / u, En: d / (K * u)}
}

// Mark says what a score asks for.
type Mark string

const (
	MarkFine Mark = "fine"
	MarkWarn Mark = "warn"
	MarkAct  Mark = "act"
)

// MarkZ marks a z, z′ or zeta score: beyond 2 warn, beyond 3 act (ISO 13528).
func MarkZ(z float64) Mark {
	switch a := math.Abs(z); {
	case a > 3:
		return MarkAct
	case a > 2:
		return MarkWarn
	}
	return MarkFine
}

// MarkEn marks an En score: beyond 1 act (ISO 13528).
func MarkEn(e float64) Mark {
	if math.Abs(e) > 1 {
		return MarkAct
	}
	return MarkFine
}
