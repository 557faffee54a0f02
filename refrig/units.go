package refrig

// Pressure is an absolute pressure in Pa.
type Pressure float64

// Gauge is a pressure above the local atmosphere in Pa; a vacuum is negative.
type Gauge float64

// Absolute returns g as an absolute pressure where the barometer reads atm.
func (g Gauge) Absolute(atm Pressure) Pressure { return Pressure(g) + atm }

// Gauge returns p as a gauge shows it where the barometer reads atm.
func (p Pressure) Gauge(atm Pressure) Gauge { return Gauge(p - atm) }

// Temperature is a thermodynamic temperature in K.
type Temperature float64

// TempDiff is a difference of two temperatures in K.
type TempDiff float64

// ZeroCelsius is 0 °C.
const ZeroCelsius Temperature = 273.15

// Celsius returns the temperature of c degrees Celsius.
func Celsius(c float64) Temperature { return Temperature(c) + ZeroCelsius }

// Celsius returns t in degrees Celsius.
func (t Temperature) Celsius() float64 { return float64(t - ZeroCelsius) }

// StandardAtmosphere is the pressure at sea level in the standard atmosphere
// [ISO2533].
const StandardAtmosphere Pressure = 101325
