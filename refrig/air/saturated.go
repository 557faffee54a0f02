package air

import "math"

// HSatSlope returns the enthalpy of saturated air, J per kg of dry air, which is what a
// wet coil at temperature T exchanges heat and water with, and its derivative by T in
// J/(kg K), the "saturation heat capacity" of the enthalpy method.
// Both are exact, not fitted, and cost one exponential and one logarithm; h is
// continuous at the triple point to 0.01 J/kg, its slope steps there by a few
// per cent because ice holds its water more firmly than liquid does.
func HSatSlope(T, p float64) (h, slope float64) {
	T = hold(T, tMin, tMax)
	W, dW := wSat(T, p)
	return Enthalpy(T, W), HeatCapacity(W) + dW*(hg0+cpw*(T-zeroC))
}

// wSat returns the humidity ratio of saturated air and its derivative by T, 1/K.
func wSat(T, p float64) (W, slope float64) {
	pw, dpw := steam(T, p)
	d := p - pw
	return eps * pw / d, eps * p * dpw / (d * d)
}

// WetBulb returns the thermodynamic wet-bulb temperature of air, K: the
// temperature Tw at which water evaporating into the air brings it to saturation,
//
//	0 = hs(Tw) − (Ws(Tw) − W) hw(Tw) − h
//
// with hw of liquid water above 273.16 K, of ice below ([ASHRAE2017] ch. 1 eq. 33,
// 34 and 36). Just around freezing both a wet and a frozen bulb can satisfy it; the
// frozen one is returned. Supersaturated air returns T.
func WetBulb(T, W, p float64) float64 {
	T = hold(T, tMin, tMax)
	W = hold(W, 0, 1e3)
	if Ws, _ := wSat(T, p); W >= Ws {
		return T
	}
	h := Enthalpy(T, W)
	residual := func(x, hw, dhw float64) (r, slope float64) {
		Ws, dWs := wSat(x, p)
		hs, dhs := HSatSlope(x, p)
		return hs - (Ws-W)*hw - h, dhs - dWs*hw - (Ws-W)*dhw
	}
	ice := func(x float64) (float64, float64) {
		return residual(x, -333.4e3+2100*(x-zeroC), 2100)
	}
	liquid := func(x float64) (float64, float64) {
		return residual(x, 4186*(x-zeroC), 4186)
	}
	top := math.Min(T, tTriple)
	if r, _ := ice(top); T < tTriple || r >= 0 {
		return root(tMin, top, top, ice)
	}
	return root(tTriple, T, T, liquid)
}

// root returns the zero of the rising function f between lo and hi by Newton
// steps from x, replaced by bisection where a step leaves the bracket. It ends
// within 1e-9 K, or after 60 steps, which bisection alone needs for that.
func root(lo, hi, x float64, f func(float64) (y, slope float64)) float64 {
	for range 60 {
		y, slope := f(x)
		if y > 0 {
			hi = x
		} else {
			lo = x
		}
		next := x - y/slope
		if !(next > lo && next < hi) {
			next = (lo + hi) / 2
		}
		if math.Abs(next-x) < 1e-9 {
			return next
		}
		x = next
	}
	return x
}
