package reftest

import (
	"math"
	"testing"
)

// Close reports an error unless got is within tol of want. tol is absolute, in
// the unit of the value; why says where tol comes from and is printed with the
// failure. NaN is never close.
func Close(t testing.TB, what string, got, want, tol float64, why string) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= tol) {
		t.Errorf("%s: got %.12g, want %.12g: off by %.3g, allowed %.3g (%s)", what, got, want, d, tol, why)
	}
}

// CloseRel is [Close] with tol relative to want.
func CloseRel(t testing.TB, what string, got, want, tol float64, why string) {
	t.Helper()
	if d := math.Abs(got - want); !(d <= tol*math.Abs(want)) {
		t.Errorf("%s: got %.12g, want %.12g: off by %.3g of it, allowed %.3g (%s)", what, got, want, d/math.Abs(want), tol, why)
	}
}

// Worst keeps the largest of many deviations, for tests that hold a whole range
// to a bound and want to say where the worst is. The zero value is ready.
type Worst struct {
	dev   float64
	where string
	n     int
}

// See takes note of a deviation. A NaN counts as infinitely bad.
func (w *Worst) See(dev float64, where string) {
	w.n++
	dev = math.Abs(dev)
	if math.IsNaN(dev) {
		dev = math.Inf(1)
	}
	if dev >= w.dev {
		w.dev, w.where = dev, where
	}
}

// Within reports an error if nothing was seen or the worst deviation exceeds
// tol; otherwise it logs the worst, so that -v shows how much room is left.
func (w *Worst) Within(t testing.TB, what string, tol float64, why string) {
	t.Helper()
	switch {
	case w.n == 0:
		t.Errorf("%s: nothing was compared", what)
	case w.dev > tol:
		t.Errorf("%s: worst of %d is %.3g at %s, allowed %.3g (%s)", what, w.n, w.dev, w.where, tol, why)
	default:
		t.Logf("%s: worst of %d is %.2g, allowed %.2g", what, w.n, w.dev, tol)
	}
}
