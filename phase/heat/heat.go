// Package heat says how much heat a charge takes until its slag and copper are
// molten, and how much charcoal that is at least.
//
// The heat is that of the charge alone, from 25 °C to the working temperature:
//
//   - copper carbonate or oxide, ferric oxide and lime-stone react with carbon
//     or fall apart, with carbon monoxide as the gas of reduction;
//   - slag is heated and melted like fayalite, metal like copper.
//
// What walls, ground and the open top of a small furnace lose is several times
// more and not in it: the charcoal here is a floor, not a recipe.
package heat

import (
	"fmt"
	"math"

	"smeltbook/assay/chem"
	"smeltbook/assay/quantity"
	"smeltbook/phase/redox"
)

// Charge is what is to be melted, in kg; a kilogram of ore as a rule.
type Charge struct {
	Carbonate float64 // copper as malachite, kg Cu
	Oxide     float64 // copper otherwise, kg Cu, counted as CuO
	Ferric    float64 // iron charged as ferric oxide, kg Fe, that goes to the slag as FeO
	Carbonic  float64 // carbon dioxide that lime-stone gives off, kg
	Water     float64 // other water that is driven off, kg
	Slag      float64 // kg
	Copper    float64 // molten metal, kg
}

// Heats of formation at 25 °C in kJ/mol, from handbooks (CODATA; Robie &
// Hemingway 1995, U.S. Geological Survey Bulletin 2131; from memory).
const (
	malachite = -1054.0
	tenorite  = -157.3
	hematite  = -824.2
	wustite   = -272.0
	calcite   = -1206.9
	lime      = -635.1
	carbonOx  = -110.53
	carbonDi  = -393.51
	steam     = -241.83
	liquid    = -285.83
)

const (
	room          = 298.15
	melts         = 1490.0 // fayalite, K
	relative      = 0.10   // of the heat of the slag: fayalite stands for it
	copperMelting = 1357.77
)

// Need returns the heat in MJ that a charge takes to a temperature in °C, with
// a standard uncertainty of 10 % for letting fayalite stand for the slag. It
// fails outside 1100 to 1400 °C, where the slag is taken to be liquid, and for
// amounts below zero.
func Need(c Charge, tc float64) (quantity.Quantity, error) {
	if !(tc >= 1100 && tc <= 1400) {
		return quantity.Quantity{}, fmt.Errorf("the heat of a molten charge is known from 1100 to 1400 °C, not at %g", tc)
	}
	for _, x := range []float64{c.Carbonate, c.Oxide, c.Ferric, c.Carbonic, c.Water, c.Slag, c.Copper} {
		if !(x >= 0) || math.IsInf(x, 0) {
			return quantity.Quantity{}, fmt.Errorf("a charge with %g kg of a part is impossible", x)
		}
	}
	T := tc + 273.15
	slag := c.Slag * slagHeat(T)
	// kJ per mole over g per mole is MJ per kg.
	reactions := c.Carbonate*((2*tenorite+carbonDi+steam-malachite)/2)/mass("Cu") +
		(c.Carbonate+c.Oxide)*(carbonOx-tenorite)/mass("Cu") +
		c.Ferric*((2*wustite+carbonOx-hematite)/2)/mass("Fe") +
		c.Carbonic*(lime+carbonDi-calcite)/(mass("C")+2*mass("O")) +
		c.Water*(steam-liquid)/(2*mass("H")+mass("O"))
	total := slag + c.Copper*copperHeat(T) + reactions
	return quantity.WithU(total, relative*slag, "MJ", "fayalite stands for the slag"), nil
}

// slagHeat is the heat content of liquid fayalite over that at 25 °C in MJ/kg:
// Cp = 152.76 + 0.03916T − 28.03·10⁵/T² J/(mol K), 92.17 kJ/mol at 1217 °C and
// 240.6 J/(mol K) in the liquid (Barin & Knacke; from memory).
func slagHeat(T float64) float64 {
	h := 152.76*(melts-room) + 0.03916/2*(melts*melts-room*room) + 28.03e5*(1/melts-1/room)
	h += 92170 + 240.6*(T-melts)
	return h / 1e3 / (2*mass("Fe") + mass("Si") + 4*mass("O"))
}

