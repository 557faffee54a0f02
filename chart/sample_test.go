package chart_test

import (
	"math"
	"slices"

	. "twoneedles/chart"
	"twoneedles/chart/loop"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// The sample car is invented: the numbers are plausible for R-134a at 35 °C and
// come from no model, so that the pictures can be judged by themselves.

const gaugeError = 7e3 // Pa

// sampleYears is a car that was sound, lost its charge and was repaired, then ran hot.
func sampleYears() []Met {
	met := func(months float64, when string, sound bool, low, high, warm float64) Met {
		return Met{Months: months, When: when, Sound: sound,
			Reading:  Reading{Steady(low*1e3, gaugeError), Steady(high*1e3, 5*gaugeError)},
			LowBand:  car.Interval{Lo: (150 + 3*warm) * 1e3, Hi: (260 + 3*warm) * 1e3},
			HighBand: car.Interval{Lo: (1100 + 40*warm) * 1e3, Hi: (1600 + 40*warm) * 1e3}}
	}
	list := []Met{
		met(36, "2023-07-01", true, 210, 1400, 2),
		met(24, "2024-07-03", true, 230, 1620, 6),
		met(12.2, "2025-06-28, as it came", false, 120, 880, 1),
		met(12.2, "2025-06-28, as it left", true, 215, 1410, 1),
		met(5, "2026-02-01", false, 0, 1150, -8),
		met(0, "today", false, 330, 2450, 5),
	}
	list[4].Low = Needle{}
	list[5].High = Swinging(2.3e6, 2.5e6, 5*gaugeError)
	return list
}

func sampleBands() []diagnose.WeatherBand {
	var out []diagnose.WeatherBand
	for c := 15.0; c <= 45; c += 3 {
		low, high := 150e3+3.2e3*(c-15), 780e3+38e3*(c-15)
		band := func(m, s float64) diagnose.Band {
			return diagnose.Band{P05: m - 1.6*s, P25: m - 0.7*s, P50: m, P75: m + 0.7*s, P95: m + 1.7*s}
		}
		out = append(out, diagnose.WeatherBand{Ambient: 273.15 + c, Low: band(low, 32e3), High: band(high, 90e3+3e3*(c-15))})
	}
	return out
}

func samplePublished() []PublishedRange {
	f := func(t float64) float64 { return (t + 459.67) / 1.8 }
	var out []PublishedRange
	for _, r := range [][5]float64{{70, 10, 20, 120, 190}, {80, 10, 25, 140, 210}, {90, 15, 30, 170, 240}, {100, 15, 30, 190, 270}, {110, 15, 30, 210, 300}} {
		out = append(out, PublishedRange{Ambient: f(r[0]), Low: car.Interval{Lo: r[1] * unit.PaPerPSI, Hi: r[2] * unit.PaPerPSI}, High: car.Interval{Lo: r[3] * unit.PaPerPSI, Hi: r[4] * unit.PaPerPSI}, Source: "TM 5-3805-291"})
	}
	return out
}

func samplePatterns() []diagnose.Pattern {
	members := func(ids ...car.ConditionID) []diagnose.Ranked {
		var out []diagnose.Ranked
		for i, id := range ids {
			out = append(out, diagnose.Ranked{ID: id, Probability: 0.6 / float64(i+1)})
		}
		return out
	}
	return []diagnose.Pattern{
		{Group: diagnose.GroupNormal, Low: 215e3, High: 1.55e6, Members: members(car.Healthy, car.Undercharge)},
		{Group: diagnose.GroupBothLow, Low: 80e3, High: 0.9e6, Members: members(car.Undercharge, car.Restriction, car.EvaporatorAirflow)},
		{Group: diagnose.GroupBothHigh, Low: 330e3, High: 2.3e6, Members: members(car.CondenserAirflow, car.Overcharge, car.Air, car.ValveOpen)},
		{Group: diagnose.GroupLowHighHighLow, Low: 330e3, High: 0.9e6, Members: members(car.WeakCompressor, car.Slipping)},
		{Group: diagnose.GroupLowLowHighHigh, Low: 80e3, High: 2.3e6, Members: members(car.Restriction)},
	}
}

// sampleLoop is a car short of condenser air, with what was read of it.
func sampleLoop(spec car.Spec, read car.Readings, ids ...car.ConditionID) loop.Of {
	l := loop.Of{Car: spec, Read: read}
	for i, id := range ids {
		l.Suspects = append(l.Suspects, loop.Suspect{ID: id, Chance: InTen(0.5 / float64(i+1)), Parts: id.Parts()})
	}
	for q, i := range map[car.Quantity]car.Interval{car.DischargeLine: {Lo: 335, Hi: 360}, car.High: {Lo: 1.22e6, Hi: 1.88e6}, car.CondenserIn: {Lo: 330, Hi: 355},
		car.CondenserOut: {Lo: 314, Hi: 322}, car.LiquidLine: {Lo: 312, Hi: 321}, car.Low: {Lo: 145e3, Hi: 290e3}, car.SuctionLine: {Lo: 276, Hi: 290}, car.Vent: {Lo: 279, Hi: 286}} {
		p := diagnose.LoopPoint{Quantity: q, Sound: i}
		r, ok := read[q]
		switch lo, hi := r.Ends(); q {
		case car.Low:
			p.SoundBoils = car.Interval{Lo: 266, Hi: 280}
			if ok && lo >= 0 {
				p.Boils = car.Interval{Lo: 273 + lo/50e3, Hi: 273 + hi/50e3}
			}
		case car.High:
			p.SoundBoils = car.Interval{Lo: 321, Hi: 336}
			if ok {
				p.Boils = car.Interval{Lo: 300 + lo/50e3, Hi: 300 + hi/50e3}
			}
		}
		l.Points = append(l.Points, p)
	}
	return l
}

func sampleRanking() []diagnose.Ranked {
	return []diagnose.Ranked{
		{ID: car.CondenserAirflow, Probability: 0.58},
		{ID: car.Overcharge, Probability: 0.19},
		{ID: car.Air, Probability: 0.11},
		{ID: car.Healthy, Probability: 0.06},
		{ID: car.ValveOpen, Probability: 0.03},
		{ID: car.NoneOfThese, Probability: 0.03},
	}
}

func sampleCycle() Cycle {
	// A rough dome of R-134a: enthalpies in kJ/kg at round temperatures in °C,
	// rounded from the reference tables; good enough to look at.
	rows := [][4]float64{ // °C, kPa, hl, hv
		{-20, 132.7, 173.6, 386.6}, {-10, 200.6, 186.7, 392.7}, {0, 292.8, 200, 398.6}, {10, 414.6, 213.6, 404.3},
		{20, 571.7, 227.5, 409.7}, {30, 770.2, 241.7, 414.8}, {40, 1016.6, 256.4, 419.4}, {50, 1317.9, 271.6, 423.4},
		{60, 1681.8, 287.5, 426.6}, {70, 2116.8, 304.3, 428.7}, {80, 2633.2, 322.4, 429},
		{90, 3244.2, 342.9, 425.4}, {100, 3972.4, 373.3, 407.7}, {101, 4051, 384, 397},
	}
	var cy Cycle
	for _, r := range rows {
		cy.Dome = append(cy.Dome, DomePoint{P: r[1] * 1e3, HL: r[2] * 1e3, HV: r[3] * 1e3})
	}
	cy.States = []CycleState{
		{EvaporatorOut, 310e3, 406e3},
		{CompressorIn, 300e3, 412e3},
		{CompressorOut, 1650e3, 459e3},
		{CondenserOut, 1600e3, 276e3},
		{EvaporatorIn, 315e3, 276e3},
	}
	cy.Superheat, cy.Subcooling = 8, 5.5
	for _, r := range rows[:12] {
		t := r[0]
		if math.Mod(t, 40) != 0 {
			continue
		}
		cy.Isotherms = append(cy.Isotherms, Isotherm{T: 273.15 + t, Points: [][2]float64{
			{r[2] * 1e3, 9e6}, {r[2] * 1e3, r[1] * 1e3}, {r[3] * 1e3, r[1] * 1e3},
			{(r[3] + 8) * 1e3, r[1] * 0.55e3}, {(r[3] + 13) * 1e3, r[1] * 0.2e3}, {(r[3] + 15) * 1e3, r[1] * 0.05e3},
		}})
	}
	return cy
}

// sampleVents are invented; nothing is measured by them.
func sampleVents() (bands []diagnose.WeatherBand) {
	for i := range 5 {
		x := float64(i)
		bands = append(bands, diagnose.WeatherBand{Ambient: 288 + 7*x, Vent: car.Interval{Lo: 277 + x, Hi: 283 + 4*x}, VentMedian: 279 + 2.5*x})
	}
	return bands
}

func samplePublishedVents() []PublishedVent {
	return []PublishedVent{{car.Interval{Lo: 294, Hi: 294}, car.Interval{Lo: 278.8, Hi: 278.8}}, {car.Interval{Lo: 300, Hi: 303}, car.Interval{Lo: 281, Hi: 287}}}
}

// sampleLog is a car whose clutch cycles six times a minute.
func sampleLog() Log {
	l := Log{Lines: map[car.Quantity][]LogPoint{}}
	for i := range 7 {
		t := float64(i) / 12
		l.Lines[car.Low] = append(l.Lines[car.Low], LogPoint{t, 200e3 + 60e3*math.Sin(6*t*2*math.Pi+1)})
		l.Lines[car.High] = append(l.Lines[car.High], LogPoint{t, 1.2e6 - 100e3*math.Sin(6*t*2*math.Pi+1)})
		l.On = append(l.On, [2]float64{float64(i) / 6, float64(i)/6 + 0.1})
	}
	return l
}

func sampleHold() HoldTest {
	h := HoldTest{Verdict: HoldMoisture, Limits: []HoldLine{{"1000 microns (common practice)", 133.3}, {"2 inHg in 5 min (TM 5-3805-291)", 6772}}}
	rise := func(t float64) float64 { return 60 + 1640*(1-math.Exp(-t/9)) }
	for _, t := range []float64{0, 2, 4, 7, 10, 15, 20, 30} {
		h.Points = append(h.Points, HoldPoint{t, rise(t) * (1 + 0.04*math.Sin(3*t))})
	}
	for t := 0.0; t <= 30; t++ {
		h.Fit = append(h.Fit, HoldPoint{t, rise(t)})
	}
	return h
}

type sample struct {
	name string
	make func(o Options) (Figure, error)
	opts Options
}

// samples are every picture in every state worth looking at.
func samples() []sample {
	p := SamplePlane()
	hot := Reading{Steady(262e3, gaugeError), Steady(2.02e6, 5*gaugeError)}
	leaders := []car.ConditionID{car.CondenserAirflow, car.Undercharge, car.WeakCompressor, car.Restriction}
	close := []car.ConditionID{car.Air, car.CondenserAirflow, car.Overcharge}
	psi := func(id string) Options { return SampleOptions(id, unit.US()) }
	kpa := func(id string) Options { return SampleOptions(id, InKPa()) }
	bar := func(id string) Options { return SampleOptions(id, unit.Metric()) }
	t35 := float64(refrig.Celsius(35))
	trail := [][2]float64{{215e3, 1.55e6}, {222e3, 1.58e6}, {231e3, 1.66e6}, {240e3, 1.75e6}, {250e3, 1.88e6}, {262e3, 2.02e6}}
	met := SamplePlane()
	met.OwnCentre = [2]float64{235e3, 1.66e6}
	met.Own = []diagnose.Region{{Level: 0.9}, {Level: 0.5}}
	for i, size := range []float64{0.45, 0.25} {
		for _, q := range p.Regions[0].Outline {
			met.Own[i].Outline = append(met.Own[i].Outline, [2]float64{met.OwnCentre[0] + size*(q[0]-p.Centre[0]), met.OwnCentre[1] + size*(q[1]-p.Centre[1])})
		}
	}
	return []sample{
		{"plane_own", func(o Options) (Figure, error) { return Plane(met, hot, leaders[:2], o) }, psi("po")},
		{"plane_own_inside", func(o Options) (Figure, error) {
			return Plane(met, Reading{Steady(240e3, gaugeError), Steady(1.7e6, 5*gaugeError)}, close[:1], o)
		}, kpa("pi")},
		{"plane_own_unread", func(o Options) (Figure, error) { return Plane(met, Reading{}, nil, o) }, bar("pu")},
		{"plane", func(o Options) (Figure, error) { return Plane(p, hot, leaders, o) }, psi("p1")},
		{"plane_similar", func(o Options) (Figure, error) { return Plane(p, hot, close, o) }, kpa("p2")},
		{"plane_swing", func(o Options) (Figure, error) {
			return Plane(p, Reading{Swinging(60e3, 190e3, gaugeError), Swinging(0.9e6, 1.3e6, 5*gaugeError)}, leaders[1:], o)
		}, bar("p3")},
		{"plane_empty", func(o Options) (Figure, error) { return Plane(p, Reading{}, nil, o) }, psi("p4")},
		{"plane_low_only", func(o Options) (Figure, error) { return Plane(p, Reading{Low: Steady(90e3, gaugeError)}, nil, o) }, kpa("p5")},
		{"plane_far", func(o Options) (Figure, error) {
			return Plane(p, Reading{Steady(-40e3, gaugeError), Steady(3.1e6, 5*gaugeError)}, leaders, o)
		}, psi("p6")},
		{"beforeafter", func(o Options) (Figure, error) {
			return BeforeAfter(p, Reading{Steady(95e3, gaugeError), Steady(860e3, 5*gaugeError)}, Reading{Steady(225e3, gaugeError), Steady(1.5e6, 5*gaugeError)}, o)
		}, psi("ba")},
		{"trail", func(o Options) (Figure, error) { return Trail(p, hot, Reading{}, trail, leaders[:1], o) }, kpa("tr")},
		{"trail_pinned", func(o Options) (Figure, error) {
			return Trail(p, hot, Reading{Steady(95e3, gaugeError), Steady(860e3, 5*gaugeError)}, trail, nil, o)
		}, psi("tp")},
		{"plane_glide", func(o Options) (Figure, error) {
			o.From = Reading{Steady(200e3, gaugeError), Steady(1.4e6, 5*gaugeError)}
			return Plane(p, hot, leaders[:1], o)
		}, psi("gl")},
		{"weather", func(o Options) (Figure, error) { return Weather(sampleBands(), At{hot, t35}, samplePublished(), o) }, psi("w1")},
		{"weather_plain", func(o Options) (Figure, error) {
			return Weather(sampleBands(), At{Reading{Swinging(60e3, 150e3, gaugeError), Steady(1.4e6, 5*gaugeError)}, 300}, nil, o)
		}, kpa("w2")},
		{"weather_none", func(o Options) (Figure, error) { return Weather(sampleBands(), At{}, nil, o) }, bar("w3")},
		{"patterns", func(o Options) (Figure, error) { return Patterns(samplePatterns(), diagnose.GroupBothHigh, o) }, psi("pt1")},
		{"years", func(o Options) (Figure, error) { return Years(sampleYears(), o) }, psi("yr1")},
		{"years_kpa", func(o Options) (Figure, error) { return Years(sampleYears()[2:], o) }, kpa("yr2")},
		{"loop", func(o Options) (Figure, error) {
			return loop.Draw(sampleLoop(car.Spec{Metering: car.ExpansionValve, HighPort: car.PortLiquid}, car.Readings{car.Low: {Value: 262e3}, car.High: {Value: 2.02e6},
				car.DischargeLine: {Value: 363.15}, car.Vent: {Value: 291.15}}, car.CondenserAirflow, car.Overcharge, car.Air, car.Healthy), o)
		}, psi("lo1")},
		{"loop_tube", func(o Options) (Figure, error) {
			return loop.Draw(sampleLoop(car.Spec{Metering: car.OrificeTube, HighPort: car.PortDischarge, Evaporators: 2}, car.Readings{car.Low: {Swing: true, Lo: 130e3, Hi: 320e3},
				car.High: {Value: 1.9e6, AtLeast: true}, car.CondenserOut: {Value: 320.15}, car.CondenserIn: {Value: 350.15}, car.SuctionLine: {Value: 284.15}},
				car.WeakCompressor, car.Restriction, car.SuctionBlocked, car.Moisture, car.Gauge, car.StuckMinimum), o)
		}, kpa("lo2")},
		{"loop_unread", func(o Options) (Figure, error) { return loop.Draw(sampleLoop(car.Spec{}, nil), o) }, bar("lo3")},
		{"odds", func(o Options) (Figure, error) { return Odds(sampleRanking(), o) }, psi("od")},
		{"odds_in_words", func(o Options) (Figure, error) {
			o.Chances = func(ps []float64) []string {
				return slices.Repeat([]string{"very unlikely (less than 1 in 100)"}, len(ps))
			}
			return Odds(sampleRanking(), o)
		}, psi("od2")},
		{"ph", func(o Options) (Figure, error) { return PH(sampleCycle(), o) }, psi("ph1")},
		{"ph_kpa", func(o Options) (Figure, error) { return PH(sampleCycle(), o) }, kpa("ph2")},
		{"hold", func(o Options) (Figure, error) { return Hold(sampleHold(), o) }, psi("h1")},
		{"hold_tight", func(o Options) (Figure, error) {
			return Hold(HoldTest{
				Points:  []HoldPoint{{0, 40}, {5, 46}, {10, 50}, {20, 53}, {30, 54}},
				Fit:     []HoldPoint{{0, 41}, {10, 49}, {20, 53}, {30, 54}},
				Limits:  []HoldLine{{"1000 microns (common practice)", 133.3}},
				Verdict: HoldTight,
			}, o)
		}, kpa("h2")},
		{"vent", func(o Options) (Figure, error) {
			return Vent(sampleVents(), VentNow{305, 286, true}, samplePublishedVents(), o)
		}, psi("v1")},
		{"vent_unread", func(o Options) (Figure, error) { return Vent(sampleVents(), VentNow{}, nil, o) }, kpa("v2")},
		{"log", func(o Options) (Figure, error) { return Over(sampleLog(), o) }, psi("l1")},
		{"log_vent", func(o Options) (Figure, error) {
			return Over(Log{Lines: map[car.Quantity][]LogPoint{car.Vent: {{0, 310}, {2, 296}, {5, 287}, {10, 283}}}}, o)
		}, kpa("l2")},
		{"gauges", func(o Options) (Figure, error) {
			return Gauges(hot, car.Interval{Lo: 145e3, Hi: 290e3}, car.Interval{Lo: 1.22e6, Hi: 1.88e6}, o)
		}, psi("g1")},
		{"gauges_swing", func(o Options) (Figure, error) {
			return Gauges(Reading{Swinging(-30e3, 90e3, gaugeError), Steady(3.4e6, 0)}, car.Interval{}, car.Interval{}, o)
		}, kpa("g2")},
	}
}
