package eos

import "math"

// idealTerms is the ideal-gas part of an equation:
//
//	α0 = ln δ + lead + lead_tau τ + log_tau ln τ + Σ n τ^t + Σ n ln(1 − e^(−θτ))
type idealTerms struct {
	Lead    float64      `json:"lead"`
	LeadTau float64      `json:"lead_tau"`
	LogTau  float64      `json:"log_tau"`
	Note    string       `json:"note"`
	Power   []idealPower `json:"power"`
	Planck  []planck     `json:"planck_einstein"`
}

type idealPower struct {
	N float64 `json:"n"`
	T float64 `json:"t"`
}

type planck struct {
	N     float64 `json:"n"`
	Theta float64 `json:"theta"`
}

func (t idealTerms) numbers() any {
	return []any{t.Lead, t.LeadTau, t.LogTau, t.Power, t.Planck}
}

// eval returns α0 without its ln δ, and the derivatives A10, A20.
func (t *idealTerms) eval(tau, lnTau float64) (a00, a10, a20 float64) {
	a00 = t.Lead + t.LeadTau*tau + t.LogTau*lnTau
	a10 = t.LeadTau*tau + t.LogTau
	a20 = -t.LogTau
	for _, p := range t.Power {
		a := p.N * math.Exp(p.T*lnTau)
		a00 += a
		a10 += a * p.T
		a20 += a * p.T * (p.T - 1)
	}
	for _, p := range t.Planck {
		x := p.Theta * tau
		e := math.Exp(-x)
		q := e / (1 - e)
		a00 += p.N * math.Log(1-e)
		a10 += p.N * x * q
		a20 -= p.N * x * x * q / (1 - e)
	}
	return a00, a10, a20
}
