package furnace

import (
	"fmt"
	"math"

	"smeltbook/phase/redox"
)

// Zones is the number of zones along the way of the gas: the burning zone, two
// of the lower bed, two of the upper; the last one lies open.
const Zones = 5

// Zone is a part of the bed as solved.
type Zone struct {
	TC       float64 // °C
	Ratio    float64 // CO/CO2 of the gas that leaves it
	Wall     float64 // W lost to the wall
	Monoxide float64 // share of CO in CO + CO2
}

// State is the furnace at work, all powers in W.
type State struct {
	Zones        [Zones]Zone
	CarbonKgH    float64 // carbon burnt and gasified
	CharcoalKgH  float64
	Released     float64 // heat of burning to the gas that leaves, from 25 °C
	GasOff       float64 // carried off by the gas, and left in the ash
	Wall         float64
	Top          float64
	Charge       float64
	Water        float64 // boiling the water of the charcoal
	Left         float64 // what does not balance
	BurnReach    float64 // how far oxygen reaches before the pipe, m
	BurnShare    float64 // burning zone as a share of the bed that the gas passes
	FloorTC      float64 // at the floor of the bowl by heat that the lumps pass down, slag and metal left aside
	Sweeps       int
	TopGasCO     float64 // share of CO in the gas that leaves, by volume
	TopGasOxygen float64 // share of oxygen that the bed did not use, by volume
}

// HotTC is the temperature of the burning zone in °C.
func (s State) HotTC() float64 { return s.Zones[0].TC }

// BedTC is that of the lower bed, where ore is reduced.
func (s State) BedTC() float64 { return (s.Zones[1].TC + s.Zones[2].TC) / 2 }

// Ratio is CO/CO2 of the gas in the lower bed.
func (s State) Ratio() float64 { return s.Zones[2].Ratio }

// Monoxide is the share of the carbon that leaves as CO.
func (s State) Monoxide() float64 { return s.Zones[Zones-1].Monoxide }

// solver holds the bed while it is solved; it allocates nothing.
type solver struct {
	f        *Furnace
	a        Assumption
	T        [Zones]float64 // K
	flow     [Zones]gas     // leaving each zone
	carbon   [Zones]float64 // mol/s of carbon gasified in each zone
	volume   [Zones]float64 // of gas-filled way, m³
	wallArea [Zones]float64
	exchange [Zones]float64 // to the zone above, W/K⁴ over σ; of the last, to the sky
	store    [Zones]float64 // J/K of charcoal
	old      [Zones]float64 // K before the step in time
	dt       float64        // s; 0 for steady
	air      gas
	airH     float64
	ambient  float64
	burn     burning
	wall     float64 // W/(m² K) into lining and ground
	charge   float64 // W
	solid    float64 // heat of charcoal over that of its carbon
	water    float64 // J to drive off the water that comes with a mole of carbon
	share    float64
}

const (
	startT    = 1500.0
	tolerance = 0.005 // K
	maxSweeps = 2000
)

func (s *solver) prepare(f *Furnace, wall float64) {
	*s = solver{f: f, a: f.Assumption, wall: wall, ambient: f.AmbientTC + zero}
	n := f.Air.Normal / 60000 / molarVolume
	dry := n * (1 - f.Air.Water)
	s.air = gas{o2: dry * f.Air.Oxygen, co2: dry * f.Air.Carbon, n2: dry * (1 - f.Air.Oxygen - f.Air.Carbon), h2o: n * f.Air.Water}
	s.airH = s.air.enthalpy(f.Air.TC + zero)
	s.burn = burningZone(n, f.Fuel.Lump)
	b := f.Bowl
	path := b.CrossSection() * s.a.Path
	bed := path * b.Cover()
	s.share = s.burn.volume / bed
	s.volume[0] = min(s.burn.volume, 0.8*bed)
	rest := (bed - s.volume[0]) / (Zones - 1)
	height := rest / path
	reach := math.Cbrt(3 * s.volume[0] / (2 * math.Pi))
	// Wall: before the pipe and below it the burning zone heats it, above the
	// zones of the bed do, in equal parts.
	area := b.Wall()
	s.wallArea[0] = min(math.Pi*reach*reach+area*b.PipeHeight/b.Depth/2, 0.8*area)
	for i := 1; i < Zones; i++ {
		s.volume[i] = rest
		s.wallArea[i] = (area - s.wallArea[0]) / (Zones - 1)
	}
	reachAcross := s.a.Exchange * f.Fuel.Lump
	s.exchange[0] = min(2*math.Pi*reach*reach, path) * reachAcross / (reach/2 + height/2)
	for i := 1; i < Zones-1; i++ {
		s.exchange[i] = path * reachAcross / height
	}
	s.exchange[Zones-1] = b.CrossSection() / (1/s.a.Emissivity + height/2/reachAcross)
	for i := range s.store {
		s.store[i] = s.volume[i] / s.a.Path * f.Fuel.Density * charcoalHeat
	}
	s.charge = f.Charge.KgPerHour / 3600 * f.Charge.MJPerKg * 1e6
	s.solid = 1 / f.Fuel.Carbon
	perMole := carbonMass / f.Fuel.Carbon
	s.water = perMole * f.Fuel.Moisture / waterMass
	for i := range s.T {
		s.T[i] = startT - 200*float64(i)
	}
	s.flows()
}

