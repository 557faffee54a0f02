package air

import "math"

const (
	tMin    = 173.15 // K, lower limit of the equation over ice [HylandWexler1983]
	tMax    = 473.15 // K, upper limit of the equation over liquid [HylandWexler1983]
	tTriple = 273.16 // K, where liquid, ice and steam meet; both equations give 611.657 Pa here

	zeroC = 273.15 // K
)

// hold returns x held between lo and hi; NaN becomes lo.
func hold(x, lo, hi float64) float64 {
	if x > lo {
		if x < hi {
			return x
		}
		return hi
	}
	return lo
}

// lnSat returns ln(ps/Pa) of pure water and its derivative by T in 1/K:
//
//	ln ps = c0/T + c1 + c2 T + c3 T² + c4 T³ + c5 T⁴ + c6 ln T
//
// over ice below the triple point, over liquid above it. [ASHRAE2017] ch. 1,
// eq. 5 and 6, which restate [HylandWexler1983].
func lnSat(T float64) (ln, slope float64) {
	if T < tTriple {
		return -5.6745359e3/T + 6.3925247 +
				T*(-9.6778430e-3+T*(6.2215701e-7+T*(2.0747825e-9-T*9.4840240e-13))) +
				4.1635019*math.Log(T),
			5.6745359e3/(T*T) - 9.6778430e-3 +
				T*(2*6.2215701e-7+T*(3*2.0747825e-9-T*4*9.4840240e-13)) +
				4.1635019/T
	}
	return -5.8002206e3/T + 1.3914993 +
			T*(-4.8640239e-2+T*(4.1764768e-5-T*1.4452093e-8)) +
			6.5459673*math.Log(T),
		5.8002206e3/(T*T) - 4.8640239e-2 +
			T*(2*4.1764768e-5-T*3*1.4452093e-8) +
			6.5459673/T
}

// PSatWater returns the saturation pressure of pure water at T, Pa: over ice
// below 273.16 K, over liquid above. Within 0.04 % of IAPWS over −40…100 °C.
func PSatWater(T float64) float64 {
	ln, _ := lnSat(hold(T, tMin, tMax))
	return math.Exp(ln)
}

// TSatWater returns the temperature at which pure water boils (or ice sublimes)
// at the absolute pressure p, K. It is the inverse of [PSatWater] to 1e-9 K; a
// pressure outside that function's range gives the temperature at its end.
func TSatWater(p float64) float64 {
	// Newton in 1/T, in which ln ps is almost a straight line: the start hardly
	// matters and five steps are plenty.
	lnp := math.Log(hold(p, pMin, pMax))
	lo, hi := tMin, tTriple
	if p >= pTriple {
		lo, hi = tTriple, tMax
	}
	T := hold(300, lo, hi)
	for range 12 {
		ln, slope := lnSat(T)
		step := (lnp - ln) / (T * T * slope) // change of −1/T, 1/K
		next := hold(1/(1/T-step), lo, hi)
		if math.Abs(next-T) < 1e-10 {
			return next
		}
		T = next
	}
	return T
}

// Saturation pressure at the limits of the equations and where they meet, Pa.
var pMin, pTriple, pMax = PSatWater(tMin), PSatWater(tTriple), PSatWater(tMax)

// enhancement returns the factor by which air at total pressure p raises the
// saturation pressure of water, and its derivative by T:
//
//	f = 1.00072 + p (3.20e-8 + 5.9e-12 t²), t in °C, p in Pa
//
// ([Buck1981] table 3, fw4; MEMORY, checked by the reference table). The factor
// over liquid serves over ice too: the two differ by 0.014 % at sea level, and one
// formula keeps the pressure continuous where the coil starts to frost.
func enhancement(T, p float64) (f, slope float64) {
	t := T - zeroC
	return 1.00072 + p*(3.20e-8+5.9e-12*t*t), p * 2 * 5.9e-12 * t
}

// steam returns the partial pressure of steam in saturated air at total pressure
// p, Pa, and its derivative by T.
func steam(T, p float64) (pw, slope float64) {
	T = hold(T, tMin, tMax)
	ln, dln := lnSat(T)
	f, df := enhancement(T, p)
	ps := math.Exp(ln)
	if pw = f * ps; pw < steamLimit*p {
		return pw, pw*dln + df*ps
	}
	return steamLimit * p, 0
}

// steamLimit is the largest share of the pressure that steam may have. Saturated
// air near boiling has an unbounded humidity ratio; judgement, above every state
// that a car meets.
const steamLimit = 0.97
