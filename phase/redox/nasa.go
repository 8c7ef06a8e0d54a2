package redox

import "math"

// Species is a substance of the furnace gas, or graphite.
type Species int

// The species with thermodynamic data.
const (
	CO Species = iota
	CO2
	O2
	N2
	H2O
	Graphite
	H2
	numSpecies
)

// String returns the formula.
func (s Species) String() string {
	return [numSpecies]string{"CO", "CO2", "O2", "N2", "H2O", "C", "H2"}[s]
}

// nasaSwitch is where the second row of coefficients takes over, in K.
const nasaSwitch = 1000

// nasa holds the seven coefficients below and from 1000 K. CO, CO2, O2, N2 and
// H2O: McBride, Gordon & Reno 1993, NASA TM-4513, as in the open data of
// GRI-Mech 3.0 (H2O below 1000 K and H2 from memory); graphite from memory, see
// the checks against JANAF.
var nasa = [numSpecies][2][7]float64{
	CO: {{3.57953347, -0.00061035368, 1.01681433e-06, 9.07005884e-10, -9.04424499e-13, -14344.086, 3.50840928},
		{2.71518561, 0.00206252743, -9.98825771e-07, 2.30053008e-10, -2.03647716e-14, -14151.8724, 7.81868772}},
	CO2: {{2.35677352, 0.00898459677, -7.12356269e-06, 2.45919022e-09, -1.43699548e-13, -48371.9697, 9.90105222},
		{3.85746029, 0.00441437026, -2.21481404e-06, 5.23490188e-10, -4.72084164e-14, -48759.166, 2.27163806}},
	O2: {{3.78245636, -0.00299673416, 9.84730201e-06, -9.68129509e-09, 3.24372837e-12, -1063.94356, 3.65767573},
		{3.28253784, 0.00148308754, -7.57966669e-07, 2.09470555e-10, -2.16717794e-14, -1088.45772, 5.45323129}},
	N2: {{3.298677, 0.0014082404, -3.963222e-06, 5.641515e-09, -2.444854e-12, -1020.8999, 3.950372},
		{2.92664, 0.0014879768, -5.68476e-07, 1.0097038e-10, -6.753351e-15, -922.7977, 5.980528}},
	H2O: {{4.19864056, -0.0020364341, 6.52040211e-06, -5.48797062e-09, 1.77197817e-12, -30293.7267, -0.849032208},
		{3.03399249, 0.00217691804, -1.64072518e-07, -9.7041987e-11, 1.68200992e-14, -30004.2971, 4.9667701}},
	Graphite: {{-0.310872072, 0.00440353686, 1.90394118e-06, -6.38546966e-09, 2.98964248e-12, -108.650794, 1.11382953},
		{1.45571829, 0.00171702216, -6.97562786e-07, 1.35277032e-10, -9.67590652e-15, -695.138814, -8.52583033}},
	H2: {{2.34433112, 7.98052075e-03, -1.9478151e-05, 2.01572094e-08, -7.37611761e-12, -917.935173, 0.683010238},
		{3.3372792, -4.94024731e-05, 4.99456778e-07, -1.79566394e-10, 2.00255376e-14, -950.158922, -3.20502331}},
}

func (s Species) row(T float64) *[7]float64 {
	if T < nasaSwitch {
		return &nasa[s][0]
	}
	return &nasa[s][1]
}

// HeatCapacity returns Cp in J/(mol K) at T in kelvin.
func (s Species) HeatCapacity(T float64) float64 {
	a := s.row(T)
	return gasConstant * (a[0] + T*(a[1]+T*(a[2]+T*(a[3]+T*a[4]))))
}

// Enthalpy returns H in J/mol at T in kelvin, the heat of formation at 298.15
// K from the elements included.
func (s Species) Enthalpy(T float64) float64 {
	a := s.row(T)
	return gasConstant * (a[5] + T*(a[0]+T*(a[1]/2+T*(a[2]/3+T*(a[3]/4+T*a[4]/5)))))
}

// Entropy returns S in J/(mol K) at T in kelvin and 1 bar.
func (s Species) Entropy(T float64) float64 {
	a := s.row(T)
	return gasConstant * (a[0]*math.Log(T) + T*(a[1]+T*(a[2]/2+T*(a[3]/3+T*a[4]/4))) + a[6])
}

// Gibbs returns G = H − TS in J/mol at T in kelvin and 1 bar.
func (s Species) Gibbs(T float64) float64 { return s.Enthalpy(T) - T*s.Entropy(T) }
