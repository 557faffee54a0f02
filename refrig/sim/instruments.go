package sim

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Care is how a car is read.
type Care int

// Ways of reading a car.
const (
	// Everyday is a working bay: now and then the thermometer lies in the sun, a
	// gauge is worn, the car rested at another temperature than it runs at, a fact
	// about the car is guessed wrong.
	Everyday Care = iota
	// Careful is a good set used by a careful person, every fact right.
	Careful
)

// Instruments is what is wrong, for a whole visit, with the instruments, with the
// facts typed and with the way the car rested. Every reading of one gauge shares its
// error, and every reading of the car its weather, so that no number of readings
// averages them out.
type Instruments struct {
	Ambient  float64 // error of the outside temperature typed, K
	Humidity float64 // of the relative humidity typed, 1
	RPM      float64 // of the engine speed typed, 1/min
	LowZero  float64 // of the low-side gauge, Pa
	HighZero float64 // of the high-side gauge, Pa

	RestShift       float64 // temperature the car rested at, less the outside air of the running test, K
	RestThermometer float64 // error of that temperature as typed, K
	RestTaken       bool    // it was typed; else the outside temperature stands for it
	Soaked          bool    // somebody made sure that every part had come to it
	SoakLag         float64 // of the refrigerant behind that temperature, K

	ProbeBefore bool // the liquid line was read before a blockage, not after it

	// Facts that were typed wrong.
	MeteringWrong, CompressorWrong, RefrigerantWrong, PortWrong, DoorsWrong bool
	other                                                                   float64 // picks which wrong fact, 0…1
}

// How often an everyday visit goes wrong and by how much. Judgement, bounded by
// what is published of gauges: class 1.6 of [EN837] allows 1.6 % of full scale, on
// common ranges of 0…10 bar and 0…35 bar ±16 kPa and ±56 kPa, taken as two standard
// deviations; a set of grade B or one that was dropped is 2…3 times as far off
// (memory).
const (
	sdAmbient, sdAmbientWorn, ambientWorn = 1.0, 5.0, 0.15 // K, K, share of visits
	sunOnThermometer                      = 1.5            // K, by which the worn ones read warm on average
	sdRH, sdRHWorn, rhWorn                = 0.05, 0.22, 0.15
	sdRPM, sdRPMWorn, rpmWorn             = 60, 350, 0.10 // 1/min
	sdLow, sdLowWorn                      = 8e3, 32e3     // Pa
	sdHigh, sdHighWorn, gaugeWorn         = 28e3, 85e3, 0.20
	restElsewhere                         = 0.6 // share of cars rested at another temperature …
	restCooler, sdRest                    = -4.0, 6.0
	restTaken, soaked                     = 0.6, 0.6
	sdSoaked, sdNotSoaked                 = 0.8, 3.0 // K
	sameThermometer                       = 0.5      // share of visits with one thermometer for both
	mistyped                              = 0.03     // share of each fact about the car
)

// DrawInstruments draws the errors of one visit.
func DrawInstruments(care Care, r *fleet.Rand) Instruments {
	n := func(sd float64) float64 { return sd * fleet.Normal(r) }
	if care == Careful {
		return Instruments{Ambient: n(sdAmbient), Humidity: n(sdRH), RPM: n(sdRPM), LowZero: n(sdLow), HighZero: n(sdHigh),
			RestThermometer: n(sdAmbient), RestTaken: true, Soaked: true, SoakLag: n(sdSoaked)}
	}
	worn := func(share, sd, sdWorn float64) float64 {
		if r.Float64() < share {
			return n(sdWorn)
		}
		return n(sd)
	}
	in := Instruments{
		Humidity: worn(rhWorn, sdRH, sdRHWorn),
		RPM:      worn(rpmWorn, sdRPM, sdRPMWorn),
		LowZero:  worn(gaugeWorn, sdLow, sdLowWorn),
		HighZero: worn(gaugeWorn, sdHigh, sdHighWorn),
	}
	thermometer := func() float64 {
		if r.Float64() < ambientWorn {
			return sunOnThermometer + n(sdAmbientWorn)
		}
		return n(sdAmbient)
	}
	in.Ambient = thermometer()
	in.RestThermometer = in.Ambient
	if r.Float64() >= sameThermometer {
		in.RestThermometer = thermometer()
	}
	if r.Float64() < restElsewhere {
		in.RestShift = restCooler + n(sdRest)
	}
	in.RestTaken = r.Float64() < restTaken
	in.Soaked = in.RestTaken && r.Float64() < soaked
	in.SoakLag = n(sdNotSoaked)
	if in.Soaked {
		in.SoakLag = worn(0.1, sdSoaked, sdNotSoaked)
	}
	in.ProbeBefore = r.Float64() < 0.5
	wrong := func() bool { return r.Float64() < mistyped }
	in.MeteringWrong, in.CompressorWrong, in.RefrigerantWrong, in.PortWrong, in.DoorsWrong = wrong(), wrong(), wrong(), wrong(), wrong()
	in.other = r.Float64()
	return in
}

