package quality

import "math"

// PRSD returns the relative standard deviation in percent that Horwitz's
// function predicts between laboratories for a mass fraction c:
// 2^(1 − 0.5·log₁₀ c) (AOAC, Appendix D, Table D1).
func PRSD(c float64) float64 { return math.Pow(2, 1-0.5*math.Log10(c)) }

// HorRat is an observed relative standard deviation in percent over the one
// predicted. Between laboratories 0.5 to 2.0 is acceptable (AOAC; IUPAC Gold
// Book 08078); within one laboratory about a half to two thirds of it is usual.
func HorRat(rsdPercent, c float64) float64 { return rsdPercent / PRSD(c) }

// Limits of Thompson's modification as mass fractions.
const (
	thompsonLow  = 1.2e-7
	thompsonHigh = 0.138
)

// HorwitzSD returns the standard deviation of Horwitz's function as modified by
// Thompson 2000 (Analyst 125:385), as a mass fraction for a mass fraction:
// 0.22c at traces, 0.02c^0.8495 up to 0.138, 0.01√c above. NaN where c is no
// mass fraction.
func HorwitzSD(c float64) float64 {
	switch {
	case !(c > 0 && c <= 1):
		return math.NaN()
	case c < thompsonLow:
		return 0.22 * c
	case c <= thompsonHigh:
		return 0.02 * math.Pow(c, 0.8495)
	}
	return 0.01 * math.Sqrt(c)
}

// Target returns the standard deviation in wt% against which a result of so
// many wt% is scored where nothing else is asked for: the modified Horwitz
// function, what may be expected between laboratories in routine work.
func Target(wtPct float64) float64 { return 100 * HorwitzSD(wtPct/100) }
