package service_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
)

// near fails the test if got is further than tol from want.
func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s: %v, want %v within %v", what, got, want, tol)
	}
}

// outOfRange fails the test unless err names the quantity as out of range.
func outOfRange(t *testing.T, err error, quantity string) {
	t.Helper()
	var re *refrig.RangeError
	if !errors.As(err, &re) || re.Quantity != quantity {
		t.Errorf("error %v, want a range error of %q", err, quantity)
	}
}

// codes returns the codes of warnings.
func codes(ws []refrig.Warning) map[string]bool {
	m := map[string]bool{}
	for _, w := range ws {
		m[w.Code] = true
	}
	return m
}

// fahrenheit, psi and inHg turn the units of printed tables into SI ([NIST811]).
func fahrenheit(f float64) refrig.Temperature { return refrig.Temperature((f-32)/1.8 + 273.15) }

const (
	psi  = 6894.757293168 // 0.45359237 · 9.80665 / 0.0254² [NIST811], worked by hand
	inHg = 3386.388640341 // 25.4 · 13.5951 · 9.80665 [NIST811], worked by hand
	feet = 0.3048
)
