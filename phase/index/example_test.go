package index_test

import (
	"fmt"

	"smeltbook/assay/chem"
	"smeltbook/phase/index"
	"smeltbook/phase/slag"
)

// A slag of nearly pure fayalite: silicate degree 1, NBO/T 4.
func ExampleTable() {
	c, err := chem.ParseComposition("SiO2=29.5 FeO=70.5")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, v := range index.Table(m) {
		switch v.Key {
		case "feo_sio2", "bachmann_index", "silicate_degree", "nbo_t":
			fmt.Printf("%s: %.2f\n", v.Label, v.Quantity.Value)
		}
	}
	// Output:
	// FeO/SiO2, all iron as FeO: 2.39
	// viscosity index k_v: 2.39
	// silicate degree, alumina left out: 1.00
	// NBO/T: 4.00
}
