package furnace

import (
	"fmt"
	"math"
)

// Earth is what a lining or the ground is made of. Damp earth conducts by Wet
// until its water has boiled off, then by K.
type Earth struct {
	K        float64 // conductivity when dry, W/(m K)
	Wet      float64 // conductivity while damp; K where it is dry
	Heat     float64 // heat capacity of the dry earth by volume, J/(m³ K)
	Moisture float64 // kg of water in a kg of dry earth
	Density  float64 // kg/m³, dry
}

// Clay is a baked lining. The conductivity of common brick is 0.6, of siliceous
// fireclay 0.94 W/(m K) (civiltoday.com; matmake.com).
func Clay() Earth { return Earth{K: 0.8, Wet: 0.8, Heat: 1.6e6, Density: 1700} }

// Grounds are the kinds of ground by name. Soil conducts 0.5 to 2 W/(m K)
// (thermofluidcalc.com), dry earth has a diffusivity of 2 to 6·10⁻⁷ m²/s (from
// memory); moistures are common practice: a tenth of the weight in ground that
// feels damp, a quarter in ground that gives water when squeezed.
func Grounds() map[string]Earth {
	return map[string]Earth{
		"dry":  {K: 0.5, Wet: 0.5, Heat: 1.36e6, Density: 1600},
		"damp": {K: 0.5, Wet: 1.2, Heat: 1.36e6, Density: 1600, Moisture: 0.10},
		"wet":  {K: 0.5, Wet: 1.8, Heat: 1.36e6, Density: 1600, Moisture: 0.25},
	}
}

func (e Earth) check(what string) error {
	if !(e.K > 0.01 && e.K < 50) || !(e.Wet >= e.K*0.2 && e.Wet < 50) || !(e.Heat > 1e5 && e.Heat < 1e7) || !(e.Moisture >= 0 && e.Moisture <= 1) || !(e.Density > 100 && e.Density < 8000) {
		return fmt.Errorf("%s with a conductivity of %g W/(m K), %g J/(m³ K), %g kg/m³ and %g of water is no earth", what, e.K, e.Heat, e.Density, e.Moisture)
	}
	return nil
}

const (
	cells     = 30
	boiling   = 100.0   // °C
	latent    = 2.257e6 // J/kg at 100 °C
	waterHeat = 4186.0  // J/(kg K)
)

// shell is the wall cut into half shells, from the hot face outwards.
type shell struct {
	volume [cells]float64     // of half a shell, m³
	shape  [cells + 1]float64 // 1/r of the borders
	mid    [cells]float64     // 1/r of the middles
	earth  [cells]*Earth
	energy [cells]float64 // J/m³ over the ground's temperature
	tc     [cells]float64
	dried  float64 // outer radius of what is past boiling, m
	radius float64
}

// Drying is the wall of a pit some time after its face was made hot.
type Drying struct {
	Watts    float64 // into the wall
	Stored   float64 // J that went into it since
	DriedM   float64 // thickness from the hot face, lining included, in which water has boiled off, m
	BehindTC float64 // temperature at the back of the lining, °C
}

// Conduct returns the wall at given times (s, rising) after the face of a
// half sphere of a radius (m) was brought to a temperature, by an explicit
// balance of energy over half shells. Water boils at 100 °C and the steam is
// lost; it is not followed into colder ground, where it would condense.
func Conduct(radius, thickness float64, lining, ground Earth, faceTC, groundTC float64, times []float64) ([]Drying, error) {
	if err := lining.check("a lining"); err != nil {
		return nil, err
	}
	if err := ground.check("ground"); err != nil {
		return nil, err
	}
	if !(radius > 0.01) || !(thickness >= 0.001) || !(faceTC > groundTC) || !(groundTC > -40 && groundTC < boiling) || len(times) == 0 || !(times[len(times)-1] <= 7*24*3600) {
		return nil, fmt.Errorf("a wall of radius %g m, lining %g m, face %g °C over ground of %g °C is outside this model (up to a week)", radius, thickness, faceTC, groundTC)
	}
	out := make([]Drying, len(times))
	var s shell
	s.conduct(radius, thickness, &lining, &ground, faceTC, groundTC, times, out)
	return out, nil
}

