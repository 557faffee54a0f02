package fleet

import (
	"math"
	"math/rand/v2"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fast"
)

// Rand is the source of randomness of every draw: PCG, the same on every
// machine for the same seed.
type Rand = rand.Rand

// NewRand returns the generator of a seed.
func NewRand(seed uint64) *Rand { return rand.New(rand.NewPCG(seed, 0x7477656e6565646c)) }

// Spread scales the spread of every size: 1 is our best judgement. Larger values
// widen the fleet on purpose, as a guard against over-confidence.
type Spread float64

// Normal returns a normal variate truncated at 2.2 standard deviations, so that
// no draw is absurd.
func Normal(r *Rand) float64 {
	for i := 0; i < 20; i++ {
		if x := r.NormFloat64(); math.Abs(x) <= 2.2 {
			return x
		}
	}
	return 0
}

// Complete replaces every "don't know" of spec by a draw. LabelCharge stays as
// it is.
func Complete(r *Rand, spec car.Spec) car.Spec {
	if spec.Refrigerant == "" {
		spec.Refrigerant = pick(r, []float64{0.62, 0.34, 0.04}, []string{car.R134a, car.R1234yf, car.R12}) // judgement, cars on the road in the mid 2020s
	}
	if spec.Metering == car.MeteringUnknown && spec.Compressor == car.CompressorUnknown {
		k := pick(r, kinds.weight, kinds.index)
		spec.Metering, spec.Compressor = kinds.metering[k], kinds.compressor[k]
		if spec.Refrigerant == car.R1234yf { // its systems have valves, two trade articles say: common practice
			spec.Metering = car.ExpansionValve
		}
	}
	if spec.Metering == car.MeteringUnknown {
		spec.Metering = car.ExpansionValve
		if spec.Compressor != car.Electric && spec.Refrigerant != car.R1234yf && r.Float64() < 0.4 {
			spec.Metering = car.OrificeTube
		}
	}
	if spec.Compressor == car.CompressorUnknown {
		spec.Compressor = car.Fixed
		if r.Float64() < 0.5 {
			spec.Compressor = car.Variable
		}
	}
	if spec.HighPort == car.PortUnknown {
		spec.HighPort = car.PortDischarge
		if r.Float64() < 0.5 {
			spec.HighPort = car.PortLiquid
		}
	}
	if spec.Evaporators == 0 {
		spec.Evaporators = 1
		if r.Float64() < 0.06 {
			spec.Evaporators = 2
		}
	}
	return spec
}

// kinds is how metering devices and compressors go together. Judgement.
var kinds = struct {
	weight     []float64
	index      []int
	metering   []car.Metering
	compressor []car.Compressor
}{
	[]float64{0.24, 0.12, 0.26, 0.30, 0.08},
	[]int{0, 1, 2, 3, 4},
	[]car.Metering{car.OrificeTube, car.OrificeTube, car.ExpansionValve, car.ExpansionValve, car.ExpansionValve},
	[]car.Compressor{car.Fixed, car.Variable, car.Fixed, car.Variable, car.Electric},
}

func pick[T any](r *Rand, w []float64, v []T) T {
	u := r.Float64()
	for i, p := range w {
		if u -= p; u < 0 {
			return v[i]
		}
	}
	return v[len(v)-1]
}

// Draw draws one car of the kind spec describes and sizes its label charge. The
// error is that of [fast.Load] for a refrigerant that is not known, or of
// [cycle.Size] where several draws in turn made no plant that works.
func Draw(r *Rand, spec car.Spec, spread Spread) (*cycle.Plant, error) {
	return DrawUnder(r, spec, spread, nil)
}

// DrawUnder is Draw for cars that obey other laws; nil for the standard ones.
func DrawUnder(r *Rand, spec car.Spec, spread Spread, laws *cycle.Laws) (*cycle.Plant, error) {
	return DrawChanged(r, spec, spread, laws, nil)
}

