package firing

import (
	"math"

	"smeltbook/assay/quantity"
)

// Section returns the area in m² of a round section from its diameter in cm.
func Section(diameter quantity.Quantity) quantity.Quantity {
	d := diameter.Value / 100
	return quantity.WithU(math.Pi/4*d*d, math.Pi/2*d*diameter.U/100, "m²", "from the diameter", diameter.From...)
}