// charcoalHeat is the heat capacity of hot charcoal, J/(kg K): that of graphite
// near 800 °C.
const charcoalHeat = 1800.0

// react returns the gas that leaves zone i at T (K), and the carbon it took.
func (s *solver) react(i int, T float64) (gas, float64) {
	var g gas
	taken, volume := 0.0, s.volume[i]
	if i == 0 {
		g = s.air
		taken = g[o2]
		g[co2] += g[o2]
		g[o2] = 0
		volume *= s.a.Overlap
	} else {
		g = s.flow[i-1]
	}
	k := series(s.burn.transfer, dioxideRate(T)*s.a.Reactivity) * surface(s.f.Fuel.Lump) * volume / (g.total() * molarVolume * T / zero)
	part := k / (1 + k)
	x, w := g[co2]*part, g[h2o]*part
	// Not past the balance with carbon, which hotter than this is all CO.
	if T < 1250 {
		balanced := bal(T)
		if most := max(balanced*(g[co]+g[co2])-g[co], 0) / (2 - balanced); x > most {
			x, w = most, w*most/x
		}
	}
	g[co2] -= x
	g[co] += 2*x + w
	g[h2o] -= w
	g[h2] += w
	return g, taken + x + w
}

// bal is the share of CO over charcoal in balance with it (K).
func bal(T float64) float64 {
	y, err := redox.Boudouard(T-zero, redox.CharcoalBed)
	if err != nil {
		return 1
	}
	return y
}

// flows brings gas and carbon to the temperatures.
func (s *solver) flows() {
	for i := range s.T {
		s.flow[i], s.carbon[i] = s.react(i, s.T[i])
	}
}

// residual is the heat that zone i has too much at T, W.
func (s *solver) residual(i int, T float64) float64 {
	g, c := s.react(i, T)
	in := s.airH
	if i > 0 {
		in = s.flow[i-1].enthalpy(s.T[i-1])
	}
	below := 0.0 // carbon that goes on downwards
	for j := range i {
		below += s.carbon[j]
	}
	from := s.ambient
	if i+1 < Zones {
		from = s.T[i+1]
	}
	here := carbon(T)
	// Carbon comes at the temperature above; what is no carbon is warmed too.
	heat := in + (below+c)*carbon(from) - below*here - g.enthalpy(T)
	heat -= (s.solid - 1) * (below + c) * (here - carbon(from))
	heat -= s.wallLoss(i, T)
	if i > 0 {
		heat += StefanBoltzmann * s.exchange[i-1] * (fourth(s.T[i-1]) - fourth(T))
	}
	if i == Zones-1 {
		heat -= s.top(T) + (below+c)*s.water*steam(s.ambient, T)
	} else {
		heat -= StefanBoltzmann * s.exchange[i] * (fourth(T) - fourth(s.T[i+1]))
	}
	heat -= s.charge * s.chargeShare(i)
	if s.dt > 0 {
		heat -= s.store[i] * (T - s.old[i]) / s.dt
	}
	return heat
}

func (s *solver) wallLoss(i int, T float64) float64 {
	return s.wall * s.wallArea[i] * s.a.Contact * (T - s.ambient)
}

func (s *solver) top(T float64) float64 {
	return StefanBoltzmann * s.exchange[Zones-1] * (fourth(T) - fourth(s.ambient))
}

func (s *solver) chargeShare(i int) float64 {
	if i == 0 {
		return s.a.MeltShare
	}
	return (1 - s.a.MeltShare) / (Zones - 1)
}

