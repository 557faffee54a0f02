package car

import (
	"math"

	"twoneedles/refrig/unit"
)

// Side is the side of the system a running gauge looks at.
type Side int

// Sides; the zero value is neither or both.
const (
	NoSide Side = iota
	LowSide
	HighSide
)

// Scale brings quantities of different kinds to numbers of order one that depend
// little on gas and weather: pressures become saturation temperatures, durations
// logarithms, and most are counted from the outside temperature.
//
//	scaled = (value [as saturation temperature, or ln min] [− outside temperature] − Mid) / Spread
//
// The networks are fitted to scaled values, so a change here asks for make fit.
type Scale struct {
	Saturation   bool // K for Pa
	Logarithm    bool // ln of minutes for s
	AboveAmbient bool
	Mid, Spread  float64 // judgement: about the middle of what cars show, and how far they differ
}

// Info is what is known of a quantity beside its name.
type Info struct {
	Kind  unit.Kind // of its values in SI: a recovered mass is a share of the label charge
	Side  Side
	Scale Scale
	// Minutes is what the measurement takes one technician with gauges already
	// coupled: judgement. Hazard is the code of a caution, "" if none.
	Minutes float64
	Hazard  string
	// Twin is a measurement that tells nearly the same, With one that the same look
	// reads too; "" if there is none. Only what is Offered is proposed: of twins the
	// handier one, of one look its telling half.
	Twin, With Quantity
	Offered    bool
	// Turn is the place among the measurements before there is an answer to rank
	// them by: what an earlier, throw-away model of ours found to tell most on
	// average comes first (judgement). The two needles are no further measurement and have 0.
	Turn int
}

// row is one quantity of the table.
type row struct {
	id Quantity
	Info
}

// table is every quantity in a fixed order: networks index by it.
var table = [...]row{
	{Low, Info{Kind: unit.GaugePressure, Side: LowSide, Scale: needleLow, Minutes: 1, Hazard: "goggles"}},
	{High, Info{Kind: unit.GaugePressure, Side: HighSide, Scale: needleHigh, Minutes: 1, Hazard: "goggles"}},
	{Vent, Info{Kind: unit.Temperature, Scale: aboveAmbient(-15, 8), Minutes: 1, Offered: true, Turn: 7}},
	{DischargeLine, Info{Kind: unit.Temperature, Scale: aboveAmbient(45, 15), Minutes: 2, Hazard: "hot_parts", Twin: CondenserIn, Offered: true, Turn: 1}},
	{SuctionLine, Info{Kind: unit.Temperature, Scale: Scale{Mid: 283, Spread: 10}, Minutes: 2, Hazard: "fans_belts", Offered: true, Turn: 2}},
	{LiquidLine, Info{Kind: unit.Temperature, Scale: aboveAmbient(12, 8), Minutes: 2, Hazard: "fans_belts", Twin: CondenserOut, Offered: true, Turn: 3}},
	{CondenserIn, Info{Kind: unit.Temperature, Scale: aboveAmbient(45, 15), Minutes: 3, Hazard: "hot_parts", Twin: DischargeLine, Turn: 11}},
	{CondenserOut, Info{Kind: unit.Temperature, Scale: aboveAmbient(12, 8), Minutes: 3, Hazard: "fans_belts", Twin: LiquidLine, Turn: 12}},
	{Resting, Info{Kind: unit.GaugePressure, Scale: Scale{Saturation: true, AboveAmbient: true, Spread: 8}, Minutes: 20, Offered: true, Turn: 6}},
	{Cycling, Info{Kind: unit.Rate, Scale: Scale{Spread: 3}, Minutes: 2, Hazard: "fans_belts", Offered: true, Turn: 8}},
	{SightGlass, Info{Kind: unit.Choice, Minutes: 1, Hazard: "fans_belts", Turn: 14}}, // not offered: many cars have none
	{WaterTest, Info{Kind: unit.GaugePressure, Side: HighSide, Scale: needleHigh, Minutes: 5, Hazard: "water_and_electrics", Twin: FanTest, Offered: true, Turn: 9}},
	{FanTest, Info{Kind: unit.GaugePressure, Side: HighSide, Scale: needleHigh, Minutes: 5, Hazard: "fans_belts", Twin: WaterTest, Turn: 10}},
	{LowIdle, Info{Kind: unit.GaugePressure, Side: LowSide, Scale: needleLow, Minutes: 3, With: HighIdle, Turn: 4}},
	{HighIdle, Info{Kind: unit.GaugePressure, Side: HighSide, Scale: needleHigh, Minutes: 3, Offered: true, Turn: 5}},
	{EqualiseTime, Info{Kind: unit.Duration, Scale: Scale{Logarithm: true, Spread: 1}, Minutes: 5, Offered: true, Turn: 13}},
	{Recovered, Info{Kind: unit.Fraction, Scale: Scale{Mid: 0.8, Spread: 0.4}, Minutes: 40, Hazard: "recover", Offered: true, Turn: 15}},
}

var (
	needleLow  = Scale{Saturation: true, Mid: 275, Spread: 10}
	needleHigh = Scale{Saturation: true, AboveAmbient: true, Mid: 20, Spread: 10}
)

func aboveAmbient(mid, spread float64) Scale {
	return Scale{AboveAmbient: true, Mid: mid, Spread: spread}
}

// Quantities lists every quantity in a fixed order. The list is the caller's.
func Quantities() []Quantity {
	all := make([]Quantity, len(table))
	for i := range table {
		all[i] = table[i].id
	}
	return all
}

// Measurements lists what can be read beside the two needles, by Turn.
func Measurements() []Quantity {
	all := make([]Quantity, len(table)-2)
	for i := range table {
		if turn := table[i].Turn; turn > 0 {
			all[turn-1] = table[i].id
		}
	}
	return all
}

var placeOf = func() map[Quantity]int {
	m := map[Quantity]int{}
	for i := range table {
		m[table[i].id] = i
	}
	return m
}()

// Place is the place of q in Quantities, −1 for one that is not there.
func (q Quantity) Place() int {
	if i, ok := placeOf[q]; ok {
		return i
	}
	return -1
}

// Info tells what is known of q; the zero Info for a quantity that is not known.
func (q Quantity) Info() Info {
	if i, ok := placeOf[q]; ok {
		return table[i].Info
	}
	return Info{}
}

// Limits is what an instrument of the trade can show of q where the barometer
// reads atm, Pa: SI, with the unit as refrig.RangeError writes it. judgement
func (q Quantity) Limits(atm float64) (lo, hi float64, si string) {
	switch q.Info().Kind {
	case unit.GaugePressure:
		return -atm, 6e6, "Pa"
	case unit.Temperature:
		return 223.15, 473.15, "K"
	case unit.Rate:
		return 0, 60, "1/min"
	case unit.Duration:
		return 0, 7200, "s"
	case unit.Fraction:
		return 0, 3, ""
	}
	return math.Inf(-1), math.Inf(1), ""
}
