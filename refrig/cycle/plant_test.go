package cycle

import (
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
)

// roundPlant is a car in round numbers for the tests of single components, which
// do not depend on its sizes.
func roundPlant(t testing.TB, m car.Metering, c car.Compressor) *Plant {
	t.Helper()
	fl, err := fast.Load(car.R134a)
	if err != nil {
		t.Fatal(err)
	}
	return &Plant{
		Fluid: fl, Metering: m, Compressor: c, HighPort: car.PortDischarge,
		Displacement: 120e-6, PulleyRatio: 1.28, MaxSpeed: 110, EtaV0: 0.8, Clearance: 0.04, EtaIs: 0.65,
		ShellUA: 6.5, StrokeMin: 0.05,
		CondFlow: 0.4, CondUAAir: 600, CondUARef: 2000, CondRecirc: 0.1, CondIdle: 0.8, CondPreheat: 2, FanLow: 1, FanStep: 1.6e6, EngineHeat: 6e3, CondDrop: 2e9,
		CondVolume: 0.7e-3, DischVolume: 0.1e-3, LiquidVolume: 0.1e-3, LiquidDrop: 1.5e10,
		StoreVolume: 0.4e-3, StoreLevel: 0.4, Bleed: 0.12,
		OrificeBore: 1.8e-3, OrificeLength: 38e-3, ValveArea: 1.8e-6, ValveSH: 3.5, ValveGain: 5, ValveMOP: 480e3,
		EvapFlow: 0.14, EvapUAAir: 280, EvapUARef: 950, EvapVolume: 0.6e-3, CabinUA: 70, DuctUA: 12, BlowerPower: 220,
		SuctionVolume: 0.3e-3, SuctionDrop: 1.4e8, SuctionUA: 6,
		CutOut: 160e3, CutIn: 300e3, FinOff: 273.65, FinOn: 278.65, SetPoint: 205e3, HighCut: 2950e3, HotCut: 433,
		Charge: 0.6,
	}
}

// summer is a test condition: 35 °C, 40 % humidity, sea level, 1500/min.
var summer = Conditions{Ambient: 308.15, Humidity: 0.4, PAtm: 101325, RPM: 1500, Blower: 1}

// newLoop is a loop at a plausible state, every component evaluated once.
func newLoop(p *Plant, f Fault, c Conditions) *loop {
	l := new(loop)
	l.set(p, f, c)
	l.residual(l.start())
	return l
}
