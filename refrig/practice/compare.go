package practice

import (
	"math"

	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fast"
)

// State is a setting of the rig and what the car does there.
type State struct {
	Set   Settings
	Is    cycle.Result
	Fluid *fast.Fluid
}

// Reason is why the model moves a sign from one state to another. Its words are
// explore.pin.why.<sign>.<up or down>.<reason>.
type Reason string

// The reasons. Each is read off the two states: what a needle or a thermometer does is
// parted into what it is made of, and the larger part is named.
const (
	NoReason Reason = ""
	// Of every sign: a state is a mean over a clutch that cycles, the low side's between
	// the points of its switch.
	ByCycling Reason = "cycling"
	// Of the low side. It stands where the compressor takes as much as the evaporator
	// gives: flow and pressure moved together, and the evaporator gives more or less; or
	// against each other, and the compressor pulls less or more.
	ByGiving Reason = "giving"
	ByPull   Reason = "pull"
	ByHeight Reason = "height" // a gauge counts from the atmosphere
	// Of the high side, which is the pressure of condensing and that of other gas:
	// condensing stands above the air by what the heat needs.
	ByOutside Reason = "outside"
	ByHeat    Reason = "heat" // there is more or less of it to give off
	BySurface Reason = "surface"
	ByGas     Reason = "gas"
	// Of the vent: how cold the evaporator is, or how much it takes out of its air.
	ByCold   Reason = "cold"
	ByTaking Reason = "taking"
	ByAir    Reason = "air" // it comes in otherwise
	// Of the discharge line.
	BySqueeze Reason = "squeeze" // the ratio of the pressures
	ByGasIn   Reason = "gas_in"  // the gas that is compressed
	// Of superheat and subcooling: where liquid ends, or stands.
	ByLiquid Reason = "liquid"
)

// Change is what one sign does between two states.
type Change struct {
	Sign     Sign
	From, To float64 // SI
	Way      int     // 1 up, −1 down, 0 where nobody would notice
	Why      Reason
	// Was and Is are the numbers the reason rests on, where it has any: flow and heat as
	// shares of what they were (Was is 1), temperatures and differences in K.
	Was, Is float64
}

// Compare tells what moved from state a to state b, in the order of [Signs], and why.
func Compare(a, b *State) []Change {
	var out []Change
	for _, s := range signs {
		c := Change{Sign: s.id, From: s.of(&a.Is), To: s.of(&b.Is)}
		if c.Way = way(c.To-c.From, s.notice); c.Way != 0 {
			c.Why, c.Was, c.Is = why(c, a, b)
		}
		out = append(out, c)
	}
	return out
}

// Turned lists the dials that stand otherwise in b than in a.
func Turned(a, b Settings) []Dial {
	var out []Dial
	for _, d := range Dials {
		if math.Abs(a.At[d.Dial]-b.At[d.Dial]) > d.Step/2 {
			out = append(out, d.Dial)
		}
	}
	return out
}

// hardly is the share below which a flow is the same. Judgement: a tenth of what the
// steps of the dials make of it.
const hardly = 0.01

func why(c Change, a, b *State) (r Reason, was, is float64) {
	if a.Is.Cycling != b.Is.Cycling || a.Is.HighCutOut != b.Is.HighCutOut || c.Sign == LowSide && a.Is.Cycling {
		return ByCycling, 0, 0
	}
	if a.Set.Refrigerant != b.Set.Refrigerant {
		return NoReason, 0, 0 // its own pressures, not the car's doing
	}
	up := float64(c.Way)
	switch c.Sign {
	case LowSide:
		return whyLow(c, a, b)
	case HighSide:
		return whyHigh(c, a, b)
	case VentAir:
		cold := b.Is.Evaporating - a.Is.Evaporating
		took := b.Is.Cooling/a.Is.Cooling - 1
		switch {
		case up*cold >= math.Abs(c.To-c.From)/2:
			return ByCold, a.Is.Evaporating, b.Is.Evaporating
		case -up*took > hardly:
			return ByTaking, 1, 1 + took
		case a.Set.At[Outside] != b.Set.At[Outside] || a.Set.At[Humidity] != b.Set.At[Humidity]:
			return ByAir, 0, 0
		}
	case Discharge:
		ratio := func(s *State) float64 { return s.Is.States[1].P / s.Is.States[0].P }
		squeeze := math.Log(ratio(b)/ratio(a)) * squeezed
		in := b.Is.SuctionLine - a.Is.SuctionLine
		switch {
		case up*squeeze >= up*in && up*squeeze > 0:
			return BySqueeze, ratio(a), ratio(b)
		case up*in > 0:
			return ByGasIn, a.Is.SuctionLine, b.Is.SuctionLine
		}
	case Superheated, Subcooled:
		return ByLiquid, 0, 0
	}
	return NoReason, 0, 0
}

// squeezed is by how much gas warms where the ratio of the pressures grows e times, K: of
// these refrigerants about a tenth of the absolute temperature. It weighs one reason of
// the discharge line against the other and is no number that anybody reads.
const squeezed = 35.0

func whyLow(c Change, a, b *State) (r Reason, was, is float64) {
	thinner := a.Set.Conditions().PAtm - b.Set.Conditions().PAtm
	if d := c.To - c.From; thinner*float64(c.Way) >= math.Abs(d)/2 {
		return ByHeight, 0, 0
	}
	flow := b.Is.MassFlow / a.Is.MassFlow
	switch more := float64(c.Way) * (flow - 1); {
	case more > hardly:
		return ByGiving, 1, flow
	case more < -hardly:
		return ByPull, 1, flow
	}
	return NoReason, 0, 0
}

func whyHigh(c Change, a, b *State) (r Reason, was, is float64) {
	up := float64(c.Way)
	// What of the pressure is not that of condensing is of other gas, a little of it of the
	// flow through the condenser.
	gas := func(s *State) float64 {
		return s.Is.High + s.Set.Conditions().PAtm - s.Fluid.PSat(s.Is.Condensing)
	}
	if d := c.To - c.From; up*(gas(b)-gas(a)) >= math.Abs(d)/2 {
		return ByGas, 0, 0
	}
	lift := func(s *State) float64 { return s.Is.Condensing - s.Is.CondenserAir }
	air := b.Is.CondenserAir - a.Is.CondenserAir
	lifted := lift(b) - lift(a)
	heat := b.Is.Rejected / a.Is.Rejected
	switch {
	case up*air >= up*lifted && up*air > 0:
		return ByOutside, a.Is.CondenserAir, b.Is.CondenserAir
	case up*lifted <= 0 || lift(a) <= 0:
		return NoReason, 0, 0
	case up*(heat-1) >= up*(lift(b)/lift(a)-1)/2:
		return ByHeat, 1, heat
	}
	return BySurface, lift(a), lift(b)
}
