package eos

import "math"

// powerTerm is n δ^d τ^t e^(−δ^l), without the exponential if l is 0.
type powerTerm struct {
	I int     `json:"i"` // row in the published table
	N float64 `json:"n"`
	T float64 `json:"t"`
	D int     `json:"d"`
	L int     `json:"l"`
}

// gaussTerm is n δ^d τ^t e^(−η(δ−ε)² − β(τ−γ)²).
type gaussTerm struct {
	I       int     `json:"i"`
	N       float64 `json:"n"`
	T       float64 `json:"t"`
	D       int     `json:"d"`
	Eta     float64 `json:"eta"`
	Epsilon float64 `json:"epsilon"`
	Beta    float64 `json:"beta"`
	Gamma   float64 `json:"gamma"`
}

// derivs holds αr and its derivatives in the notation of the package comment.
type derivs struct {
	A00, A10, A01, A20, A11, A02 float64
}

// Limits of the fixed arrays below; newResidual panics on a fluid beyond them.
const (
	maxTerms = 24
	maxD     = 14
	maxL     = 4
)

// residual is αr, arranged for speed: exponents of τ that repeat are raised
// once, and what depends on temperature alone is kept apart ([isotherm]) because
// solvers for density stay at one temperature.
type residual struct {
	exponents []float64 // distinct t
	power     []powerTerm
	gauss     []gaussTerm
	which     []uint8 // exponent of each term, power terms first
}

func newResidual(eq *equation) residual {
	r := residual{power: eq.Power, gauss: eq.Gaussian}
	seen := map[float64]uint8{}
	add := func(t float64, d, l int) {
		if d < 1 || d > maxD || l < 0 || l > maxL {
			panic("eos: " + eq.ID + ": exponent of density out of range")
		}
		k, ok := seen[t]
		if !ok {
			k = uint8(len(r.exponents))
			seen[t] = k
			r.exponents = append(r.exponents, t)
		}
		r.which = append(r.which, k)
	}
	for _, p := range r.power {
		add(p.T, p.D, p.L)
	}
	for _, g := range r.gauss {
		add(g.T, g.D, 0)
	}
	if len(r.which) > maxTerms {
		panic("eos: " + eq.ID + ": too many terms")
	}
	return r
}

// isotherm holds the factor of each term that depends on temperature alone.
type isotherm struct {
	tau, lnTau float64
	c          [maxTerms]float64 // n τ^t, and e^(−β(τ−γ)²) for Gaussian terms
}

func (r *residual) isotherm(tau float64, iso *isotherm) {
	iso.tau = tau
	iso.lnTau = math.Log(tau)
	var pow [maxTerms]float64
	for k, t := range r.exponents {
		pow[k] = math.Exp(t * iso.lnTau)
	}
	for i := range r.power {
		iso.c[i] = r.power[i].N * pow[r.which[i]]
	}
	n := len(r.power)
	for i := range r.gauss {
		g := &r.gauss[i]
		x := tau - g.Gamma
		iso.c[n+i] = g.N * pow[r.which[n+i]] * math.Exp(-g.Beta*x*x)
	}
}

// powers returns δ^0…δ^maxD and e^(−δ^l) for each l.
func powers(delta float64) (pow [maxD + 1]float64, exp [maxL + 1]float64) {
	pow[0] = 1
	for i := 1; i <= maxD; i++ {
		pow[i] = pow[i-1] * delta
	}
	exp[0] = 1
	for l := 1; l <= maxL; l++ {
		exp[l] = math.Exp(-pow[l])
	}
	return pow, exp
}

// all returns αr and its derivatives on the isotherm. For a term a,
//
//	power:    δ ∂ln a/∂δ = d − l δ^l,            τ ∂ln a/∂τ = t
//	Gaussian: δ ∂ln a/∂δ = d − 2ηδ(δ−ε),         τ ∂ln a/∂τ = t − 2βτ(τ−γ)
func (r *residual) all(iso *isotherm, delta float64) (s derivs) {
	pow, exp := powers(delta)
	for i := range r.power {
		p := &r.power[i]
		a := iso.c[i] * pow[p.D] * exp[p.L]
		lg := float64(p.L) * pow[p.L]
		d := float64(p.D) - lg
		ad := a * d
		s.A00 += a
		s.A01 += ad
		s.A02 += ad*(d-1) - a*float64(p.L)*lg
		at := a * p.T
		s.A10 += at
		s.A20 += at * (p.T - 1)
		s.A11 += ad * p.T
	}
	n := len(r.power)
	for i := range r.gauss {
		g := &r.gauss[i]
		x := delta - g.Epsilon
		a := iso.c[n+i] * pow[g.D] * math.Exp(-g.Eta*x*x)
		d := float64(g.D) - 2*g.Eta*delta*x
		t := g.T - 2*g.Beta*iso.tau*(iso.tau-g.Gamma)
		s.A00 += a
		s.A01 += a * d
		s.A02 += a * (d*(d-1) - 2*g.Eta*delta*(delta+x))
		s.A10 += a * t
		s.A20 += a * (t*(t-1) - 2*g.Beta*iso.tau*(2*iso.tau-g.Gamma))
		s.A11 += a * d * t
	}
	return s
}

// density returns only what a solver for density needs.
func (r *residual) density(iso *isotherm, delta float64) (a00, a01, a02 float64) {
	pow, exp := powers(delta)
	for i := range r.power {
		p := &r.power[i]
		a := iso.c[i] * pow[p.D] * exp[p.L]
		lg := float64(p.L) * pow[p.L]
		d := float64(p.D) - lg
		ad := a * d
		a00 += a
		a01 += ad
		a02 += ad*(d-1) - a*float64(p.L)*lg
	}
	n := len(r.power)
	for i := range r.gauss {
		g := &r.gauss[i]
		x := delta - g.Epsilon
		a := iso.c[n+i] * pow[g.D] * math.Exp(-g.Eta*x*x)
		d := float64(g.D) - 2*g.Eta*delta*x
		a00 += a
		a01 += a * d
		a02 += a * (d*(d-1) - 2*g.Eta*delta*(delta+x))
	}
	return a00, a01, a02
}
