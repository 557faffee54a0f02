package judge

import (
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/sim"
	"twoneedles/refrig/unit"
)

// Named is a world with what is different in it.
type Named struct {
	Name  string
	World sim.World
}

// Home is the world the diagnosis was fitted to.
var Home = Named{"as fitted: everyday instruments, mixed cars", sim.World{Mixed: true}}

// changed is a world whose cars all differ from those at home in one way.
func changed(name string, change func(*cycle.Plant)) Named {
	return Named{name, sim.World{Change: change}}
}

// Worlds are worlds that differ from the one the diagnosis was fitted to in one way
// each, the same for every car of them. None was used in fitting, and their levels
// lie off to one side, where the mixture of the fit spreads to both.
func Worlds() []Named {
	return []Named{
		{"the fleet itself, read with care", sim.World{Care: sim.Careful}},
		{"other laws, sizes spread 1.5 times", sim.World{Spread: 1.5, Laws: &cycle.OtherLaws}},
		changed("condensers 30 % smaller", func(p *cycle.Plant) { p.CondUAAir *= 0.7; p.CondUARef *= 0.7 }),
		changed("evaporators 30 % larger", func(p *cycle.Plant) { p.EvapUAAir *= 1.3; p.EvapUARef *= 1.3 }),
		changed("volumetric efficiency 15 % lower", func(p *cycle.Plant) { p.EtaV0 *= 0.85 }),
		changed("air at the condenser 5 K warmer", func(p *cycle.Plant) { p.CondPreheat += 5 }),
		changed("several at once", func(p *cycle.Plant) {
			p.CondUAAir *= 0.8
			p.CondUARef *= 0.8
			p.EvapUAAir *= 1.2
			p.EvapUARef *= 1.2
			p.EtaV0 *= 0.92
			p.CondPreheat += 2.5
		}),
	}
}

// Nearby are worlds on which [diagnose.Sharpness] is weighed: other levels and other things
// changed than in [Worlds], so that those stay a check.
func Nearby() []Named {
	return []Named{
		{"other laws, sizes spread 1.25 times", sim.World{Spread: 1.25, Laws: &cycle.OtherLaws}},
		changed("condensers 20 % smaller", func(p *cycle.Plant) { p.CondUAAir *= 0.8; p.CondUARef *= 0.8 }),
		changed("condensers 25 % larger", func(p *cycle.Plant) { p.CondUAAir *= 1.25; p.CondUARef *= 1.25 }),
		changed("evaporators 25 % smaller", func(p *cycle.Plant) { p.EvapUAAir *= 0.75; p.EvapUARef *= 0.75 }),
		changed("volumetric efficiency 8 % lower", func(p *cycle.Plant) { p.EtaV0 *= 0.92 }),
		changed("volumetric efficiency 8 % higher", func(p *cycle.Plant) { p.EtaV0 *= 1.08 }),
		changed("air at the condenser 3 K warmer", func(p *cycle.Plant) { p.CondPreheat += 3 }),
		{"low gauge 4 psi low, high gauge 10 psi low", sim.World{Mixed: true, Mistake: func(in *sim.Instruments) { in.LowZero, in.HighZero = -4*psi, -10*psi }}},
	}
}

const (
	tenF = 10 / 1.8 // K
	psi  = unit.PaPerPSI
)

// Mistakes are worlds in which everybody makes the same mistake on every visit,
// everything else as at home.
func Mistakes() []Named {
	made := func(name string, m func(*sim.Instruments)) Named {
		return Named{name, sim.World{Mixed: true, Mistake: m}}
	}
	return []Named{
		made("outside air typed 10 °F too high", func(in *sim.Instruments) { in.Ambient = tenF }),
		made("outside air typed 10 °F too low", func(in *sim.Instruments) { in.Ambient = -tenF }),
		made("temperature at rest typed 10 °F too high", func(in *sim.Instruments) { in.RestTaken, in.Soaked, in.RestThermometer = true, true, tenF }),
		made("temperature at rest typed 10 °F too low", func(in *sim.Instruments) { in.RestTaken, in.Soaked, in.RestThermometer = true, true, -tenF }),
		made("low gauge 6 psi low, high gauge 15 psi low", func(in *sim.Instruments) { in.LowZero, in.HighZero = -6*psi, -15*psi }),
		made("low gauge 6 psi high, high gauge 15 psi high", func(in *sim.Instruments) { in.LowZero, in.HighZero = 6*psi, 15*psi }),
		made("metering device typed wrong", func(in *sim.Instruments) { in.MeteringWrong = true }),
		made("kind of compressor typed wrong", func(in *sim.Instruments) { in.CompressorWrong = true }),
		made("refrigerant typed wrong", func(in *sim.Instruments) { in.RefrigerantWrong = true }),
		made("humidity typed 30 points too high", func(in *sim.Instruments) { in.Humidity = 0.3 }),
	}
}
