package refrig

// Phase tells where a state lies.
type Phase int

// The phases of a [State].
const (
	Liquid        Phase = iota // compressed or saturated liquid
	TwoPhase                   // liquid and vapour in equilibrium
	Vapour                     // superheated or saturated vapour
	Supercritical              // pressure above the critical pressure
)

func (p Phase) String() string {
	switch p {
	case Liquid:
		return "liquid"
	case TwoPhase:
		return "two-phase"
	case Vapour:
		return "vapour"
	}
	return "supercritical"
}

// State is one thermodynamic state of a refrigerant on a mass basis. Enthalpy
// and entropy are 200 kJ/kg and 1 kJ/(kg K) for saturated liquid at 0 °C (the
// IIR reference state).
type State struct {
	T       float64 // temperature, K
	P       float64 // pressure, Pa absolute
	H       float64 // enthalpy, J/kg
	S       float64 // entropy, J/(kg K)
	Rho     float64 // density, kg/m³
	Quality float64 // vapour mass fraction, 0…1; meaningful only if Phase is TwoPhase
	Phase   Phase
}
