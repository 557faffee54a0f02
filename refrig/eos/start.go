package eos

import "math"

// saturationStart holds curves that start the saturation solver. They are good
// to 0.05 % in pressure and, near the critical point, 3 % in density: never a
// result.
type saturationStart struct {
	Note string     `json:"note"`
	P    startCurve `json:"p"`
	RhoL startCurve `json:"rhoL"`
	RhoV startCurve `json:"rhoV"`
}

type startCurve struct {
	Tr    float64      `json:"Tr"`
	Yr    float64      `json:"yr"` // Pa or mol/m³
	Plain bool         `json:"plain"`
	Terms [][2]float64 `json:"terms"` // n, t
}

// sum returns Σ n θ^t, with the factor Tr/T unless plain.
func (c *startCurve) sum(T float64, scaled bool) float64 {
	theta := math.Max(0, 1-T/c.Tr)
	s := 0.0
	for _, nt := range c.Terms {
		s += nt[0] * math.Pow(theta, nt[1])
	}
	if scaled && !c.Plain {
		s *= c.Tr / T
	}
	return s
}

// startP returns a pressure near saturation.
func (f *Fluid) startP(T float64) float64 {
	c := &f.eq.Start.P
	return c.Yr * math.Exp(c.sum(T, true))
}

// startRho returns densities near saturation in kg/m³.
func (f *Fluid) startRho(T float64) (rhoL, rhoV float64) {
	l, v := &f.eq.Start.RhoL, &f.eq.Start.RhoV
	return f.eq.M * l.Yr * (1 + l.sum(T, false)), f.eq.M * v.Yr * math.Exp(v.sum(T, true))
}

// startT returns a temperature near saturation at p, by a few secant steps of
// ln p against 1/T, in which the curve is nearly a line.
func (f *Fluid) startT(p float64) float64 {
	x0, x1 := 1/satTMin, 1/(f.SatTMax())
	y0, y1 := math.Log(f.startP(1/x0)/p), math.Log(f.startP(1/x1)/p)
	for range 6 {
		x := x1 - y1*(x1-x0)/(y1-y0)
		y := math.Log(f.startP(1/x) / p)
		if math.Abs(y) < 1e-9 {
			return 1 / x
		}
		x0, y0, x1, y1 = x1, y1, x, y
	}
	return 1 / x1
}
