package fleet

import "math"

// size is one number of a plant with its spread: lognormal (sd of ln) or, where
// abs is set, normal in the number's own unit.
type size struct {
	mid, sd float64
	abs     bool
	id      string // of a size that is fitted to published tables: see calibration.csv
}

func (s size) at(z float64) float64 {
	if s.abs || s.mid <= 0 || s.sd == 0 {
		return s.mid + s.sd*z
	}
	return s.mid * math.Exp(s.sd*z)
}

// The table. Starting values and spreads are judgement.
var (
	displacement  = fitted("displacement", size{mid: 135e-6, sd: 0.14}) // m³ per revolution; common sizes 90…180 cm³, memory
	electricDisp  = size{mid: 33e-6, sd: 0.08}                          // m³ per revolution; common sizes 27…45 cm³, memory
	electricSpeed = size{mid: 110, sd: 0.10}                            // 1/s, highest speed; judgement
	pulley        = size{mid: 1.28, sd: 0.08}
	etaV0         = fitted("etaV0", size{mid: 0.80, sd: 0.04, abs: true})
	clearance     = size{mid: 0.04, sd: 0.15}
	shellUA       = size{mid: 6.5, sd: 0.2} // W/K; 5…8, from 0.15 m² of a shell in the fan's wind at 35…50 W/(m² K), judgement
	etaIs         = size{mid: 0.65, sd: 0.04, abs: true}

	condFlow    = fitted("condFlow", size{mid: 0.52, sd: 0.18}) // m³/s
	condUAAir   = fitted("condUAAir", size{mid: 750, sd: 0.15}) // W/K
	condUARef   = size{mid: 2200, sd: 0.20}                     // W/K
	condRecirc  = fitted("condRecirc", size{mid: 0.15, sd: 0.30})
	fanLow      = fitted("fanLow", size{mid: 0.65, sd: 0.25})                // share of the air in the low stage; one stage or a viscous fan: 1. judgement
	fanStep     = fitted("fanStep", size{mid: 1550e3, sd: 150e3, abs: true}) // Pa gauge; steps up at 1400…1800, common practice
	condIdle    = size{mid: 0.5, sd: 0.3, abs: true}                         // with the two below 5…18 K at idle: up to 18 K [SAE1689]
	condPreheat = size{mid: 2, sd: 1, abs: true}                             // K
	engineHeat  = size{mid: 6e3, sd: 0.25}                                   // W; a quarter to a third of the fuel of a warm engine at no load
	condMechFan = size{mid: 0.20, sd: 0.15, abs: true}

	evapFlow  = fitted("evapFlow", size{mid: 0.125, sd: 0.15}) // kg/s
	evapUAAir = fitted("evapUAAir", size{mid: 280, sd: 0.12})  // W/K
	evapUARef = size{mid: 950, sd: 0.15}                       // W/K
	cabinUA   = fitted("cabinUA", size{mid: 70, sd: 0.25})     // W/K
	ductUA    = size{mid: 8, sd: 0.30}                         // W/K

	condVolume      = size{mid: 0.46e-3, sd: 0.15} // m³
	condVolumeOT    = size{mid: 0.60e-3, sd: 0.15}
	evapVolume      = size{mid: 0.90e-3, sd: 0.15}
	evapVolumeOT    = size{mid: 0.90e-3, sd: 0.15}
	receiver        = size{mid: 0.13e-3, sd: 0.25} // of it what can hold liquid: 0.1…0.3 l with the drying agent taken off, common practice
	accumulator     = size{mid: 0.32e-3, sd: 0.18}
	suctionVolume   = size{mid: 0.25e-3, sd: 0.18}
	suctionVolumeOT = size{mid: 0.65e-3, sd: 0.18} // with the accumulator's dome
	liquidVolume    = size{mid: 0.15e-3, sd: 0.20}
	dischVolume     = size{mid: 0.12e-3, sd: 0.20}

	levelOT  = size{mid: 0.30, sd: 0.07, abs: true}
	levelTXV = size{mid: 0.49, sd: 0.10, abs: true}
	bleed    = size{mid: 0.03, sd: 0.25}

	orificeBore = fitted("orificeBore", size{mid: 1.65e-3, sd: 0.03})        // m; sold sizes 1.2…1.8 mm, common practice
	valveArea   = fitted("valveArea", size{mid: 1.8e-6, sd: 0.12})           // m²
	valveSH     = fitted("valveSH", size{mid: 3.5, sd: 0.8, abs: true})      // K; 3…8 K with the gain, common practice
	valveGain   = size{mid: 5, sd: 0.15}                                     // K
	suctionDrop = fitted("suctionDrop", size{mid: 1.4e8, sd: 0.25})          // 20 kPa at 0.045 kg/s and 14 kg/m³
	suctionUA   = size{mid: 6, sd: 0.30}                                     // W/K
	exchanger   = size{mid: 0.35, sd: 0.25}                                  // effectiveness; 0.3…0.6, judgement
	cutOut      = size{mid: 160e3, sd: 10e3, abs: true}                      // Pa gauge; opens 152…165 [Ford2009]; 22…28 psi, common practice
	cutIn       = size{mid: 300e3, sd: 14e3, abs: true}                      // Pa gauge; closes 276…324 [Ford2009]
	setPoint    = fitted("setPoint", size{mid: 205e3, sd: 15e3, abs: true})  // Pa gauge; holds 28…35 psi, common practice
	finOff      = fitted("finOff", size{mid: 273.65, sd: 0.8, abs: true})    // K; −1…2 °C, [USArmy303]
	finTarget   = fitted("finTarget", size{mid: 277.65, sd: 1.0, abs: true}) // K; 3…8 °C automatic, 3…5 °C manual [Ford2018]
	finSpan     = size{mid: 5, sd: 0.20}                                     // K; on again at 4…7 °C, same
	hotCut      = size{mid: 428, sd: 8, abs: true}                           // K; protectors let go at 145…165 °C, common practice
	highCut     = size{mid: 2950e3, sd: 100e3, abs: true}                    // Pa gauge; 2800…3200 kPa, common practice
)

const (
	strokeMin      = 0.05
	electricMin    = 0.12
	variableLarger = 1.15 // a variable compressor is chosen larger, since it can idle. judgement
	condDrop       = 2.2e9
	liquidDrop     = 1.5e10
	blowerPower    = 220 // W
	orificeLength  = 38.4e-3
	exchangerShare = 0.75 // of R-1234yf cars; trade articles call it standard equipment, common practice
	integralShare  = 0.75 // of valve cars whose condenser carries the receiver and a subcooling pass: most since about 2000. judgement
	subcoolShare   = 0.15
	valveMOP       = 480e3 // Pa absolute
	second         = 1.55  // an added rear evaporator relative to the front one. judgement
	yfMetering     = 1.3   // ratio of liquid flow needed for the same cooling, from h_fg and ρ_L at 5/50 °C (our eos)
	r12Metering    = 1.2
	r12CutShift    = 8e3 // Pa; R-12 switches open at 23…26 psi, common practice
)
