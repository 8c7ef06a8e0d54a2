package furnace

import (
	"fmt"
	"math"
)

// Pipe is the way of the air from the bellows into the fire. Where Gap is above
// 0 it is in two pieces: the nozzle of the bellows blows over the gap into the
// feed pipe.
type Pipe struct {
	Number    int
	Bore      float64 // m
	Length    float64 // m, all of it
	Wall      float64 // thickness, m
	Rough     float64 // height of roughness, m
	Gap       float64 // m
	Mouth     float64 // bore of the feed pipe at the gap, m
	Valve     bool    // the bellows take in through a valve of their own
	ValveLeak float64 // share of an intake that still comes back through the pipe
}

// Clay pipes are rough by about half a millimetre; a flap of leather lets a
// tenth of the intake come the wrong way (both assumed).
func ClayPipe(number int, bore, length float64) Pipe {
	return Pipe{Number: number, Bore: bore, Length: length, Wall: 0.012, Rough: 0.5e-3, Valve: true, ValveLeak: 0.1}
}

// Check refuses what is no pipe.
func (p Pipe) Check() error {
	switch {
	case p.Number < 1 || p.Number > 20:
		return fmt.Errorf("%d air pipes are impossible; give 1 to 20", p.Number)
	case !(p.Bore >= 0.004 && p.Bore <= 0.2):
		return fmt.Errorf("a bore of %g mm is outside this model (4 to 200 mm)", 1000*p.Bore)
	case !(p.Length >= 0.05 && p.Length <= 5):
		return fmt.Errorf("a pipe of %g m is outside this model (0.05 to 5 m)", p.Length)
	case !(p.Gap >= 0 && p.Gap <= 0.3) || p.Gap > 0 && !(p.Mouth >= p.Bore/2 && p.Mouth <= 0.3):
		return fmt.Errorf("a gap of %g mm before a mouth of %g mm is no two-piece pipe", 1000*p.Gap, 1000*p.Mouth)
	case !(p.Wall >= 0.001 && p.Wall <= 0.1) || !(p.Rough >= 0 && p.Rough <= p.Bore/10) || !(p.ValveLeak >= 0 && p.ValveLeak <= 1):
		return fmt.Errorf("a pipe with a wall of %g mm, a roughness of %g mm and a valve that leaks %g is outside this model", 1000*p.Wall, 1000*p.Rough, p.ValveLeak)
	}
	return nil
}

// Density and viscosity of air at 15 °C and 1 atm (standard atmosphere).
const (
	airDensity   = 1.225    // kg/m³
	airViscosity = 1.789e-5 // Pa s
)

// Friction is the friction factor after Darcy: 64/Re below 2300, else Haaland
// 1983 (J. Fluids Eng. 105:89), within 2 % of Colebrook's.
func Friction(reynolds, rough float64) float64 {
	if reynolds < 2300 {
		return 64 / reynolds
	}
	x := -1.8 * math.Log10(math.Pow(rough/3.7, 1.11)+6.9/reynolds)
	return 1 / (x * x)
}

// Drop is the pressure in Pa that drives a flow of free air (L/min, all pipes)
// through the pipes, with the velocity (m/s) at which it leaves: one head for
// what leaves as a jet, half of one for the entry, and friction.
func (p Pipe) Drop(free float64) (pascal, velocity float64) {
	velocity = free / 60000 / float64(p.Number) / (math.Pi / 4 * p.Bore * p.Bore)
	re := airDensity * velocity * p.Bore / airViscosity
	return airDensity / 2 * velocity * velocity * (1.5 + Friction(re, p.Rough/p.Bore)*p.Length/p.Bore), velocity
}

// jetSpread is the tangent of half the angle at which a free jet widens, about
// 12° (textbook of turbulent jets, from memory).
var jetSpread = math.Tan(12 * math.Pi / 180)

// Spilt is the share of the blast that misses the feed pipe over the gap.
func (p Pipe) Spilt() float64 {
	if p.Gap == 0 {
		return 0
	}
	width := p.Bore + 2*p.Gap*jetSpread
	return max(0, 1-p.Mouth*p.Mouth/(width*width))
}
