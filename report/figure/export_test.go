package figure

import "testing"

// CheckLettering fails where two texts of a drawing overlap or one leaves it.
func CheckLettering(t *testing.T, f Figure, mm float64) {
	t.Helper()
	checkLettering(t, drawn(t, f, mm))
}
