package quantity

import (
	"encoding/json"
	"math"
	"testing"
)

// TestOrNull: what is not known is null in JSON, and zero is known.
func TestOrNull(t *testing.T) {
	var record struct{ A, B, C, D, E *float64 }
	record.A, record.B = Quantity{Value: 0, U: 0.5}.OrNull()
	record.C, record.D = Quantity{Value: math.NaN(), U: math.Inf(1)}.OrNull()
	record.E = OrNull(math.Inf(-1))
	got, err := json.Marshal(record)
	if want := `{"A":0,"B":0.5,"C":null,"D":null,"E":null}`; err != nil || string(got) != want {
		t.Errorf("%s (%v), want %s", got, err, want)
	}
}
