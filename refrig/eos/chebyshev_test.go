package eos

import (
	"fmt"
	"math"
	"testing"

	"twoneedles/refrig/reftest"
)

// TestExpansionsAreCurrent fails when an equation was changed and mkcheb.go was
// not run.
func TestExpansionsAreCurrent(t *testing.T) {
	for _, id := range IDs() {
		f := load(t, id)
		if f.cheb == nil {
			t.Fatalf("%s: no expansions; run go run mkcheb.go in refrig/eos", id)
		}
		if f.cheb.Hash != f.Hash() {
			t.Errorf("%s: expansions were made from other coefficients; run go run mkcheb.go in refrig/eos", id)
		}
	}
}

// TestHashSeesEveryNumber: the guard is only as good as what enters the hash.
func TestHashSeesEveryNumber(t *testing.T) {
	f := load(t, "R1234yf")
	for name, change := range map[string]func(*equation){
		"M":         func(e *equation) { e.M *= 1 + 1e-15 },
		"R":         func(e *equation) { e.R += 1e-9 },
		"Tc":        func(e *equation) { e.Tc += 1e-9 },
		"lead":      func(e *equation) { e.Ideal.Lead += 1e-9 },
		"theta":     func(e *equation) { e.Ideal.Planck = []planck{{1, 2}} },
		"a power n": func(e *equation) { e.Power = append([]powerTerm{{N: 1, D: 1}}, e.Power[1:]...) },
		"a Gaussian γ": func(e *equation) {
			g := e.Gaussian[0]
			g.Gamma += 1e-9
			e.Gaussian = append([]gaussTerm{g}, e.Gaussian[1:]...)
		},
	} {
		eq := *f.eq
		change(&eq)
		if newFluid(&eq).Hash() == f.Hash() {
			t.Errorf("%s may change unseen", name)
		}
	}
}

// TestExpansionsHoldToTheEquation walks across all pieces off their nodes.
func TestExpansionsHoldToTheEquation(t *testing.T) {
	const tol, why = 1e-9, "stated in the documentation"
	for _, id := range IDs() {
		f := load(t, id)
		var byT, byP reftest.Worst
		const n = 2000
		for i := range n + 1 {
			// Even steps in √(Tc − T) crowd towards the critical point.
			x := f.cheb.ByT.Lo + (f.cheb.ByT.Hi-f.cheb.ByT.Lo)*float64(i)/n
			T := math.Min(math.Max(f.tc*(1-x*x), satTMin), f.SatTMax())
			want, err := f.SatT(T)
			if err != nil {
				t.Fatal(err)
			}
			got, err := f.FastSatT(T)
			if err != nil {
				t.Fatal(err)
			}
			at := fmt.Sprintf("%.4f K", T)
			byT.See(rel(got.P, want.P), at)
			byT.See(rel(got.RhoL, want.RhoL), at)
			byT.See(rel(got.RhoV, want.RhoV), at)
			if i == 0 || i == n {
				continue // rounding may push p of a limit beyond it
			}
			if got, err = f.FastSatP(want.P); err != nil {
				t.Fatal(err)
			}
			byP.See(rel(got.T, want.T), at)
			byP.See(rel(got.RhoL, want.RhoL), at)
			byP.See(rel(got.RhoV, want.RhoV), at)
		}
		byT.Within(t, id+" by T", tol, why)
		byP.Within(t, id+" by p", tol, why)
	}
}

// TestExpansionsAreSmallEnough: what a phone has to fetch.
func TestExpansionsAreSmallEnough(t *testing.T) {
	total := 0
	dir, err := files.ReadDir("fluids")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range dir {
		b, err := files.ReadFile("fluids/" + e.Name())
		if err != nil {
			t.Fatal(err)
		}
		total += len(b)
	}
	t.Logf("%d files, %d bytes embedded", len(dir), total)
	if total > 45e3 {
		t.Errorf("%d bytes are embedded, budget 45 kB (judgement: 2 %% of the page)", total)
	}
}
