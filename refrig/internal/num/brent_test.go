package num

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
)

func TestBrentFindsKnownRoots(t *testing.T) {
	for _, c := range []struct {
		name    string
		f       func(float64) float64
		a, b, x float64
	}{
		{"cos x = x (Dottie's number)", func(x float64) float64 { return math.Cos(x) - x }, 0, 1, 0.7390851332151607},
		{"x³ = 2", func(x float64) float64 { return x*x*x - 2 }, 0, 2, math.Cbrt(2)},
		{"flat at the root", func(x float64) float64 { return math.Pow(x-1, 3) }, 0, 3, 1},
		{"a step", func(x float64) float64 { return math.Copysign(1, x-0.3) }, 0, 1, 0.3},
		{"nearly a pole", func(x float64) float64 { return 1/(x-2.0000001) + 1e7 - 1 }, -3, 2, 2.0000001 - 1/(1e7-1)},
		{"root at the end", func(x float64) float64 { return x - 5 }, 2, 5, 5},
		{"bracket the other way round", func(x float64) float64 { return x - 5 }, 9, 2, 5},
	} {
		calls := 0
		tol := 1e-13
		if c.name == "flat at the root" {
			tol = 1e-6 // a triple root is approached slowly: a digit in four steps
		}
		x, err := Brent("x", func(x float64) float64 { calls++; return c.f(x) }, c.a, c.b, tol)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		reftest.Close(t, c.name, x, c.x, 10*tol, "tolerance asked for, times ten")
		if calls > 100 {
			t.Errorf("%s: %d calls", c.name, calls)
		}
	}
}

func TestBrentFailsTyped(t *testing.T) {
	for name, f := range map[string]func(float64) float64{
		"no change of sign": func(x float64) float64 { return 1 + x*x },
		"NaN at an end":     func(x float64) float64 { return math.Sqrt(x) },
		"NaN inside": func(x float64) float64 {
			if x > -0.9 && x < 0.9 {
				return math.NaN()
			}
			return x
		},
	} {
		x, err := Brent("the unknown", f, -1, 1, 1e-9)
		var c *refrig.ConvergenceError
		if !errors.As(err, &c) || c.What != "the unknown" || len(c.Last) != 1 {
			t.Errorf("%s: got %v, %v", name, x, err)
		}
		if math.IsNaN(x) {
			t.Errorf("%s: NaN leaves", name)
		}
	}
}
