package furnace

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Over all that check allows, in shape and blast, the balance settles on finite
// numbers and closes; what is outside is refused and never wrong in silence.
func TestSettlesEverywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 1))
	u := func(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }
	refused := 0
	for range 120 {
		f := Common(u(10, 5000))
		f.Bowl = Bowl{Diameter: u(0.05, 2), Depth: u(0.05, 2), Lining: u(0.001, 0.5), PipeHeight: 0, Heap: r.Float64()}
		f.Bowl.PipeHeight = f.Bowl.Depth * r.Float64()
		f.Fuel = Fuel{Carbon: 0.4 + 0.6*r.Float64(), Moisture: 0.5 * r.Float64(), Lump: u(0.003, 0.15), Density: u(50, 800)}
		f.Ground = Grounds()[[]string{"dry", "damp", "wet"}[r.IntN(3)]]
		f.Charge = Charging{u(0.01, 200), 3 * r.Float64()}
		f.Hours = u(0.02, 10)
		f.Assumption.Reactivity = u(0.01, 100)
		f.Assumption.Exchange = u(0.05, 3)
		s, err := f.Solve()
		if err != nil {
			refused++
			continue
		}
		for i, z := range s.Zones {
			if !(z.TC >= f.AmbientTC-1e-6 && z.TC < 2800) || math.IsNaN(z.Ratio) {
				t.Errorf("zone %d of %+v: %+v", i, f, z)
			}
		}
		if s.Zones[0].TC > 100 && s.Zones[Zones-1].TC > f.AmbientTC+1 && math.Abs(s.Left) > 0.002*s.Released+2 {
			t.Errorf("%+v leaves %g W of %g", f, s.Left, s.Released)
		}
	}
	if refused > 18 {
		t.Errorf("%d of 120 furnaces are refused", refused)
	}
}
