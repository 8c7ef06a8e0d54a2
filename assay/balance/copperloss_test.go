package balance

import (
	"math"
	"strings"
	"testing"

	"smeltbook/assay/quantity"
	"smeltbook/assay/source/checkdata"
)

func kg(x, u float64) quantity.Quantity { return quantity.WithU(x, u, "kg", "scales") }

// 12 kg of slag with 1.5 wt% from 2 kg of copper: 0.18 kg, 9 %; relative
// uncertainties add in squares (JCGM 100:2008, 5.1.6).
func TestLostInFiring(t *testing.T) {
	l, err := LostInFiring(kg(12, 0.12), wtq(1.5, 0.03), kg(2, 0.1))
	if err != nil {
		t.Fatal(err)
	}
	checkdata.Near(t, "kg", l.Copper.Value, 0.18, 1e-12)
	checkdata.Near(t, "u", l.Copper.U, 0.18*math.Hypot(0.01, 0.02), 1e-12)
	checkdata.Near(t, "share", l.Share.Value, 0.09, 1e-12)
	checkdata.Near(t, "u", l.Share.U, 0.09*math.Sqrt(0.01*0.01+0.02*0.02+0.05*0.05), 1e-12)
	l, err = LostInFiring(kg(12, 0.12), quantity.New(1.5, "wt%", "none"), quantity.None(quantity.NotRun, math.NaN(), "kg"))
	if err != nil || l.Copper.HasU() || l.Share.Known() || l.Share.UNote == "" {
		t.Errorf("%+v, %v", l, err)
	}
	for says, q := range map[string][3]quantity.Quantity{
		"weigh all of it":       {quantity.None(quantity.NotRun, math.NaN(), "kg"), wtq(1, 0), kg(1, 0)},
		"no share of it":        {kg(1, 0), wtq(101, 0), kg(1, 0)},
		"lose no share":         {kg(1, 0), wtq(1, 0), kg(0, 0)},
		"more than the 0.01 kg": {kg(10, 0), wtq(2, 0), kg(0.01, 0)},
	} {
		if got, err := LostInFiring(q[0], q[1], q[2]); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%+v, %v; want %q", got, err, says)
		}
	}
}
