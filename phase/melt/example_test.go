package melt_test

import (
	"fmt"

	"smeltbook/phase/melt"
	"smeltbook/phase/slag"
)

// A slag close to the low trough between fayalite and kirschsteinite.
func ExampleModel_Liquidus() {
	model, err := melt.Default()
	if err != nil {
		fmt.Println(err)
		return
	}
	l, err := model.Liquidus(slag.Wt{slag.SiO2: 32, slag.FeO: 55, slag.CaO: 9, slag.Al2O3: 4})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f ± %.0f °C, %s first\n", l.TC, l.ModelSD, l.First.Label())
	for _, n := range l.Notices {
		fmt.Println(n.Severity, n.Code)
	}
	// Output:
	// 1120 ± 56 °C, olivine first
	// note LIQUIDUS_FERRIC_IRON
}