// Zeros are the errors a gauge may have for a whole visit with their probabilities:
// nodes of the everyday distribution, for those who integrate over it.
func Zeros(high bool) (at, weight []float64) {
	sd, worn := sdLow, sdLowWorn
	if high {
		sd, worn = sdHigh, sdHighWorn
	}
	for _, k := range nodes {
		at = append(at, k.z*sd, k.z*worn)
		weight = append(weight, k.w*(1-gaugeWorn), k.w*gaugeWorn)
	}
	return at, weight
}

// RestErrors are the same for the temperature of the refrigerant at rest less the
// temperature that stands for it, K.
func RestErrors(taken, soakedWell bool) (at, weight []float64) {
	add := func(share, mean, sd float64) {
		for _, k := range nodes {
			at, weight = append(at, mean+k.z*sd), append(weight, share*k.w)
		}
	}
	switch {
	case !taken: // the outside air of the running test, as it truly was, stands for it
		add(1-restElsewhere, 0, sdNotSoaked)
		add(restElsewhere, restCooler, math.Hypot(sdRest, sdNotSoaked))
	case soakedWell:
		add((1-ambientWorn)*0.9, 0, math.Hypot(sdAmbient, sdSoaked))
		add((1-ambientWorn)*0.1, 0, math.Hypot(sdAmbient, sdNotSoaked))
		add(ambientWorn, -sunOnThermometer, math.Hypot(sdAmbientWorn, sdSoaked))
	default:
		add(1-ambientWorn, 0, math.Hypot(sdAmbient, sdNotSoaked))
		add(ambientWorn, -sunOnThermometer, math.Hypot(sdAmbientWorn, sdNotSoaked))
	}
	return at, weight
}

// nodes and weights of the seven-point Gauss–Hermite rule for a standard normal
// variable [Abramowitz1964] table 25.10, nodes times √2 and weights over √π.
var nodes = []struct{ z, w float64 }{
	{0, 0.4571428571}, {1.1544053948, 0.2401231786}, {-1.1544053948, 0.2401231786},
	{2.3667594107, 0.0307571239}, {-2.3667594107, 0.0307571239},
	{3.7504397177, 0.0005482689}, {-3.7504397177, 0.0005482689},
}

// Beyond these an error is worth asking about.
const (
	farAmbient = 3.0  // K
	farLow     = 25e3 // Pa
	farHigh    = 75e3 // Pa
)

// AmbientFar, GaugeFar and CarWrong report whether what was typed of the weather,
// read off the gauges or typed of the car is far from the truth.
func (in *Instruments) AmbientFar() bool { return math.Abs(in.Ambient) > farAmbient }
func (in *Instruments) GaugeFar() bool {
	return math.Abs(in.LowZero) > farLow || math.Abs(in.HighZero) > farHigh
}
func (in *Instruments) CarWrong() bool {
	return in.MeteringWrong || in.CompressorWrong || in.RefrigerantWrong
}

// typed is what a person types of a car.
func (in *Instruments) typed(s car.Spec) car.Spec {
	if in.MeteringWrong {
		s.Metering = car.OrificeTube + car.ExpansionValve - s.Metering
	}
	if in.CompressorWrong {
		others := [][]car.Compressor{{car.Variable, car.Electric}, {car.Fixed, car.Electric}, {car.Fixed, car.Variable}}[s.Compressor-car.Fixed]
		s.Compressor = others[0]
		if in.other < 0.15 { // few take a belt for orange cables
			s.Compressor = others[1]
		}
	}
	if in.RefrigerantWrong {
		switch s.Refrigerant {
		case car.R134a:
			s.Refrigerant = car.R1234yf
		default:
			s.Refrigerant = car.R134a
		}
	}
	if in.PortWrong {
		s.HighPort = car.PortDischarge + car.PortLiquid - s.HighPort
	}
	return s
}

// behind is the weather and running behind those that were reported as c.
func (in *Instruments) behind(c cycle.Conditions) cycle.Conditions {
	c.Ambient -= in.Ambient
	c.Humidity = math.Min(math.Max(c.Humidity-in.Humidity, 0.02), 1)
	c.RPM = math.Max(c.RPM-in.RPM, 500)
	return c
}

// doors is what a person says of them.
func (in *Instruments) doors(shut bool) car.Doors {
	if shut != in.DoorsWrong {
		return car.DoorsClosed
	}
	return car.DoorsOpen
}