// DrawChanged is DrawUnder for cars that differ from the fleet in what change makes
// of their sizes. It is applied before the label charge is sized, as a maker would
// who builds such cars.
func DrawChanged(r *Rand, spec car.Spec, spread Spread, laws *cycle.Laws, change func(*cycle.Plant)) (*cycle.Plant, error) {
	spec = Complete(r, spec)
	draw := func(s size) float64 { return s.at(Normal(r) * float64(spread)) }
	p, err := build(spec, draw, r, laws, change)
	for range redraws {
		if err == nil {
			break
		}
		p, err = build(spec, draw, r, laws, change)
	}
	return p, err
}

// redraws is how often sizes are drawn anew when those drawn do not make a plant
// that works at its design condition. None of 20 000 cars of all kinds needed it
// at the plain spread, one at 1.3 times that; no maker would have sold it.
const redraws = 4

// Typical returns the median car of a kind; unknowns of spec take their most
// common value.
func Typical(spec car.Spec) (*cycle.Plant, error) {
	return typical(spec, func(s size) float64 { return s.mid })
}

func typical(spec car.Spec, draw func(size) float64) (*cycle.Plant, error) {
	if spec.Refrigerant == "" {
		spec.Refrigerant = car.R134a
	}
	if spec.Metering == car.MeteringUnknown {
		spec.Metering = car.ExpansionValve
	}
	if spec.Compressor == car.CompressorUnknown {
		spec.Compressor = car.Fixed
	}
	if spec.HighPort == car.PortUnknown {
		spec.HighPort = car.PortDischarge
	}
	if spec.Evaporators == 0 {
		spec.Evaporators = 1
	}
	return build(spec, draw, nil, nil, nil)
}

// typicalCharge is the label charge of a medium car in this model, kg, used only
// to turn a label charge into a size.
const typicalCharge = 0.52

// scale returns ln of the size factor of a whole system and its spread.
func scale(spec car.Spec) (mid, sd float64) {
	sd = 0.14
	switch spec.Size {
	case car.SizeSmall:
		mid, sd = math.Log(0.82), 0.09
	case car.SizeMedium:
		sd = 0.09
	case car.SizeLarge:
		mid, sd = math.Log(1.25), 0.09
	}
	if spec.LabelCharge > 0 {
		q := spec.LabelCharge / typicalCharge
		if spec.Evaporators == 2 {
			q /= 1.45
		}
		mid = math.Max(math.Min(0.8*math.Log(q), 0.5), -0.5)
		sd = 0.09
	}
	return mid, sd
}

