package air

// Constants of moist air, [ASHRAE2017] ch. 1.
const (
	eps = 0.621945 // molar mass of water over that of dry air, eq. 20
	cpa = 1006.0   // heat capacity of dry air, J/(kg K), eq. 30
	hg0 = 2501e3   // enthalpy of saturated steam at 0 °C, J/kg, eq. 30
	cpw = 1860.0   // heat capacity of steam, J/(kg K), eq. 30
)

// HumidityRatio returns the humidity ratio of air at T with relative humidity rh
// at pressure p, kg of water per kg of dry air:
//
//	W = 0.621945 pw/(p − pw), pw = rh · steam pressure of saturated air
//
// [ASHRAE2017] ch. 1 eq. 20. Within 0.05 % of the real-gas reference.
func HumidityRatio(T, rh, p float64) float64 {
	pw, _ := steam(T, p)
	pw *= hold(rh, 0, 1)
	return eps * pw / (p - pw)
}

// RelativeHumidity is the inverse of [HumidityRatio], 0…1 for air that is not
// supersaturated; fog gives more than 1.
func RelativeHumidity(T, W, p float64) float64 {
	pw, _ := steam(T, p)
	return vapourPressure(W, p) / pw
}

// vapourPressure returns the partial pressure of steam in air of humidity ratio
// W, Pa.
func vapourPressure(W, p float64) float64 { return p * W / (eps + W) }

// Enthalpy returns the enthalpy of moist air, J per kg of dry air:
//
//	h = 1006 t + W (2 501 000 + 1860 t), t in °C
//
// [ASHRAE2017] ch. 1 eq. 30. Within 0.25 kJ/kg of the real-gas reference up to 90 % humidity.
func Enthalpy(T, W float64) float64 {
	t := T - zeroC
	return cpa*t + W*(hg0+cpw*t)
}

// HeatCapacity returns the heat capacity of moist air at constant pressure and
// humidity ratio, J/K per kg of dry air.
func HeatCapacity(W float64) float64 { return cpa + W*cpw }
