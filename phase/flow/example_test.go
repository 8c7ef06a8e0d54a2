package flow_test

import (
	"fmt"

	"smeltbook/assay/chem"
	"smeltbook/phase/flow"
	"smeltbook/phase/slag"
)

// A slag of copper smelting: its viscosity at 1250 °C, the temperature at which
// it would have stopped running well, and how long small drops took to sink.
func Example() {
	c, err := chem.ParseComposition("SiO2=34 Al2O3=7 FeO=50 CaO=5 MgO=1.5 K2O=1.2 CuO=1.3")
	if err != nil {
		fmt.Println(err)
		return
	}
	m, err := slag.FromComposition(c)
	if err != nil {
		fmt.Println(err)
		return
	}
	s, err := flow.New(m.Wt, flow.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%s: %s\n", s.Model.Name(), s.Reason)
	v, err := s.At(1250)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.2f Pa·s, within %.2f to %.2f\n", v.Eta, v.Lo, v.Hi)
	r, err := s.TemperatureAt(1)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("1 Pa·s at %.0f °C, within %.0f to %.0f\n", r.TC, r.Lo, r.Hi)
	b, _, err := s.Bath(1250)
	if err != nil {
		fmt.Println(err)
		return
	}
	x, err := b.Settle(0.2e-3, 0.05, 600)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("drops of 0.2 mm sink 50 mm in %.0f to %.0f s\n", x.TimeFast, x.TimeSlow)
	// Output:
	// Utigard & Warczok 1995: the slag holds 50.1 wt% FeO; from 25 wt% the model fitted to iron-rich smelting slags is taken
	// 0.28 Pa·s, within 0.14 to 0.56
	// 1 Pa·s at 1071 °C, within 990 to 1162
	// drops of 0.2 mm sink 50 mm in 99 to 147 s
}