func build(spec car.Spec, draw func(size) float64, r *Rand, laws *cycle.Laws, change func(*cycle.Plant)) (*cycle.Plant, error) {
	fl, err := fast.Load(spec.Refrigerant)
	if err != nil {
		return nil, err
	}
	mid, sd := scale(spec)
	g := math.Exp(draw(size{mid: mid, sd: sd})) // of the whole system
	p := &cycle.Plant{Fluid: fl, Metering: spec.Metering, Compressor: spec.Compressor, HighPort: spec.HighPort}

	p.Displacement = g * draw(displacement)
	p.PulleyRatio = draw(pulley)
	p.EtaV0, p.Clearance, p.EtaIs = draw(etaV0), draw(clearance), draw(etaIs)
	p.ShellUA = g * draw(shellUA)
	p.StrokeMin = strokeMin
	switch spec.Compressor {
	case car.Electric:
		p.Displacement = g * draw(electricDisp)
		p.MaxSpeed = draw(electricSpeed)
		p.StrokeMin = electricMin
	case car.Variable:
		p.Displacement *= variableLarger
		p.ExternalValve = r != nil && r.Float64() < 0.4 // judgement
	}

	p.CondFlow = g * draw(condFlow)
	p.CondUAAir, p.CondUARef = g*draw(condUAAir), g*draw(condUARef)
	p.CondRecirc = math.Min(math.Max(draw(condRecirc), 0), 0.4)
	p.FanLow, p.FanStep = math.Min(draw(fanLow), 1), draw(fanStep)
	p.CondIdle = math.Max(draw(condIdle), 0)
	p.CondPreheat = math.Max(draw(condPreheat), 0)
	p.EngineHeat = draw(engineHeat)
	p.CondMechFan = math.Min(math.Max(draw(condMechFan), 0), 0.5)
	p.CondDrop = condDrop / (g * g)
	p.EvapFlow = g * draw(evapFlow)
	p.EvapUAAir, p.EvapUARef = g*draw(evapUAAir), g*draw(evapUARef)
	p.CabinUA = draw(cabinUA)
	p.DuctUA, p.BlowerPower = draw(ductUA), blowerPower*g
	p.SuctionDrop, p.SuctionUA = draw(suctionDrop)/(g*g), draw(suctionUA)
	p.LiquidDrop = liquidDrop / (g * g)
	p.DischVolume, p.LiquidVolume = g*draw(dischVolume), g*draw(liquidVolume)

	switch spec.Metering {
	case car.OrificeTube:
		p.CondVolume, p.EvapVolume = g*draw(condVolumeOT), g*draw(evapVolumeOT)
		p.SuctionVolume, p.StoreVolume = g*draw(suctionVolumeOT), g*draw(accumulator)
		p.StoreLevel, p.Bleed = draw(levelOT), draw(bleed)
		p.OrificeBore, p.OrificeLength = math.Sqrt(g)*draw(orificeBore), orificeLength
	default:
		p.CondVolume, p.EvapVolume = g*draw(condVolume), g*draw(evapVolume)
		p.SuctionVolume, p.StoreVolume = g*draw(suctionVolume), g*draw(receiver)
		p.StoreLevel = draw(levelTXV)
		p.ValveArea = g * draw(valveArea)
		p.ValveSH, p.ValveGain = math.Max(draw(valveSH), 1), draw(valveGain)
		p.ValveMOP = valveMOP
		if r == nil || r.Float64() < integralShare {
			p.CondSubFrac = subcoolShare
		}
	}
	p.StoreLevel = math.Min(math.Max(p.StoreLevel, 0.12), 0.75)
	if spec.Evaporators == 2 {
		p.EvapFlow *= second
		p.EvapUAAir *= second
		p.EvapUARef *= second
		p.EvapVolume *= second
		p.SuctionVolume *= 1.6
		p.LiquidVolume *= 2.2 // the rear unit's long lines
		p.Displacement *= 1.2
		p.CondUAAir *= 1.15
		p.CondUARef *= 1.15
		p.CondVolume *= 1.1
		p.ValveArea *= second
		p.OrificeBore *= math.Sqrt(1.2)
	}

	p.CutOut, p.CutIn = draw(cutOut), draw(cutIn)
	p.SetPoint = draw(setPoint)
	p.FinOff = draw(finOff)
	p.FinOn = p.FinOff + draw(finSpan)
	p.FinTarget = math.Max(draw(finTarget), p.FinOff+1)
	p.HighCut, p.HotCut = draw(highCut), draw(hotCut)
	if spec.HighPort == car.PortLiquid && r != nil {
		p.PortAfter = r.Float64() < 0.5
	}
	// The other two refrigerants need more mass flow for the same cooling; their
	// systems carry larger metering devices.
	switch spec.Refrigerant {
	case car.R12:
		p.CutOut += r12CutShift
		p.CutIn += r12CutShift
		p.OrificeBore *= math.Sqrt(r12Metering)
		p.ValveArea *= r12Metering
	case car.R1234yf:
		if r == nil || r.Float64() < exchangerShare {
			p.IHX = math.Min(draw(exchanger), 0.7)
		}
		p.OrificeBore *= math.Sqrt(yfMetering)
		p.ValveArea *= yfMetering
	}
	if change != nil {
		change(p)
	}
	p.Laws = laws
	if err := cycle.Size(p); err != nil {
		return nil, err
	}
	return p, nil
}
