package cycle

// Laws are the correlations of a plant that could have been chosen otherwise,
// with their constants. A plant without Laws follows [StandardLaws]; a second
// set exists so that the diagnosis can be judged on cars that obey other laws
// than the ones it was fitted to.
type Laws struct {
	BestRatio    float64 // pressure ratio of the best isentropic efficiency
	RatioPenalty float64 // loss of efficiency per (ln ratio/BestRatio)²
	SpeedPenalty float64 // loss of volumetric efficiency per 1000/min above refSpeed

	CondVapour, CondLiquid float64 // conductance of those zones relative to condensing
	CondAirExp, CondRefExp float64 // exponents of flow
	EvapVapour             float64
	EvapAirExp, EvapRefExp float64

	SlipExp      float64 // slip ratio of the void fraction (ρ_L/ρ_V)^SlipExp
	PlainOrifice bool    // Bernoulli to the flash point instead of the short-tube correlation
}

// StandardLaws are what the tool computes with. Judgement in the range of
// handbook correlations, unless noted: air side louvred fin about Re^0.5…0.6,
// two-phase flow about m^0.5…0.8; best ratio near 3, judgement; slip exponent 1/3
// [Zivi1964].
var StandardLaws = Laws{
	BestRatio: 3, RatioPenalty: 0.16, SpeedPenalty: 0.06,
	CondVapour: 0.35, CondLiquid: 0.40, CondAirExp: 0.55, CondRefExp: 0.7,
	EvapVapour: 0.25, EvapAirExp: 0.5, EvapRefExp: 0.5,
	SlipExp: 1. / 3,
}

// OtherLaws differ from StandardLaws in every entry: a flatter compressor, other
// splits and exponents, the slip ratio (ρ_L/ρ_V)^½ that follows from least
// momentum flux, and an orifice by Bernoulli's law. All judgement, chosen to
// disagree.
var OtherLaws = Laws{
	BestRatio: 2.6, RatioPenalty: 0.10, SpeedPenalty: 0.10,
	CondVapour: 0.25, CondLiquid: 0.55, CondAirExp: 0.45, CondRefExp: 0.5,
	EvapVapour: 0.4, EvapAirExp: 0.6, EvapRefExp: 0.8,
	SlipExp: 0.5, PlainOrifice: true,
}
