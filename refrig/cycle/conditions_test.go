package cycle

import (
	"math"
	"testing"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
)

// A closed cabin against its own balance, solved by another route: after long, what
// the body lets in, U (T_amb − T), is what the coil takes up as temperature, m c_p e
// (T − T_e). Its air is drier than outside and no drier than the coil can make it.
func TestClosedCabinBalance(t *testing.T) {
	p := roundPlant(t, car.ExpansionValve, car.Fixed)
	for _, minutes := range []float64{1, 5, 20, 600} {
		c := summer
		c.Humidity = 0.6
		c.Recirc, c.DoorsShut, c.Minutes = true, true, minutes
		l := newLoop(p, Sound(), c)
		l.m = 0.05 // enough refrigerant
		l.Te, l.h4 = 278.15, l.satE.HV-140e3
		l.cabinAir()
		T := l.evapTin - p.BlowerPower/(l.evapMa*moistCp)
		u := p.CabinUA / (1 - math.Exp(-minutes/cabinTau))
		in, out := u*(c.Ambient-T), l.evapMa*moistCp*l.evapEff*(T-l.Te)
		reftest.Close(t, "heat into the cabin, W", in, out, 0.03*out+10, "rounding of the lesser of two limits, 0.5 K")
		coil := air.HumidityRatio(l.Te+coilFilm, 1, c.PAtm)
		if !(l.evapWin < l.outsideW && l.evapWin > coil) {
			t.Errorf("%v min: cabin holds %.2f g/kg, outside %.2f, coil %.2f", minutes, 1e3*l.evapWin, 1e3*l.outsideW, 1e3*coil)
		}
	}
}
