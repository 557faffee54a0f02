package cycle

import "twoneedles/refrig/air"

// Conditions is the air round the car and how the engine runs.
type Conditions struct {
	Ambient  float64 // dry bulb, K
	Humidity float64 // relative, 0…1
	PAtm     float64 // local atmosphere, Pa
	RPM      float64 // engine speed, 1/min
	Blower   float64 // air flow through the evaporator as a share of the highest
	Recirc   bool    // cabin air instead of outside air
	RamAir   float64 // extra air through the condenser, m³/s
	WaterOn  bool    // water is sprayed on the condenser
}

// cabinPull is how far recirculated air lies below ambient, as a share of the
// distance from ambient to 24 °C, and cabinDry the share of the outside humidity
// ratio it keeps. Judgement: doors closed, a few minutes into the test.
const (
	cabinPull = 0.5
	cabinDry  = 0.8
	cabinGoal = 297.15 // K
)

// cabinAir returns temperature (K) and humidity ratio (kg/kg) of the air that
// enters the evaporator.
func (c *Conditions) cabinAir() (T, W float64) {
	T = c.Ambient
	W = air.HumidityRatio(T, c.Humidity, c.PAtm)
	if c.Recirc && T > cabinGoal {
		T -= cabinPull * (T - cabinGoal)
		W *= cabinDry
	}
	return T, W
}
