package furnace

import (
	"fmt"
	"math"
)

// Leather that was tanned with bark shrinks and stiffens from about 70 °C
// (shrinkage temperature 70 to 85 °C wet; from memory).
const LeatherTC = 70.0

// Backdraw is what the bellows take back from the fire between strokes.
type Backdraw struct {
	Share     float64   // of an intake that is gas from the fire
	ArrivesTC float64   // of that gas at the bellows, °C
	BellowsTC float64   // mean temperature in the bellows, °C
	Monoxide  float64   // share of CO in the air in the bellows, by volume
	Survives  bool      // BellowsTC is below LeatherTC
	Along     []float64 // temperature of the pipe at equal steps from the fire to the bellows, °C
}

// Heat passed in the pipe and by the skin of the bellows.
const (
	pipeFilm   = 10.0   // W/(m² K) outside of the pipe, still air
	skinFilm   = 10.0   // W/(m² K) through leather to the air
	clayK      = 1.0    // W/(m K), fired clay
	airHeat    = 1100.0 // J/(kg K), warm
	airK       = 0.05   // W/(m K), warm
	alongSteps = 11
)

// Back computes the swing between strokes as two streams in the same pipe, a
// regenerator of equal streams (effectiveness Λ/(Λ+2), Hausen): gas of the fire
// comes in with Share of each intake, gives heat to the pipe, mixes with fresh
// air, and warms the leather, which cools to the air around. Without a valve all
// of an intake comes through the pipe; a gap between two pieces lets in fresh
// air in the proportion of its opening to the bore. hotTC and monoxide are those
// of the fire before the pipe.
func (p Pipe) Back(b Blower, hotTC, monoxide, ambientTC float64) (Backdraw, error) {
	if err := p.Check(); err != nil {
		return Backdraw{}, err
	}
	if err := b.Check(); err != nil {
		return Backdraw{}, err
	}
	if !(hotTC > ambientTC && hotTC < 2500) {
		return Backdraw{}, fmt.Errorf("a fire of %g °C beside air of %g °C warms nothing", hotTC, ambientTC)
	}
	out := Backdraw{Along: make([]float64, alongSteps), ArrivesTC: ambientTC, BellowsTC: ambientTC}
	if b.Kind == "bag" || b.Kind == "piston" {
		out.Share = 1
		if p.Valve {
			out.Share = p.ValveLeak
		}
	}
	out.Share *= p.Bore / 4 / (p.Bore/4 + p.Gap)              // bore over bore and opening
	mean := b.Free() / 60000 / float64(p.Number) * airDensity // kg/s, over the whole time
	blow := mean / b.Duty
	film := pipeHeat(blow, p.Bore)
	inner := math.Pi * p.Bore * p.Length
	back := out.Share * mean
	arrive := func(bellows float64) float64 {
		if back == 0 {
			return ambientTC
		}
		lambda := film * inner * b.Duty / (back * airHeat)
		return hotTC - lambda/(lambda+2)*(hotTC-bellows)
	}
	// The leather of a bag that holds a stroke, as a sphere, doubled for folds.
	skin := 2 * 4.836 * math.Pow(b.Stroke/1000, 2.0/3)
	stream := b.Stroke * b.PerMinute / 60000 * airDensity * airHeat
	for range 50 {
		out.ArrivesTC = arrive(out.BellowsTC)
		warmed := out.Share * (out.ArrivesTC - ambientTC)
		out.BellowsTC = ambientTC + warmed*stream/(stream+skinFilm*skin)
	}
	out.Monoxide = out.Share * monoxide
	out.Survives = out.BellowsTC < LeatherTC
	// Along the pipe: conduction from the hot end dies away over √(kA/hP);
	// elsewhere the pipe lies between blast, returning gas and the air around.
	area := math.Pi * p.Wall * (p.Bore + p.Wall)
	outer := pipeFilm * math.Pi * (p.Bore + 2*p.Wall)
	within := film * math.Pi * p.Bore
	fade := math.Sqrt(clayK * area / (within + outer))
	between := func(x float64) float64 {
		gas := hotTC + (out.ArrivesTC-hotTC)*x/p.Length
		return (within*(b.Duty*out.BellowsTC+(1-b.Duty)*(out.Share*gas+(1-out.Share)*out.BellowsTC)) + outer*ambientTC) / (within + outer)
	}
	for i := range out.Along {
		x := p.Length * float64(i) / (alongSteps - 1)
		out.Along[i] = between(x) + (hotTC-between(0))*math.Exp(-x/fade)
	}
	return out, nil
}

// pipeHeat is the film inside a pipe, W/(m² K): Nu = 3.66 where laminar, else
// 0.023 Re^0.8 Pr^0.4 (Dittus & Boelter, textbook).
func pipeHeat(kgPerS, bore float64) float64 {
	re := 4 * kgPerS / (math.Pi * bore * 2 * airViscosity)
	nu := 3.66
	if re > 2300 {
		nu = 0.023 * math.Pow(re, 0.8) * math.Pow(0.7, 0.4)
	}
	return nu * airK / bore
}
