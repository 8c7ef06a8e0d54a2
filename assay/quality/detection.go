package quality

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// Detection holds the three limits of Currie 1995 (Pure and Applied Chemistry
// 67:1699; factors from memory): above Critical a signal is taken for real, at
// Detection a real amount is missed once in twenty, from Quantification on the
// relative standard deviation is below a tenth.
type Detection struct {
	Critical, Detection, Quantification float64
}

// DetectionOf computes the limits from the standard deviation of single blanks.
// n is the number of blanks behind it, 0 for a well-known blank: few blanks
// take Student's t in place of 1.645. A paired blank, read once beside each
// sample and taken off, widens all by √2.
func DetectionOf(blankSD float64, n int, paired bool) Detection {
	s := blankSD
	if paired {
		s *= math.Sqrt2
	}
	q := 1.645
	if n > 1 {
		q = distuv.StudentsT{Mu: 0, Sigma: 1, Nu: float64(n - 1)}.Quantile(0.95)
	}
	return Detection{Critical: q * s, Detection: 2 * q * s, Quantification: 10 * s}
}
