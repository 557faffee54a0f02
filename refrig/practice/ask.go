package practice

import (
	"math"
	"sort"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
)

// Question is one a student can put to the rig. Its words are
// explore.ask.<id>.
type Question string

// The questions.
const (
	AskCharge   Question = "charge"   // let charge out slowly: what moves first?
	AskOutside  Question = "ambient"  // the day warms by 10 K
	AskCondAir  Question = "cond_air" // the fan slows down
	AskEvapAir  Question = "evap_air" // the filter clogs
	AskHumidity Question = "humidity" // the air becomes humid at the same temperature
	AskApart    Question = "apart"    // a worn compressor and a restriction
)

// Questions lists the questions in the order of the page.
var Questions = []Question{AskCharge, AskOutside, AskCondAir, AskEvapAir, AskHumidity, AskApart}

// Arm is one half of an experiment: a car and the dial that is turned on it.
type Arm struct {
	Car      Settings
	Dial     Dial
	From, To float64
	Kind     string // what the halves differ in: valve, tube, wear, restriction
	// KeepWater lets the humidity follow the outside temperature, so that the air
	// holds the same water: a day that warms does not become wetter.
	KeepWater bool
}

// at is the car of the arm with its dial turned to v.
func (a Arm) at(v float64) Settings {
	s := a.Car.With(a.Dial, v)
	if a.KeepWater {
		from, to := a.Car.With(Outside, a.From).At[Outside], s.At[Outside]
		s.At[Humidity] = math.Min(s.At[Humidity]*air.PSatWater(from)/air.PSatWater(to), 1) // not on the dial's steps: nobody turns it
	}
	return s
}

// Sound returns s with nothing wrong: weather, engine and kind of car as they are.
func (s Settings) Sound() Settings {
	for _, d := range Dials {
		if d.Fault {
			s = s.With(d.Dial, d.Rest)
		}
	}
	return s
}

// Arms returns the two experiments that answer q, on a sound car in the weather as it
// is set: a fault that is set as well would be told as the doing of the dial.
func (s Settings) Arms(q Question) []Arm {
	s = s.Sound()
	byMetering := func(d Dial, to float64) []Arm {
		a, b := s, s
		a.Metering, b.Metering = car.ExpansionValve, car.OrificeTube
		if s.Compressor == car.Electric { // an electric compressor meets no orifice tube (package fleet)
			a.Compressor, b.Compressor = car.Fixed, car.Fixed
		}
		from := RangeOf(d).Rest
		return []Arm{{Car: a, Dial: d, From: from, To: to, Kind: "valve"}, {Car: b, Dial: d, From: from, To: to, Kind: "tube"}}
	}
	switch q {
	case AskCharge:
		return byMetering(Charge, 0.5)
	case AskOutside:
		from := math.Min(s.At[Outside], RangeOf(Outside).Max-10)
		arms := byMetering(Outside, from+10)
		for i := range arms {
			arms[i].From, arms[i].KeepWater = from, true
		}
		return arms
	case AskCondAir:
		return byMetering(CondAir, 0.4)
	case AskEvapAir:
		return byMetering(EvapAir, 0.4)
	case AskHumidity:
		arms := byMetering(Humidity, 0.9)
		arms[0].From, arms[1].From = 0.2, 0.2
		return arms
	case AskApart:
		return []Arm{{Car: s, Dial: Wear, To: 1, Kind: "wear"}, {Car: s, Dial: Restriction, To: 0.8, Kind: "restriction"}}
	}
	panic("practice: no question " + string(q))
}

// Sign is one thing that can be seen to move. Its words are explore.sign.<id>.
type Sign string

// The signs.
const (
	LowSide     Sign = "low"
	HighSide    Sign = "high"
	VentAir     Sign = "vent"
	Discharge   Sign = "discharge"
	Superheated Sign = "superheat"
	Subcooled   Sign = "subcooling"
)

// Signs lists every sign.
var Signs = []Sign{LowSide, HighSide, VentAir, Discharge, Superheated, Subcooled}

// How far a reading must move to be noticed: two readings of one gauge a division
// apart, a thermometer, a hand. judgement
const (
	noticeLow       = 14e3 // Pa
	noticeHigh      = 70e3 // Pa
	noticeVent      = 1.5  // K
	noticeDischarge = 5    // K
	noticeLine      = 3    // K, of suction and liquid line, superheat and subcooling
)

// signs says how each sign is read off a state and by how much it must move to
// be noticed.
var signs = []struct {
	id     Sign
	of     func(*cycle.Result) float64
	notice float64
}{
	{LowSide, func(r *cycle.Result) float64 { return r.Low }, noticeLow},
	{HighSide, func(r *cycle.Result) float64 { return r.High }, noticeHigh},
	{VentAir, func(r *cycle.Result) float64 { return r.Vent }, noticeVent},
	{Discharge, func(r *cycle.Result) float64 { return r.DischargeLine }, noticeDischarge},
	{Superheated, func(r *cycle.Result) float64 { return r.EvapSuperheat }, noticeLine},
	{Subcooled, func(r *cycle.Result) float64 { return r.Subcooling }, noticeLine},
}

// Move is what one sign did while a dial was turned.
type Move struct {
	Sign     Sign
	From, To float64 // at the start and at the end, SI
	Moved    bool
	At       float64 // of the dial where it was first noticed
}

// watchSteps is how finely a dial is turned.
const watchSteps = 25

// Watch turns the dial of an arm from end to end and returns what each sign did,
// the first to move first and those that hold still last.
//
// Errors: those of [Rig.Solve].
func (g *Rig) Watch(a Arm) ([]Move, error) {
	var out []Move
	for k := range watchSteps + 1 {
		at := a.From + (a.To-a.From)*float64(k)/watchSteps
		r, err := g.Solve(a.at(at))
		if err != nil {
			return nil, err
		}
		for i, sign := range signs {
			v := sign.of(&r)
			if k == 0 {
				out = append(out, Move{Sign: sign.id, From: v})
			}
			m := &out[i]
			m.To = v
			if !m.Moved && math.Abs(v-m.From) >= sign.notice {
				m.Moved, m.At = true, at
			}
		}
	}
	sort.SliceStable(out, func(i, j int) bool {
		if out[i].Moved != out[j].Moved {
			return out[i].Moved
		}
		return out[i].Moved && math.Abs(out[i].At-a.From) < math.Abs(out[j].At-a.From)
	})
	return out, nil
}
