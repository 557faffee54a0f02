package repair

import (
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// A needle in inches is read to 1.6 kPa [EN837], a vacuum gauge to a tenth of what it
// shows (judgement). At 29 inHg below 101.325 kPa there are 3.1 kPa left; water at 30 °C
// boils at 4.25 kPa (steam tables). The needle may be at 4.7 kPa and cannot tell; a
// vacuum gauge is at 3.4 kPa at most, and can.
func TestNeedleCannotTellWhetherWaterBoils(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf(present.Soak), "86").put(page.TextOf(present.VacuumReached), "29 in").work()
	b.Has("vacuum-says", "too coarse")
	b.put(page.TextOf(present.VacuumReached), "3100 Pa").work().Has("vacuum-says", "boils off")
	// 4.0 kPa may be 4.4.
	b.put(page.TextOf(present.VacuumReached), "4000 Pa").work().Has("vacuum-says", "too coarse")
}

// A needle near a full vacuum names neither a lowest temperature nor the microns it cannot
// show; a figure that the air of Denver does not allow stands as it is printed.
func TestNeedleNearAFullVacuum(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf(present.Altitude), "5280").put(page.TextOf(present.VacuumReached), "24.5 in").work()
	b.Has("vacuum-hero", "less than 6")
	if hero := b.Text("vacuum-hero"); strings.Contains(hero, "−") {
		t.Errorf("where water boils: %s", hero)
	}
	b.Has("vacuum-checks", "too coarse to say: 1000 micron")
	b.Has("vacuum-rules", "Not possible at this altitude: 28 inHg vacuum.")
}

// Needles that differ at rest leave no pressure that both could mean.
func TestNeedlesThatDifferAtRest(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf("resting"), "70").put(page.TextOf(present.RestingHigh), "110").work()
	b.Has("resting-hero", "The needles differ")
	if got := b.Text("resting-checks"); strings.Contains(got, "Within gauge error") || !strings.Contains(got, "Liquid at this temperature gives") {
		t.Errorf("beside needles that differ: %s", got)
	}
}

// A needle is read to a quarter of an inch (judgement): a climb of 0.3 inches is no leak
// yet. On a vacuum gauge of 20 microns the same points are one.
func TestSmallClimbOfANeedleIsNoLeak(t *testing.T) {
	hold := func(points ...string) *screen {
		b := pickup(t, job.Memory{})
		b.Do(func() {
			b.Page.Job.Repair.Hold = nil
			for i, p := range points {
				b.Page.Job.Repair.Hold = append(b.Page.Job.Repair.Hold, job.HoldPoint{Time: []string{"0", "3", "6", "9", "12", "15"}[i], Pressure: p})
			}
			b.Page.Edited()
		})
		return b.work()
	}
	hold("28.50 in", "28.44 in", "28.38 in", "28.32 in", "28.26 in", "28.20 in").Has("hold-hero", "It holds")
	// 28.5 … 28.2 inHg below the atmosphere as a vacuum gauge shows them, Pa.
	hold("4813 Pa", "5016 Pa", "5219 Pa", "5423 Pa", "5626 Pa", "5829 Pa").Has("hold-hero", "A leak")
}

// What stays in full hoses is not in the car, so the customer is not told that it is: 3.6 m
// of 4.9 mm at 35 °C keep 79 g of R-134a, 2.8 oz.
func TestCustomerIsToldWhatIsInTheCar(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() { b.Page.Job.Repair.Hoses = "liquid"; b.Page.Edited() })
	b.put(page.TextOf(present.OutTemp), "95").put(page.TextOf(present.HoseLength), "3.6 m").put(page.TextOf(present.HoseBore), "4.9 mm").put(page.TextOf(present.MassIn), "2 lb 2.8 oz")
	b.customer().Has("tell-did", "We weighed in 2 lb 0 oz of refrigerant")
}

