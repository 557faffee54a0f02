package cycle

// Fault is what is wrong with a plant, as changes to its equations. The zero
// value is not a sound car: start from [Sound].
type Fault struct {
	Charge       float64 // mass in the system / label charge
	AirPressure  float64 // partial pressure of air at rest, 298 K, Pa
	CondAir      float64 // condenser air flow factor
	IdleAir      float64 // further factor of the fans' air at 750/min, gone at 1500/min: a fan clutch or speed that fails at idle
	CondHeat     float64 // further rise of the condenser's inlet air, K
	EvapAir      float64 // evaporator air flow factor
	EtaV         float64 // volumetric efficiency factor
	LeakArea     float64 // leak from discharge to suction inside the compressor, m²
	Speed        float64 // compressor speed factor (a slipping belt or clutch)
	LiquidArea   float64 // throat of a blockage in the liquid line, m²; 0 none
	SuctionArea  float64 // throat of a blockage in the suction line, m²; 0 none
	MeterArea    float64 // area factor of the metering device
	ValveStuck   bool    // the valve no longer follows superheat …
	ValveOpening float64 // … and stays this far open, 0…1 (may exceed 1: bulb loose, worn seat)
	StrokeStuck  float64 // displacement fraction at which a variable compressor stays; 0 free
	CutShift     float64 // shift of the cycling pressures or set point, Pa
	FinShift     float64 // shift of the fin temperatures, K
	NoCut        bool    // the cycling or fin switch never opens
}

// Sound is a plant with nothing wrong.
func Sound() Fault {
	return Fault{Charge: 1, CondAir: 1, IdleAir: 1, EvapAir: 1, EtaV: 1, Speed: 1, MeterArea: 1}
}
