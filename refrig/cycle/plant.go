package cycle

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// Plant is one car's system in sizes and settings. Package fleet draws plants
// and says where each size comes from; here they are only numbers with units.
type Plant struct {
	Fluid      *fast.Fluid
	Metering   car.Metering   // OrificeTube or ExpansionValve, never unknown
	Compressor car.Compressor // Fixed, Variable or Electric, never unknown

	// Compressor.
	Displacement float64 // swept volume per revolution at full stroke, m³
	PulleyRatio  float64 // compressor speed / engine speed; unused if Electric
	MaxSpeed     float64 // highest speed of an electric compressor, 1/s
	EtaV0        float64 // volumetric efficiency extrapolated to pressure ratio 1
	Clearance    float64 // clearance volume / swept volume
	EtaIs        float64 // best isentropic efficiency
	ShellUA      float64 // from the hot gas through the compressor's shell to the engine bay, W/K
	StrokeMin    float64 // smallest displacement or speed fraction under control

	// Condenser and its air.
	CondFlow     float64 // air flow at 1500 rpm, fans on, standing still, m³/s
	CondMechFan  float64 // share of that flow that follows the engine speed
	CondUAAir    float64 // air-side conductance at CondFlow, W/K
	CondUARef    float64 // refrigerant-side conductance, condensing, at DesignFlow, W/K
	CondRecirc   float64 // share of hot air that returns to the inlet: standing, bonnet open, 1500 rpm
	CondIdle     float64 // by how much of itself that share grows from 1500 to 750 rpm
	FanLow       float64 // share of CondFlow in the fans' low stage, 1 where there is one stage
	FanStep      float64 // gauge pressure of the high side at which they step up, Pa
	CondPreheat  float64 // rise of the inlet air above ambient from ground and bodywork, K
	EngineHeat   float64 // that the radiator behind adds to the air, W; none where an electric compressor runs
	CondSubFrac  float64 // share of the face after an integral receiver; 0 if none
	CondDrop     float64 // pressure drop coefficient, Pa·(kg/m³)/(kg/s)²
	CondVolume   float64 // m³
	DischVolume  float64 // m³
	LiquidVolume float64 // m³
	LiquidDrop   float64 // as CondDrop

	// Store: receiver in the liquid line or accumulator in the suction line.
	StoreVolume float64 // volume that can hold liquid, m³
	StoreLevel  float64 // filled share at the label charge
	Bleed       float64 // liquid share an accumulator at full level lets through

	// Metering device.
	OrificeBore, OrificeLength float64 // m
	ValveArea                  float64 // fully open throat × discharge coefficient 1, m²
	ValveSH                    float64 // static superheat, K
	ValveGain                  float64 // superheat from opening to full open, K
	ValveMOP                   float64 // evaporator pressure at which the valve throttles, Pa absolute

	// Evaporator and its air.
	EvapFlow    float64 // dry air at full blower, kg/s
	EvapUAAir   float64 // air-side conductance at EvapFlow, W/K
	EvapUARef   float64 // refrigerant-side conductance, boiling, at DesignFlow, W/K
	EvapVolume  float64 // m³
	CabinUA     float64 // from outside to a closed cabin, with what leaks in, W/K
	DuctUA      float64 // from the coil to the vent, W/K
	BlowerPower float64 // heat of the blower at its highest setting, W

	// Suction line.
	SuctionVolume float64 // m³, with the dome of an accumulator
	SuctionDrop   float64 // as CondDrop
	SuctionUA     float64 // to the engine bay, W/K
	IHX           float64 // effectiveness of an internal (coaxial) heat exchanger between liquid and suction line; 0 none

	// Controls, gauge pressures in Pa.
	CutOut, CutIn float64 // clutch cycling on suction pressure (orifice tube)
	FinOff, FinOn float64 // clutch cycling on fin temperature, K: a guard against frost
	FinTarget     float64 // fin temperature an electric or externally controlled compressor aims at, K
	SetPoint      float64 // suction pressure an internally controlled compressor holds
	ExternalValve bool    // variable compressor controlled on fin temperature instead
	HighCut       float64 // high-pressure cut-out
	HotCut        float64 // gas temperature at which the compressor's protector lets go, K

	HighPort  car.HighPort // PortDischarge or PortLiquid
	PortAfter bool         // a port in the liquid line lies after a possible blockage

	Charge float64 // label charge, kg; set by Size

	Laws *Laws // correlations; nil for StandardLaws
}

// DesignFlow is the refrigerant flow at which the conductances of a plant are
// given, kg/s.
const DesignFlow = 0.045

// onFin reports whether capacity follows the fin temperature.
func (p *Plant) onFin() bool {
	switch p.Compressor {
	case car.Electric:
		return true
	case car.Variable:
		return p.ExternalValve
	}
	return p.Metering == car.ExpansionValve
}
