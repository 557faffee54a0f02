package cycle

import (
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/reftest"
)

// The closed form of the mean void fraction against Simpson's rule, its ends
// against what they must be, and Zivi's local value at one point by hand.
func TestVoidFraction(t *testing.T) {
	fl := roundPlant(t, car.OrificeTube, car.Fixed).Fluid
	for _, exp := range []float64{StandardLaws.SlipExp, OtherLaws.SlipExp} {
		for _, p := range []float64{150e3, 400e3, 1500e3, 3300e3} {
			s := fl.Sat(p)
			h := newHoldup(&s, exp)
			reftest.Close(t, "all liquid", h.void(0, 0), 0, 1e-12, "limit")
			reftest.Close(t, "all vapour", h.void(1, 1), 1, 1e-12, "limit")
			reftest.CloseRel(t, "density of all liquid", h.density(0, 0), s.RhoL, 1e-12, "limit")
			reftest.CloseRel(t, "density of all vapour", h.density(1, 1), s.RhoV, 1e-12, "limit")
			for _, ab := range [][2]float64{{0, 1}, {0.2, 1}, {0, 0.3}, {0.3, 0.31}, {0.5, 0.5 + 2e-6}} {
				a, b := ab[0], ab[1]
				const n = 20000
				sum := h.void(a, a) + h.void(b, b)
				for i := 1; i < n; i++ {
					x := a + (b-a)*float64(i)/n
					sum += float64(2+2*(i%2)) * h.void(x, x)
				}
				tol, why := 1e-8, "Simpson's rule with 20 000 steps"
				if b-a < 1e-3 {
					tol, why = 1e-6, "the closed form loses digits as 1e-16/(b−a); a millionth of a density is a microgram"
				}
				reftest.Close(t, "mean void fraction", h.void(a, b), sum/3/n, tol, why)
			}
		}
	}
	// Zivi's slip ratio is the cube root of the density ratio [Zivi1964]: at a
	// density ratio of 1000 and a quality of one half, 1/(1 + 1000^(-2/3)).
	h := newHoldup(&fast.Sat{RhoV: 1, RhoL: 1000}, StandardLaws.SlipExp)
	reftest.Close(t, "Zivi at one half", h.void(0.5, 0.5), 1/1.01, 1e-12, "by hand")
	// Slip makes a mixture heavier than without: a homogeneous one has C = ρ_V/ρ_L.
	if m, hom := h.density(0.5, 0.5), 1/(0.5/1+0.5/1000); m <= hom {
		t.Errorf("density with slip %v, homogeneous %v", m, hom)
	}
}

// A store's level must run through 0…1 without a step as the condition it is told
// by changes, and the mass must follow it.
func TestStoreLevel(t *testing.T) {
	l := newLoop(roundPlant(t, car.ExpansionValve, car.Fixed), Sound(), summer)
	at := func(e float64) float64 { l.hMain = l.satC.HL + e*l.hfgC; return l.storeLevel() }
	reftest.Close(t, "receiver with vapour at the condenser's outlet", at(storeEmpty), 0, 1e-12, "definition")
	reftest.Close(t, "receiver with cold liquid", at(storeFull), 1, 1e-12, "definition")
	l = newLoop(roundPlant(t, car.OrificeTube, car.Fixed), Sound(), summer)
	wet := func(x float64) float64 { l.h5 = l.satE.HL + x*l.hfgE; return l.storeLevel() }
	reftest.Close(t, "accumulator with dry inlet", wet(1), 0, 1e-9, "definition")
	reftest.Close(t, "accumulator that passes its full bleed", wet(1-l.p.Bleed), 1, 1e-9, "definition")
}