// liningCells is the number of equal shells in the lining.
const liningCells = 6

func (s *shell) conduct(radius, thickness float64, lining, ground *Earth, faceTC, groundTC float64, times []float64, out []Drying) {
	step := s.lay(radius, thickness, lining, ground, groundTC, times[len(times)-1])
	t, stored := 0.0, 0.0
	var watts float64
	for i, until := range times {
		for t < until-1e-9 {
			dt := min(step, until-t)
			watts = s.step(dt, faceTC, groundTC)
			stored += watts * dt
			t += dt
		}
		r := s.radius + thickness
		kl, kg := s.conductivity(liningCells-1), s.conductivity(liningCells)
		gl, gg := kl/(s.mid[liningCells-1]-1/r), kg/(1/r-s.mid[liningCells])
		out[i] = Drying{watts, stored, s.dried - s.radius, (gl*s.tc[liningCells-1] + gg*s.tc[liningCells]) / (gl + gg)}
	}
}

// lay puts the shells down, all at the temperature of the ground, and returns
// the longest step in time (s) that keeps the balance stable.
func (s *shell) lay(radius, thickness float64, lining, ground *Earth, groundTC, last float64) float64 {
	wet := max(ground.Wet, ground.K)
	reach := max(5*math.Sqrt(wet/ground.Heat*last), 0.05)
	first := thickness / liningCells
	// Cells of the ground widen by a ratio that fills the reach.
	n := float64(cells - liningCells)
	ratio := 1.0
	for lo, hi, k := 1.0, 2.0, 0; k < 40; k++ {
		ratio = (lo + hi) / 2
		if first*(math.Pow(ratio, n)-1)/(ratio-1) < reach {
			lo = ratio
		} else {
			hi = ratio
		}
	}
	s.radius, s.dried = radius, radius
	r, width, step := radius, first, math.Inf(1)
	s.shape[0] = 1 / r
	for i := range cells {
		e := lining
		if i >= liningCells {
			e = ground
			width *= ratio
		}
		s.earth[i] = e
		s.mid[i] = 1 / (r + width/2)
		s.volume[i] = 2 * math.Pi / 3 * (math.Pow(r+width, 3) - r*r*r)
		step = min(step, 0.3*width*width*e.Heat/max(e.K, e.Wet))
		r += width
		s.shape[i+1] = 1 / r
		s.energy[i], s.tc[i] = 0, groundTC
	}
	return step
}

func (s *shell) conductivity(i int) float64 {
	if e := s.earth[i]; e.Moisture > 0 && s.tc[i] < boiling+1e-9 {
		return e.Wet
	}
	return s.earth[i].K
}

// step moves on by dt seconds and returns the flow into the face, W.
func (s *shell) step(dt, faceTC, groundTC float64) float64 {
	k := s.conductivity(0)
	flow := 2 * math.Pi * k / (s.shape[0] - s.mid[0]) * (faceTC - s.tc[0])
	into := flow
	for i := range cells {
		out := 0.0
		if i+1 < cells {
			next := s.conductivity(i + 1)
			out = 2 * math.Pi * (s.tc[i] - s.tc[i+1]) / ((s.mid[i]-s.shape[i+1])/k + (s.shape[i+1]-s.mid[i+1])/next)
			k = next
		} else {
			out = 2 * math.Pi * k / s.mid[i] * (s.tc[i] - groundTC) // on to ground without end
		}
		s.energy[i] += dt * (flow - out) / s.volume[i]
		flow = out
	}
	for i := range cells {
		e := s.earth[i]
		water := e.Moisture * e.Density
		warm := (e.Heat + water*waterHeat) * (boiling - groundTC)
		switch h := s.energy[i]; {
		case h < warm:
			s.tc[i] = groundTC + h/(e.Heat+water*waterHeat)
		case h < warm+water*latent:
			s.tc[i] = boiling
			front := 1/s.shape[i] + (1/s.shape[i+1]-1/s.shape[i])*(h-warm)/(water*latent)
			s.dried = max(s.dried, front)
		default:
			s.tc[i] = boiling + (h-warm-water*latent)/e.Heat
			s.dried = max(s.dried, 1/s.shape[i+1])
		}
	}
	return into
}
