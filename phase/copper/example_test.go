package copper_test

import (
	"fmt"

	"smeltbook/assay/quantity"
	"smeltbook/phase/copper"
)

// A slag with 2.4 wt% copper that was liquid at 1250 °C under log pO2 −10 to
// −9: at least a quarter of its copper was never dissolved.
func ExampleSplit() {
	total := quantity.WithU(2.4, 0.1, "wt%", "duplicates")
	l, err := copper.Split(total, copper.UnderCopper(1250, -10, -9))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("dissolved %.2f to %.2f wt%%\n", l.Dissolved.Lo, l.Dissolved.Hi)
	fmt.Printf("the rest  %.2f to %.2f wt%%\n", l.Rest.Lo, l.Rest.Hi)
	fmt.Println("log pO2 at most", l.UpperLogPO2.Text())
	// Output:
	// dissolved 0.77 to 1.79 wt%
	// the rest  0.61 to 1.63 wt%
	// log pO2 at most −8.036 ± 0.072
}
