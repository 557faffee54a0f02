package chart

import (
	"testing"

	"twoneedles/refrig/unit"
)

// The trade's own ways to write a number reach the pictures: a vacuum in inches of
// mercury, a range with a minus in words. That the numbers are right is tested where
// they are made, in refrig/unit.
func TestNumbersInPictures(t *testing.T) {
	us, kpa := SampleOptions("u", unit.US()), SampleOptions("u", InKPa())
	for _, c := range []struct{ got, want string }{
		{us.pressureText(-101325), "30 inHg vacuum"}, // 29.92 inHg [NIST811]
		{us.needleCell(Steady(-unit.PaPerInHg*12, 0)), "12 inHg vacuum"},
		{us.pressureRange(-20e3, 20e3), "−3 to 3"}, {kpa.pressureRange(1e3, 1.2e3), "0"},
		{kpa.needleCell(Steady(182e3, 0)), "182"}, {kpa.pressureText(182e3), "180 kPa"},
		{us.absoluteText(101325), "15 psi absolute"}, // 14.696 psi
	} {
		if c.got != c.want {
			t.Errorf("got %s, want %s", c.got, c.want)
		}
	}
}