// Two metres of 5 mm hose hold 39 ml: of liquid R-134a at 32 °C, 1180 kg/m³ (its
// equation of state), 46 g; of its vapour a gram or two.
func TestHosesFullOfLiquidAreWeighedOut(t *testing.T) {
	b := pickup(t, job.Memory{})
	for state, want := range map[string]string{"drawn_in": "907 g", "liquid": "953 g", "vapour": "909 g"} {
		b.Do(func() {
			b.Page.Job.Units.Mass = unit.Gram
			b.Page.Job.Repair.Hoses = state
			b.Page.Edited()
		})
		b.put(page.TextOf(present.HoseLength), "2 m").put(page.TextOf(present.HoseBore), "5 mm").work().Has("charge-hero", want)
	}
}

// The proof looks at each needle against its own side.
func TestProofLooksAtBothNeedles(t *testing.T) {
	b := pickup(t, job.Memory{}).work()
	b.Has("prove-hero", "Proved")
	b.put(page.TextAfter("low"), "95").work().Has("prove-checks", "Low side: 95 psi, above")
	b.Has("prove-hero", "Not proved")
	b.put(page.TextAfter("low"), "38").put(page.TextAfter("high"), "380").work().Has("prove-checks", "High side: 380 psi, above")
	// A vent colder than a sound car's fails nothing.
	b.put(page.TextAfter("high"), "225").put(page.TextAfter("vent"), "38").work().Has("prove-hero", "Proved")
}

// A temperature typed for the step outranks the weather: at rest at 50 °F 62 psi is
// above the 45 psi of R-134a's saturation, at 90 °F far below its 104.
func TestTemperatureOfTheStepOutranksTheWeather(t *testing.T) {
	b := pickup(t, job.Memory{}).work()
	b.Has("resting-hero", "No liquid left")
	b.put(page.TextOf(present.Soak), "50").work()
	if got := b.Text("resting-hero"); strings.Contains(got, "No liquid") {
		t.Errorf("at 50 °F it says %q", got)
	}
}

// A new compressor that came with 120 ml keeps the 75 that the old one gave; the rest is
// poured out of it, and nothing is added for it. What goes in beside it, the 15–50 ml of a
// condenser [MakersOil], is capped by a label of 100: 25 ml are left. Dye counts as oil.
func TestNewCompressorsOwnOilIsPouredOut(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() {
		b.Page.SetUnit(unit.Volume, unit.Millilitre)
		b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "compressor")
	})
	b.work().Has("sum-oil", "was not measured")
	b.put(page.TextOf(present.DrainedCompressor), "75").put(page.TextOf(present.NewCompressorOil), "120").work()
	b.Has("oil-checks", "Pour 45 ml out of the new compressor")
	b.Has("oil-hero", "15–50 ml")
	b.put(page.TextOf(present.LabelOil), "100").put(page.TextOf(present.OilIn), "12").put(page.TextOf(present.DyeIn), "7").work()
	b.Has("oil-hero", "15–25 ml")
	b.Has("oil-checks", "19 ml was put in: as it should be")
	b.put(page.TextOf(present.DyeIn), "20").work()
	b.Has("oil-checks", "32 ml was put in: too much")
}

// Any part of the circuit opens it: the notes come without a tap on "opened", and what a
// failed compressor asks for goes with the compressor.
func TestPartsOpenTheCircuit(t *testing.T) {
	b := open(t, job.Memory{}).work()
	if strings.Contains(b.Text("repair-notes"), "Recover first") {
		t.Error("nothing was opened")
	}
	b.Do(func() { b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "seals") })
	b.work().Has("repair-note-list", "new receiver-drier or accumulator")
	b.Has("repair-note-list", "never the old ones again")
	b.Do(func() {
		b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "compressor")
		b.Page.Job.Repair.Broken = true
		b.Page.Edited()
	})
	b.work().Has("repair-note-list", "replace a flat-tube one")
	b.Do(func() { b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "compressor") })
	if strings.Contains(b.work().Text("repair-note-list"), "flat-tube") {
		t.Error("no new compressor, yet what a failed one left")
	}
}