// copperHeat is that of liquid copper in MJ/kg: Cp = 22.64 + 0.00628T J/(mol K),
// 13.26 kJ/mol at the melting point and 32.8 J/(mol K) in the liquid (Barin &
// Knacke, CODATA; from memory).
func copperHeat(T float64) float64 {
	h := 22.64*(copperMelting-room) + 0.00628/2*(copperMelting*copperMelting-room*room)
	h += 13260 + 32.8*(T-copperMelting)
	return h / 1e3 / mass("Cu")
}

func mass(element string) float64 {
	w, _, _ := chem.AtomicWeight(element)
	return w
}

// Fuel is how charcoal burns in the furnace.
type Fuel struct {
	Carbon    float64 // share of fixed carbon
	Monoxide  float64 // share of the burnt carbon that leaves as CO
	LeavingTC float64 // temperature of the gas at the top, °C
}

// Bed is a bed of charcoal of ordinary quality: 80 % fixed carbon (good
// charcoal has 75 to 90), half of the carbon leaving as CO, gas leaving at 800
// °C (both assumed).
func Bed() Fuel { return Fuel{Carbon: 0.80, Monoxide: 0.5, LeavingTC: 800} }

// Released is the heat of burning a kilogram of carbon with air at 25 °C to a
// gas of 25 °C, in MJ, with a share of it leaving as CO.
func Released(monoxide float64) float64 {
	return (110.53*monoxide + 393.51*(1-monoxide)) / mass("C")
}

// nitrogen is moles of N2 (with argon) for a mole of O2 in dry air.
const nitrogen = (100 - 20.95) / 20.95

// Useful is what a kilogram of charcoal leaves in the furnace, in MJ: the heat
// of burning less what the gas carries off.
func (f Fuel) Useful() (float64, error) {
	if !(f.Carbon > 0 && f.Carbon <= 1) || !(f.Monoxide >= 0 && f.Monoxide <= 1) || !(f.LeavingTC >= 25 && f.LeavingTC <= 2000) {
		return 0, fmt.Errorf("charcoal of %g carbon, %g of it to CO, gas at %g °C, is impossible", f.Carbon, f.Monoxide, f.LeavingTC)
	}
	return f.Carbon * (Released(f.Monoxide) - gasHeat(f.Monoxide, f.LeavingTC+273.15)), nil
}

// gasHeat is the heat that the gas of a kilogram of carbon carries at T (K)
// over that at 25 °C, in MJ.
func gasHeat(y, T float64) float64 {
	over := func(s redox.Species) float64 { return (s.Enthalpy(T) - s.Enthalpy(room)) / 1e3 }
	h := y*over(redox.CO) + (1-y)*over(redox.CO2) + nitrogen*(1-y/2)*over(redox.N2)
	return h / mass("C")
}

// FlameTC is the temperature in °C of the gas of carbon burnt with cold air
// where nothing else takes heat: dissociation left aside.
func FlameTC(monoxide float64) float64 {
	lo, hi := room, 3500.0
	for range 60 {
		mid := (lo + hi) / 2
		if gasHeat(monoxide, mid) < Released(monoxide) {
			lo = mid
		} else {
			hi = mid
		}
	}
	return lo - 273.15
}

// Charcoal returns the kilograms of charcoal that give a heat (MJ): what the
// charge alone takes, without the losses of the furnace.
func (f Fuel) Charcoal(need quantity.Quantity) (quantity.Quantity, error) {
	u, err := f.Useful()
	if err != nil {
		return quantity.Quantity{}, err
	}
	if u <= 0 {
		return quantity.Quantity{}, fmt.Errorf("charcoal that burns so leaves no heat in the furnace: its gas carries all of it off")
	}
	return need.Scale(1/u, "kg"), nil
}