// steam is the heat to make a mole of water steam at T, J.
func steam(from, T float64) float64 {
	return 40660 + 75.3*max(373.15-from, 0) + 36*max(T-373.15, 0)
}

// sweep brings each zone nearer to its balance, by Newton's rule with a slope
// taken over one kelvin, and returns the largest change.
func (s *solver) sweep() float64 {
	worst := 0.0
	for i := range s.T {
		T := s.T[i]
		r := s.residual(i, T)
		slope := s.residual(i, T+1) - r
		step := 150.0
		if slope < 0 {
			step = max(min(-r/slope, 150), -150)
		} else if r < 0 {
			step = -150
		}
		s.T[i] = max(min(T+step, 3000), s.ambient)
		s.flow[i], s.carbon[i] = s.react(i, s.T[i])
		worst = max(worst, math.Abs(s.T[i]-T))
	}
	return worst
}

func (s *solver) settle() (int, error) {
	for n := 1; n <= maxSweeps; n++ {
		if s.sweep() < tolerance {
			return n, nil
		}
	}
	return maxSweeps, fmt.Errorf("the heat balance of this furnace does not settle")
}

// Solve balances the furnace, with its wall as it is after so many hours.
func (f Furnace) Solve() (State, error) {
	if err := f.check(); err != nil {
		return State{}, err
	}
	var s solver
	var w shell
	return f.solve(&s, &w)
}

// faceTC is the temperature at which the wall's intake is computed; it is taken
// in proportion to the difference.
const faceTC = 1000.0

func (f *Furnace) solve(s *solver, w *shell) (State, error) {
	times, out := [1]float64{f.Hours * 3600}, [1]Drying{}
	w.conduct(f.Bowl.Radius(), f.Bowl.Lining, &f.Lining, &f.Ground, faceTC, f.AmbientTC, times[:], out[:])
	s.prepare(f, out[0].Watts/(faceTC-f.AmbientTC)/f.Bowl.Wall())
	n, err := s.settle()
	if err != nil {
		return State{}, err
	}
	return s.state(n), nil
}

func (s *solver) state(sweeps int) State {
	st := State{Sweeps: sweeps, BurnReach: s.burn.reach, BurnShare: s.share}
	c := 0.0
	for i, T := range s.T {
		g := s.flow[i]
		st.Zones[i] = Zone{TC: T - zero, Ratio: g[co] / g[co2], Wall: s.wallLoss(i, T), Monoxide: g[co] / (g[co] + g[co2])}
		st.Wall += st.Zones[i].Wall
		c += s.carbon[i]
	}
	last := s.flow[Zones-1]
	T := s.T[Zones-1]
	st.CarbonKgH = c * carbonMass * 3600
	st.CharcoalKgH = st.CarbonKgH / s.f.Fuel.Carbon
	st.Released = s.air.enthalpy(room) + c*carbon(room) - last.enthalpy(room)
	st.GasOff = last.sensible(T, room) - (s.airH - s.air.enthalpy(room)) - c*(carbon(s.ambient)-carbon(room))
	for i, x := range s.carbon { // what is no carbon in the charcoal stays behind hot
		st.GasOff += (s.solid - 1) * x * (carbon(s.T[i]) - carbon(s.ambient))
	}
	st.Top = s.top(T)
	st.Charge = s.charge
	st.Water = c * s.water * steam(s.ambient, T)
	st.Left = st.Released - st.GasOff - st.Wall - st.Top - st.Charge - st.Water
	st.TopGasCO = last[co] / last.total()
	st.FloorTC = s.floor()
	if s.share > 1 {
		st.TopGasOxygen = s.air[o2] * math.Exp(-oxygenAway/s.share) / last.total()
	}
	return st
}

// floor is the temperature of the floor under the burning zone (°C): the lumps
// between pass heat down by radiation and lose it to the wall around them, so
// that it falls e-fold over √(k A/(h P)), a rod with the bowl's width.
func (s *solver) floor() float64 {
	b := s.f.Bowl
	below := max(b.PipeHeight-s.burn.reach/2, 0)
	k := 4 * s.a.Exchange * s.f.Fuel.Lump * StefanBoltzmann * math.Pow(0.85*s.T[0], 3)
	fall := math.Sqrt(k * b.Diameter / 4 / (s.wall * s.a.Contact))
	return s.ambient - zero + (s.T[0]-s.ambient)*math.Exp(-below/fall)
}