// The rear is asked for before anything is searched, and its places come and go with it.
func TestTheRearIsAskedForFirst(t *testing.T) {
	b := open(t, job.Memory{}).work()
	b.Has("rear-asked", "second evaporator")
	b.Has("places", "Long lines to the rear")
	b.Do(func() { b.Page.Job.Car.Evaporators = 1; b.Page.Edited() })
	if strings.Contains(b.work().Text("places"), "rear") {
		t.Error("one evaporator, yet the rear is searched")
	}
	b.Has("places", "22 of 667 vehicles")
	b.Has("method-evaporator", "Blower on high for 15 s")
	b.Has("method-tracer", "bought ready mixed")
}

// 150 psi of nitrogen at 90 °F are 1034.2 + 101.3 kPa absolute; at 72 °F, 10 K cooler of
// 305.4, 1098.3 or 144.6 psi on the gauge: no leak, though the needle fell.
func TestGasThatCooledIsNoLeak(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf(present.LeakPressure), "150").put(page.TextOf(present.RetestTime), "30")
	b.put(page.TextOf(present.RetestStartTemp), "90").put(page.TextOf(present.RetestEnd), "136").work().Has("retest-hero", "It leaks")
	b.put(page.TextOf(present.RetestEndTemp), "72").put(page.TextOf(present.RetestEnd), "145").work()
	b.Has("retest-hero", "No drop seen")
	b.Has("retest-checks", "could still hide")
	b.put(page.TextOf(present.LeakPressure), "200").work().Has("nitrogen-high", "customary")
	if i, j := strings.Index(strings.Join(job.Steps, " "), "retest"), strings.Index(strings.Join(job.Steps, " "), "evacuate"); i < 0 || i > j {
		t.Error("the search under gas comes before the vacuum")
	}
}

// What is recognised and not judged says its hazard on the Job place too, and leads no
// work on it; a small bus is refused an answer, not its sums.
func TestWhatIsNotJudgedIsRefusedWithItsHazard(t *testing.T) {
	for system, hazard := range map[string]string{car.CO2: "would burst", car.HeatPump: "voltage can kill", car.BatteryChiller: "voltage can kill", car.Coach: "sinks"} {
		b := pickup(t, job.Memory{})
		b.Do(func() { b.Page.Job.Car.System = system; b.Page.Edited() })
		b.work().Has("refused", hazard)
		if b.Page.Answer().State != page.Failed {
			t.Errorf("%s: the readings are judged", system)
		}
		if steps := b.place.steps(); len(steps) != 1 || b.place.nextStep() != stepRecord {
			t.Errorf("%s: work is led on it: %v", system, steps)
		}
		b.Sound(system)
	}
	b := pickup(t, job.Memory{})
	b.Do(func() { b.Page.SetUnit(unit.Mass, unit.Kilogram) })
	b.put(page.TextOf(present.LabelCharge), "12").put(page.TextOf("recovered"), "9").put(page.TextOf(present.OutTemp), "90").work()
	b.Has("refused", "up to 20 kg")
	// By hand: 9 kg of 12 with 30 g of the display and at most 5 % left: 8.97 … 9.03/0.95.
	b.Has("recover-hero", "75–79 %")
	if b.Page.Answer().State != page.Failed {
		t.Error("the readings of a bus are judged")
	}
}

// An R-1234yf car is told what its machine does and what never goes into it.
func TestR1234yfHasItsOwnRules(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() { b.Page.Job.Car.Refrigerant = car.R1234yf; b.Page.Edited() })
	b.put(page.TextOf(present.LabelCharge), "1 lb").put(page.TextOf("recovered"), "12 oz").put(page.TextOf(present.OutTemp), "80").work()
	b.Has("gas-recover", "takes nothing below 98 %")
	b.Has("gas-charge", "Never R-134a")
	b.Has("charge-checks", "SAE J2843")
	if strings.Contains(b.Text("charge-checks")+b.Text("recover-checks"), "J2788") {
		t.Error("figures of R-134a’s standard are shown as if they held here")
	}
}

