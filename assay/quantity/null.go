package quantity

import "math"

// OrNull returns a number for a record in JSON, where what is not known is null:
// nil for NaN and the infinities.
func OrNull(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}

// OrNull returns the value and its standard uncertainty for a record in JSON.
func (q Quantity) OrNull() (value, u *float64) { return OrNull(q.Value), OrNull(q.U) }
