package fleet

import "math"

// size is one number of a plant with its spread: lognormal (sd of ln) or, where
// abs is set, normal in the number's own unit.
type size struct {
	mid, sd float64
	abs     bool
}

func (s size) at(z float64) float64 {
	if s.abs || s.mid <= 0 || s.sd == 0 {
		return s.mid + s.sd*z
	}
	return s.mid * math.Exp(s.sd*z)
}

// The table. Judgement where a line says nothing else: the values started from an
// earlier, throw-away model of ours, tuned by hand to a table of pressures from
// memory; no car was measured. Spreads are judgement throughout.
var (
	displacement  = size{mid: 116e-6, sd: 0.10} // m³ per revolution
	electricDisp  = size{mid: 33e-6, sd: 0.08}  // m³ per revolution; common sizes 27…45 cm³, memory
	electricSpeed = size{mid: 110, sd: 0.10}    // 1/s, highest speed; judgement
	pulley        = size{mid: 1.28, sd: 0.08}
	etaV0         = size{mid: 0.80, sd: 0.04, abs: true}
	clearance     = size{mid: 0.04, sd: 0.15}
	etaIs         = size{mid: 0.65, sd: 0.04, abs: true}

	condFlow    = size{mid: 0.41, sd: 0.15} // m³/s
	condUAAir   = size{mid: 600, sd: 0.12}  // W/K
	condUARef   = size{mid: 2000, sd: 0.20} // W/K
	condRecirc  = size{mid: 0.12, sd: 0.05, abs: true}
	condPreheat = size{mid: 2.5, sd: 1.2, abs: true} // K
	condMechFan = size{mid: 0.20, sd: 0.15, abs: true}

	evapFlow  = size{mid: 0.14, sd: 0.12} // kg/s
	evapUAAir = size{mid: 280, sd: 0.12}  // W/K
	evapUARef = size{mid: 950, sd: 0.15}  // W/K
	ductUA    = size{mid: 12, sd: 0.30}   // W/K

	condVolume      = size{mid: 0.65e-3, sd: 0.15} // m³
	condVolumeOT    = size{mid: 0.80e-3, sd: 0.15}
	evapVolume      = size{mid: 0.60e-3, sd: 0.15}
	evapVolumeOT    = size{mid: 0.70e-3, sd: 0.15}
	receiver        = size{mid: 0.36e-3, sd: 0.18}
	accumulator     = size{mid: 0.60e-3, sd: 0.18}
	suctionVolume   = size{mid: 0.25e-3, sd: 0.18}
	suctionVolumeOT = size{mid: 0.65e-3, sd: 0.18} // with the accumulator's dome
	liquidVolume    = size{mid: 0.08e-3, sd: 0.20}
	dischVolume     = size{mid: 0.12e-3, sd: 0.20}

	levelOT  = size{mid: 0.32, sd: 0.08, abs: true}
	levelTXV = size{mid: 0.42, sd: 0.08, abs: true}
	bleed    = size{mid: 0.12, sd: 0.25}

	orificeBore = size{mid: 1.80e-3, sd: 0.03}            // m; sold sizes 1.2…1.8 mm, memory
	valveArea   = size{mid: 1.8e-6, sd: 0.12}             // m²
	valveSH     = size{mid: 3.5, sd: 0.8, abs: true}      // K; 3…8 K with the gain, common practice, memory
	valveGain   = size{mid: 5, sd: 0.15}                  // K
	suctionDrop = size{mid: 1.4e8, sd: 0.25}              // 20 kPa at 0.045 kg/s and 14 kg/m³
	suctionUA   = size{mid: 6, sd: 0.30}                  // W/K
	cutOut      = size{mid: 160e3, sd: 10e3, abs: true}   // Pa gauge; opens 22…28 psi, common practice, memory
	cutIn       = size{mid: 300e3, sd: 14e3, abs: true}   // Pa gauge; closes 40…47 psi, same
	setPoint    = size{mid: 205e3, sd: 15e3, abs: true}   // Pa gauge; holds 28…35 psi, common practice, memory
	finOff      = size{mid: 273.65, sd: 0.8, abs: true}   // K; −1…2 °C [USArmy303]
	finSpan     = size{mid: 5, sd: 0.20}                  // K; on again at 4…7 °C, same
	highCut     = size{mid: 2950e3, sd: 100e3, abs: true} // Pa gauge; 2800…3200 kPa, common practice, memory
)

const (
	heatLoss       = 0.06
	strokeMin      = 0.05
	electricMin    = 0.12
	variableLarger = 1.15 // a variable compressor is chosen larger, since it can idle. judgement
	condDrop       = 2.2e9
	liquidDrop     = 1.5e10
	blowerPower    = 220 // W
	orificeLength  = 38.4e-3
	subcoolShare   = 0.15
	valveMOP       = 480e3 // Pa absolute
	second         = 1.55  // an added rear evaporator relative to the front one. judgement
	yfMetering     = 1.3   // ratio of liquid flow needed for the same cooling, from h_fg and ρ_L at 5/50 °C (our eos)
	r12Metering    = 1.2
	r12CutShift    = 8e3 // Pa; R-12 switches open at 23…26 psi, common practice, memory
)