// PAG in an electric compressor is marked as wrong, POE as right.
func TestOilOfTheWrongKind(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() { b.Page.Job.Car.Compressor = "electric"; b.Page.Edited() })
	for oil, mark := range map[string]string{"pag46": "✕ Kind: POE", "poe": "✓ Kind: POE", "": "· Kind: POE", "other": "· Kind: POE"} {
		b.Do(func() { b.Page.Job.Repair.Oil = oil; b.Page.Edited() })
		b.work().Has("oil-checks", mark)
	}
}

// A system that may have run empty leaked at least as fast as its months say, and a right
// charge lasts at most so long: 2 lb less 53 g, 854 g, were gone in a year.
func TestEmptySystemLeakedFasterThanItsMonthsSay(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf("recovered"), "20 g").put(page.TextOf(present.LeakMonths), "12")
	b.Do(func() { b.Page.SetUnit(unit.Mass, unit.Gram) })
	b.work()
	b.Has("leak-hero", "850 g a year")
	b.Has("leak-hero", "or more")
	b.Has("leak-months", "at most")
}

// Needles that rest below the atmosphere speak of a pump, not of a hole.
func TestVacuumAtRestIsNoHole(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf("resting"), "15 in").work()
	b.Has("resting-hero", "Under vacuum")
	if got := b.Text("sum-resting"); strings.Contains(got, "There is a hole") {
		t.Error(got)
	}
}

// With the compressor not known, PAG is neither right nor kept out: most are driven by a belt.
// A flushed circuit asks nothing of what the old compressor gave.
func TestOilOfACompressorThatIsNotKnown(t *testing.T) {
	b := pickup(t, job.Memory{})
	b.Do(func() { b.Page.Job.Car.Compressor = ""; b.Page.Job.Repair.Oil = "pag46"; b.Page.Edited() })
	b.work().Has("oil-checks", "· Kind: PAG for a belt-driven compressor")
	b.Has("sum-oil", "If the compressor is electric, keep PAG oil out")
	b.Do(func() {
		b.Page.Job.Repair.Flushed = true
		b.place.toggle(&b.Page.Job.Repair.Parts, job.Parts, "compressor")
	})
	b.put(page.TextOf(present.LabelOil), "5").put(page.TextOf(present.NewCompressorOil), "3").work()
	b.Has("oil-checks", "keeps 3 fl oz of what it came with")
	if got := b.Text("oil-checks"); strings.Contains(got, "old one gave") {
		t.Errorf("of a compressor that nobody drained: %s", got)
	}
}

// 70 °F, for which a vent check is printed, are 21 °C to whoever works in °C.
func TestPublishedVentCheckInTheUnitsOfThePage(t *testing.T) {
	b := pickup(t, job.Memory{}).work()
	b.Has("prove-checks", "at 70 °F, dry air")
	b.Do(func() { b.Page.SetUnit(unit.Temperature, unit.Celsius) })
	b.work().Has("prove-checks", "at 21 °C, dry air")
	if got := b.Text("prove-checks"); strings.Contains(got, "°F") {
		t.Errorf("in °C: %s", got)
	}
}

// What a test under gas could not see is said of one that saw nothing; a leak that was
// seen hides no more.
func TestLeakUnderGasHidesNoMore(t *testing.T) {
	b := pickup(t, job.Memory{}).put(page.TextOf(present.LeakPressure), "150").put(page.TextOf(present.RetestTime), "30")
	b.put(page.TextOf(present.RetestEnd), "149").work().Has("retest-checks", "in about 2 days could still hide")
	b.put(page.TextOf(present.RetestTime), "2").work().Has("retest-checks", "in less than a day could still hide")
	b.put(page.TextOf(present.RetestEnd), "100").work().Has("retest-hero", "It leaks")
	if got := b.Text("retest-checks"); strings.Contains(got, "could still hide") {
		t.Error(got)
	}
}
