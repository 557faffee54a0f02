package service_test

import (
	"encoding/csv"
	"math"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// TestCharge: 100 ml of hose hold 121 g of liquid R-134a or 3 g of vapour at 25 °C
// (1.207 and 0.032 g/ml, computed outside this module from [TillnerRoth1994]).
func TestCharge(t *testing.T) {
	in := service.ChargeInput{Refrigerant: car.R134a, Label: 0.55, HoseVolume: 100e-6, Temperature: refrig.Celsius(25), Evaporators: 2}
	for _, c := range []struct {
		state service.HoseState
		g     float64
	}{{service.HosesDrawnIn, 0}, {service.HosesLiquid, 121}, {service.HosesVapour, 3}} {
		in.Hoses = c.state
		p, err := service.Charge(in)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "in hoses, g", 1000*p.InHoses, c.g, 0.5)
		near(t, "dispense, g", 1000*p.Dispense, 550+c.g, 0.5)
		near(t, "in the car at most, g", 1000*p.InCar.Hi, 565, 1e-9) // ±15 g [SAEJ2788]
		w := codes(p.Warnings)
		if !w["never_by_pressure"] || w["hoses_exceed_tolerance"] != (c.state == service.HosesLiquid) || w["cold_charge"] {
			t.Errorf("warnings %v", p.Warnings)
		}
		if len(p.Traps) == 0 {
			t.Error("no traps with two evaporators")
		}
	}
	in.Temperature, in.Evaporators = refrig.Celsius(5), 1
	p, err := service.Charge(in)
	if w := codes(p.Warnings); err != nil || !w["cold_charge"] || !w["outside_equipment_ambient"] || p.Traps != nil {
		t.Errorf("5 °C, one evaporator: %v, %v", p, err)
	}
	// Two hoses of 1.8 m and 4.9 mm bore: π/4 · 0.0049² · 3.6 = 67.9 ml.
	near(t, "hoses, ml", 1e6*service.HoseVolume(3.6, 0.0049), 67.9, 0.05)

	in.Label = 550 // grams typed as kg
	_, err = service.Charge(in)
	outOfRange(t, err, "label charge")
	in.Label, in.Refrigerant = 0.55, ""
	if _, err = service.Charge(in); err == nil {
		t.Error("a charge without a refrigerant")
	}
}

// TestRecover by hand: 400 g shown at 22 °C lie between 400 − 30 and (400 + 30)/0.95 = 452.6 g,
// the middle of the residual at 400/0.975 = 410.3 g; at 11 °C up to 430/0.85 = 505.9 g.
func TestRecover(t *testing.T) {
	in := service.RecoveryInput{Recovered: 0.4, Label: 0.5, Temperature: refrig.Celsius(22), Oil: 15e-6}
	r, err := service.Recover(in)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "charge, g", 1000*r.Charge.Value, 410.3, 0.05)
	near(t, "least, g", 1000*r.Charge.Lo, 370, 1e-9)
	near(t, "most, g", 1000*r.Charge.Hi, 452.6, 0.05)
	near(t, "fraction", r.Fraction.Value, 0.8205, 1e-4)
	near(t, "missing at most, g", 1000*r.Missing.Hi, 130, 1e-9)
	near(t, "oil to return, ml", 1e6*r.OilToReturn.Value, 15, 1e-9)
	near(t, "oil at least, ml", 1e6*r.OilToReturn.Lo, 0, 1e-9) // ±20 ml [SAEJ2788]
	near(t, "oil at most, ml", 1e6*r.OilToReturn.Hi, 35, 1e-9) // ±20 ml [SAEJ2788]
	if w := codes(r.Warnings); !w["oil_holds_refrigerant"] || len(w) != 1 {
		t.Errorf("warnings %v", r.Warnings)
	}
	in.Temperature = refrig.Celsius(11)
	r, _ = service.Recover(in)
	near(t, "most in the cold, g", 1000*r.Charge.Hi, 505.9, 0.05)
	in.Temperature = refrig.Celsius(17) // halfway from 13 to 21 °C: 90 %
	r, _ = service.Recover(in)
	near(t, "least fraction between", r.Residual.Lo, 0.90, 1e-9)
	if r.Residual.Basis != service.Judgement {
		t.Error("between the two tests it is judgement")
	}
	in.Temperature, in.Recovered = refrig.Celsius(2), 0.02
	r, _ = service.Recover(in)
	if w := codes(r.Warnings); !w["recovery_too_cold"] || !w["recovered_less_than_display_error"] || r.Charge.Lo != 0 {
		t.Errorf("cold and empty: %+v", r)
	}
	in.Recovered = 0.6
	if r, _ = service.Recover(in); !codes(r.Warnings)["more_than_label"] {
		t.Error("600 g out of a 500 g car is more than the label")
	}
	in.Recovered = 14.1 // ounces typed as kg
	_, err = service.Recover(in)
	outOfRange(t, err, "recovered mass")
	// A small bus of 12 kg.
	in = service.RecoveryInput{Recovered: 9, Label: 12, Temperature: refrig.Celsius(22)}
	if r, err := service.Recover(in); err != nil || math.Abs(r.Fraction.Value-9/0.975/12) > 1e-12 {
		t.Errorf("a bus: %+v, %v", r, err)
	}
	in.Label = 20.1
	_, err = service.Recover(in)
	outOfRange(t, err, "label charge")
}

// TestLeak by hand: 120 g (60…180) lost in 18 months are 80 g a year (40…120). A quarter of
// a 600 g charge, 150 g, lasts 22.5 months; the limits are 0.20 · 600/120 · 12 = 12 and
// 0.30 · 600/40 · 12 = 54 months.
func TestLeak(t *testing.T) {
	r, err := service.Leak(service.LeakInput{Label: 0.6, Lost: service.Estimate{Value: 0.12, Lo: 0.06, Hi: 0.18}, Months: 18, Evaporators: 1})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "g/year", 1000*r.Rate.Value, 80, 1e-9)
	near(t, "least, g/year", 1000*r.Rate.Lo, 40, 1e-9)
	near(t, "most, g/year", 1000*r.Rate.Hi, 120, 1e-9)
	near(t, "months", r.MonthsToPoor.Value, 22.5, 1e-9)
	near(t, "months at least", r.MonthsToPoor.Lo, 12, 1e-9)
	near(t, "months at most", r.MonthsToPoor.Hi, 54, 1e-9)
	want := map[string]string{"eu_single_evaporator": "unclear", "calculated_typical_car": "above", "army_normal": "below",
		"measured_sound_cars": "unclear"}
	for _, l := range r.Limits {
		if want[l.Limit.Code] != l.Is {
			t.Errorf("%s: %s, want %q", l.Limit.Code, l.Is, want[l.Limit.Code])
		}
		delete(want, l.Limit.Code)
	}
	if len(want) > 0 {
		t.Errorf("limits missing: %v", want)
	}
	for _, d := range r.Detectors {
		if d.Finds != "yes" {
			t.Errorf("a detector set to %v answers %q", d.Setting.Code, d.Finds)
		}
	}
	// 5 g a year, sure: 4 finds it, 7 and 14 do not; two evaporators have their own limit.
	r, _ = service.Leak(service.LeakInput{Label: 0.45, Lost: service.Estimate{Value: 0.005, Lo: 0.005, Hi: 0.005}, Months: 12, Evaporators: 2})
	if r.Detectors[0].Finds != "yes" || r.Detectors[1].Finds != "no" || r.Detectors[2].Finds != "no" {
		t.Errorf("detectors %+v", r.Detectors)
	}
	if r.Limits[0].Limit.Hi != 0.060 || r.Reserve.Code != "reserve_small" {
		t.Errorf("two evaporators, small charge: %+v, %+v", r.Limits[0], r.Reserve)
	}
	// The European limits are for gases with a warming potential above 150 [EU200640].
	for _, gas := range []string{car.R1234yf, car.R12} {
		r, err := service.Leak(service.LeakInput{Label: 0.5, Lost: service.Estimate{Value: 0.1, Lo: 0.1, Hi: 0.1}, Months: 12, Evaporators: 2, Refrigerant: gas})
		if err != nil || slices.ContainsFunc(r.Limits, func(l service.LimitCheck) bool { return l.Limit.Ref == "EU200640" }) {
			t.Errorf("%s is held against the limits of R-134a: %+v, %v", gas, r.Limits, err)
		}
		p, err := service.Charge(service.ChargeInput{Refrigerant: gas, Label: 0.5, Temperature: refrig.Celsius(25), Evaporators: 2})
		if err != nil || len(p.Traps) == 0 || slices.ContainsFunc(p.Traps, func(r service.Rule) bool { return r.Ref == "EU200640" }) {
			t.Errorf("%s: traps %+v, %v", gas, p.Traps, err)
		}
	}
	// Perhaps all of it was lost, and then it may have gone within a day: 500 g in a year are
	// the least, and a quarter of them lasts half a year at most.
	r, _ = service.Leak(service.LeakInput{Label: 0.5, Lost: service.Estimate{Value: 0.5, Lo: 0.48, Hi: 0.53}, Months: 12})
	near(t, "least, g/year", 1000*r.Rate.Lo, 480, 1e-9)
	near(t, "months at most", r.MonthsToPoor.Hi, 12*0.30*500/480, 1e-9)
	if !math.IsInf(r.Rate.Hi, 1) || r.MonthsToPoor.Lo != 0 {
		t.Errorf("empty: %+v a year, %+v months", r.Rate, r.MonthsToPoor)
	}
	// Perhaps nothing was lost: no upper time.
	r, _ = service.Leak(service.LeakInput{Label: 0.6, Lost: service.Estimate{Value: 0, Lo: -0.05, Hi: 0.05}, Months: 6})
	if !math.IsInf(r.MonthsToPoor.Hi, 1) || r.Rate.Lo != 0 {
		t.Errorf("nothing lost: %+v", r)
	}
	_, err = service.Leak(service.LeakInput{Label: 0.6, Lost: service.Estimate{Value: 0.7}, Months: 6})
	outOfRange(t, err, "lost refrigerant")
	_, err = service.Leak(service.LeakInput{Label: 0.6, Months: math.NaN()})
	outOfRange(t, err, "months")
}

// TestOil by hand, ml: recovered 20; condenser 15–50, 40 in the middle; accumulator 80
// drained + 60; the new compressor came with 120 and keeps the 75 that the old one gave.
func TestOil(t *testing.T) {
	in := service.OilInput{
		Replaced:  []service.Part{service.Condenser, service.Accumulator, service.Compressor, service.ServicePort},
		Drained:   map[service.Part]float64{service.Accumulator: 80e-6, service.Compressor: 75e-6},
		Filled:    map[service.Part]float64{service.Compressor: 120e-6},
		Recovered: 20e-6,
		Label:     1e-3, // no cap yet
	}
	p := oil(t, in)
	if len(p.Warnings) != 0 || len(p.Lines) != 4 || p.Compressor == nil {
		t.Fatalf("%+v", p)
	}
	near(t, "least, ml", 1e6*p.Add.Lo, 20+15+140, 1e-6)
	near(t, "usual, ml", 1e6*p.Add.Value, 20+40+140, 1e-6)
	near(t, "most, ml", 1e6*p.Add.Hi, 20+50+140, 1e-6)
	near(t, "out of the new one, ml", 1e6*p.Compressor.Drain.Lo, 120-75, 1e-6)
	near(t, "out of the new one at most, ml", 1e6*p.Compressor.Drain.Hi, 120-75, 1e-6)

	// An old one that gave 20 ml was too dry: the new one keeps 30–60.
	in = service.OilInput{Replaced: []service.Part{service.Compressor}, Drained: map[service.Part]float64{service.Compressor: 20e-6},
		Filled: map[service.Part]float64{service.Compressor: 120e-6}}
	p = oil(t, in)
	near(t, "kept at least, ml", 1e6*p.Compressor.Keep.Lo, 30, 1e-6)
	near(t, "out of the new one, ml", 1e6*p.Compressor.Drain.Lo, 60, 1e-6)
	near(t, "out of the new one at most, ml", 1e6*p.Compressor.Drain.Hi, 90, 1e-6)
	near(t, "nothing from the bottle, ml", 1e6*p.Add.Hi, 0, 1e-6)
	// A dry new one takes what the old one gave from the bottle.
	in.Filled[service.Compressor], in.Drained[service.Compressor] = 0, 75e-6
	p = oil(t, in)
	near(t, "into a dry one, ml", 1e6*p.Add.Lo, 75, 1e-6)
	near(t, "into a dry one at most, ml", 1e6*p.Add.Hi, 75, 1e-6)
	// What it came with not known: perhaps nothing, perhaps all of it.
	in.Filled = nil
	p = oil(t, in)
	if !codes(p.Warnings)["measure_new_compressor"] || p.Add.Lo != 0 || p.Compressor.Drain.Hi != 0 {
		t.Errorf("filling not known: %+v", p)
	}
	near(t, "at most what the old one gave, ml", 1e6*p.Add.Hi, 75, 1e-6)
	in.Drained, in.LargeLeak = nil, true
	p = oil(t, in)
	if w := codes(p.Warnings); !w["drain_and_measure_compressor"] || !w["oil_without_label"] || p.Compressor != nil {
		t.Errorf("compressor not drained: %+v", p)
	}
	near(t, "leak, ml", 1e6*p.Add.Lo, 60, 1e-6)

	_, err := service.OilToAdd(service.OilInput{Recovered: 20}) // ml typed as m³
	outOfRange(t, err, "recovered oil")
	_, err = service.OilToAdd(service.OilInput{Drained: map[service.Part]float64{service.Compressor: math.NaN()}})
	outOfRange(t, err, "drained oil")
	_, err = service.OilToAdd(service.OilInput{Label: 150})
	outOfRange(t, err, "oil on the label")
}

func oil(t *testing.T, in service.OilInput) service.OilPlan {
	t.Helper()
	p, err := service.OilToAdd(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestOilNeverExceedsTheLabel: a job that adds up to more than the car holds. By hand, ml:
// compressor, condenser, drier, sudden leak and 20 recovered are 15 + 0 + 60 + 20 = 95 at
// least and 50 + 40 + 90 + 20 = 200 at most beside a new compressor that came with 140 and
// keeps 60; a label of 150 leaves room for 90.
func TestOilNeverExceedsTheLabel(t *testing.T) {
	in := service.OilInput{
		Replaced:  []service.Part{service.Compressor, service.Condenser, service.ReceiverPart},
		Drained:   map[service.Part]float64{service.Compressor: 60e-6},
		Filled:    map[service.Part]float64{service.Compressor: 140e-6},
		LargeLeak: true, Recovered: 20e-6,
	}
	p := oil(t, in)
	near(t, "without a label, ml", 1e6*p.Add.Hi, 200, 1e-6)
	if !codes(p.Warnings)["oil_without_label"] {
		t.Errorf("200 ml without a word: %v", p.Warnings)
	}
	in.Label = 150e-6
	p = oil(t, in)
	near(t, "capped, ml", 1e6*p.Add.Hi, 90, 1e-6)
	if !codes(p.Warnings)["oil_beyond_label"] {
		t.Errorf("even the least is too much: %v", p.Warnings)
	}
	in.Label = 180e-6
	if p = oil(t, in); !codes(p.Warnings)["oil_capped"] || codes(p.Warnings)["oil_beyond_label"] {
		t.Errorf("cut within the span: %v", p.Warnings)
	}
	near(t, "cut at 180 − 60, ml", 1e6*p.Add.Hi, 120, 1e-6)
	near(t, "least as before, ml", 1e6*p.Add.Lo, 95, 1e-6)
	// An old compressor that held 200 of a system's 150 was overfilled: the new one, which
	// came with 180, keeps 150, and 30 are poured out of it.
	over := service.OilInput{Replaced: []service.Part{service.Compressor}, Label: 150e-6,
		Drained: map[service.Part]float64{service.Compressor: 200e-6}, Filled: map[service.Part]float64{service.Compressor: 180e-6}}
	p = oil(t, over)
	near(t, "kept of an overfilled one, ml", 1e6*p.Compressor.Keep.Hi, 150, 1e-6)
	near(t, "poured out of the new one, ml", 1e6*p.Compressor.Drain.Value, 30, 1e-6)
	if len(p.Warnings) != 1 || !codes(p.Warnings)["oil_beyond_label"] {
		t.Errorf("more than the label: %v", p.Warnings)
	}
	// Flushed: the whole filling, whatever was counted; the new one keeps its 140.
	in.Flushed = true
	p = oil(t, in)
	near(t, "flushed, ml", 1e6*p.Add.Value, 40, 1e-6)
	near(t, "flushed at most, ml", 1e6*p.Add.Hi, 40, 1e-6)
	in.Label = 120e-6
	if p = oil(t, in); p.Add.Hi != 0 || math.Abs(p.Compressor.Drain.Value-20e-6) > 1e-12 {
		t.Errorf("120 ml on the label, 140 in the new one: %+v", p)
	}
	in.Label = 0
	if p = oil(t, in); !codes(p.Warnings)["flushed_needs_label"] {
		t.Errorf("flushed without a label: %v", p.Warnings)
	}
}

// TestOilByPartIsWhatMakersPrint: span and median of each part are those of the rows of
// testdata/makers/oil_by_part.csv, and each row stands in the facts it names.
func TestOilByPartIsWhatMakersPrint(t *testing.T) {
	facts := map[string]string{}
	for _, row := range table(t, "../../testdata/makers/makers_facts.csv") {
		facts[row[0]] = strings.Join(row[1:], " ")
	}
	lo, hi, middle := map[string]float64{}, map[string]float64{}, map[string][]float64{}
	for _, row := range table(t, "../../testdata/makers/oil_by_part.csv")[1:] {
		part := row[1]
		var v [2]float64
		for i, text := range row[2:4] {
			var err error
			if v[i], err = strconv.ParseFloat(text, 64); err != nil {
				t.Fatal(err)
			}
			if !regexp.MustCompile(`\b` + text + `\b`).MatchString(facts[row[0]]) {
				t.Errorf("%s: %s ml of %s do not stand in %q", row[0], text, part, facts[row[0]])
			}
		}
		if _, ok := lo[part]; !ok {
			lo[part] = v[0]
		}
		lo[part], hi[part] = min(lo[part], v[0]), max(hi[part], v[1])
		middle[part] = append(middle[part], (v[0]+v[1])/2)
	}
	for _, part := range []service.Part{service.Condenser, service.Evaporator, service.ReceiverPart, service.Hose} {
		p := oil(t, service.OilInput{Replaced: []service.Part{part}})
		m := middle[string(part)]
		slices.Sort(m)
		near(t, string(part)+" least, ml", 1e6*p.Add.Lo, lo[string(part)], 1e-6)
		near(t, string(part)+" most, ml", 1e6*p.Add.Hi, hi[string(part)], 1e-6)
		near(t, string(part)+" median, ml", 1e6*p.Add.Value, (m[(len(m)-1)/2]+m[len(m)/2])/2, 1e-6)
	}
	near(t, "filling at least, ml", 1e6*service.OilFilling.Lo, lo["filling"], 1e-6)
	near(t, "filling at most, ml", 1e6*service.OilFilling.Hi, hi["filling"], 1e-6)
	p := oil(t, service.OilInput{LargeLeak: true})
	if v := hi["large_leak"] * 1e-6; v < p.Add.Lo || v > p.Add.Hi {
		t.Errorf("a maker prints %g ml for a sudden leak, outside %g to %g", 1e6*v, 1e6*p.Add.Lo, 1e6*p.Add.Hi)
	}
}

// table reads a CSV file with # comments.
func table(t *testing.T, path string) [][]string {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// An electric compressor takes POE, R-1234yf a PAG of its own.
func TestOilKinds(t *testing.T) {
	if a := service.OilFor(car.Electric, car.R1234yf); a.Kind != "poe" || !codes(a.Warnings)["pag_conducts"] {
		t.Errorf("electric: %+v", a)
	}
	if a := service.OilFor(car.Electric, car.R134a); a.Suits("pag") || !a.Suits("poe") {
		t.Error("PAG into an electric compressor")
	}
	// Not known: PAG is kept out only if it is electric, and what suits neither kind never goes in.
	if a := service.OilFor(car.CompressorUnknown, car.R134a); !a.Suits("pag") || !a.Suits("poe") || a.Suits("mineral") || a.Suits("pag_yf") || codes(a.Warnings)["pag_conducts"] || !codes(a.Warnings)["pag_conducts_electric"] {
		t.Errorf("not known: %+v", a)
	}
	if a := service.OilFor(car.CompressorUnknown, car.R1234yf); a.Suits("pag") || !a.Suits("pag_yf") {
		t.Errorf("not known, R-1234yf: %+v", a)
	}
	if a := service.OilFor(car.CompressorUnknown, ""); !a.Suits("pag") || !a.Suits("mineral") {
		t.Errorf("nothing known: %+v", a)
	}
	if a := service.OilFor(car.Variable, car.R1234yf); a.Kind != "pag_yf" || a.Suits("pag") {
		t.Errorf("R-1234yf: %+v", a)
	}
	if a := service.OilFor(car.Fixed, car.R134a); a.Kind != "pag" || len(a.Grades) != 3 {
		t.Errorf("fixed: %+v", a)
	}
	// "Don't know" may be electric: never name PAG.
	if a := service.OilFor(car.CompressorUnknown, car.R1234yf); a.Kind != "ask_label" {
		t.Errorf("unknown: %+v", a)
	}
}

// TestRetrofit by hand: 2.5 lb of R-12 are 1134 g: 80–90 % is 907–1021 g; 0.9 · 2.5 − 0.25 =
// 2.0 lb = 907 g.
func TestRetrofit(t *testing.T) {
	p, err := service.Retrofit(2.5 * unit.KgPerPound)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "least, g", 1000*p.Charge.Lo, 907.2, 0.1)
	near(t, "most, g", 1000*p.Charge.Hi, 1020.6, 0.1)
	near(t, "formula, lb", p.Rules[1].Lo/0.45359237, 2.0, 1e-9)
	near(t, "high side, psi", p.HighSide[0].Lo/psi, 20, 1e-9)
	_, err = service.Retrofit(40) // ounces typed as kg
	outOfRange(t, err, "R-12 charge")
}

func TestProve(t *testing.T) {
	in := service.ProofInput{
		Low: 200e3, High: 1.4e6, LowExpected: service.Estimate{Value: 210e3, Lo: 180e3, Hi: 240e3},
		HighExpected: service.Estimate{Value: 1.4e6, Lo: 1.2e6, Hi: 1.6e6},
		Vent:         fahrenheit(45), VentExpected: service.Estimate{Value: 281, Lo: 279, Hi: 283},
		Ambient: fahrenheit(70), Humidity: 0.3, HumidityKnown: true, RPM: 1500,
	}
	prove := func() service.Proof {
		t.Helper()
		p, err := service.Prove(in)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	if p := prove(); p.Outcome != service.Proved || !p.Vents.Applies || p.Vents.Vent != service.InsideBand {
		t.Errorf("good car: %+v", p)
	}
	// χ² of three degrees of freedom, from printed tables: 90 % lie within 6.25, 98 % within 9.84.
	for _, c := range []struct {
		deviation    float64
		charge, leak service.Check
		want         service.Outcome
		because      string
	}{
		{6.2, service.CheckGood, service.CheckGood, service.Proved, ""},
		{6.3, service.CheckGood, service.CheckGood, service.AtTheEdge, "readings"},
		{9.8, service.NotAsked, service.NotAsked, service.AtTheEdge, "readings"},
		{11.3, service.CheckGood, service.CheckGood, service.AtTheEdge, "readings"},
		{11.4, service.CheckOpen, service.CheckGood, service.NotProved, "readings"},
		{1, service.CheckOpen, service.CheckOpen, service.AtTheEdge, "leak_open charge_open"},
		{1, service.CheckBad, service.CheckGood, service.NotProved, "charge"},
		{1, service.CheckGood, service.CheckBad, service.NotProved, "leak"},
	} {
		in.Deviation, in.Charge, in.Leak = c.deviation, c.charge, c.leak
		if p := prove(); p.Outcome != c.want || strings.Join(p.Because, " ") != c.because {
			t.Errorf("%+v: %s because %v", c, p.Outcome, p.Because)
		}
	}
	in.Deviation, in.Charge, in.Leak = 0, service.NotAsked, service.NotAsked
	in.Vent = fahrenheit(52)
	if p := prove(); p.Vent != service.AboveBand || p.Vents.Vent != service.AboveBand {
		t.Errorf("warm vent: %+v", p)
	}
	in.Vent, in.Low = fahrenheit(41), 150e3
	if p := prove(); p.Low != service.BelowBand || p.Vents.Vent != service.InsideBand {
		t.Errorf("low needle under its band: %+v", p)
	}
	in.Ambient, in.Humidity, in.RPM = fahrenheit(95), 0.6, 800
	if p := prove(); p.Vents.Applies || len(p.Vents.Because) != 3 {
		t.Errorf("hot, humid, idling: %+v", p.Vents)
	}
	in.HumidityKnown = false
	if p := prove(); len(p.Vents.Because) != 3 || p.Vents.Because[1] != "humidity_unknown" {
		t.Errorf("humidity not known: %+v", p.Vents)
	}
	in.LowExpected.Lo = math.NaN()
	_, err := service.Prove(in)
	outOfRange(t, err, "expected low side")
}

func TestVolume(t *testing.T) {
	// 0.55 kg at 260 kg/m³ is 2.1 l.
	near(t, "from the label, l", 1000*service.Volume(car.Spec{LabelCharge: 0.55}).Value, 2.115, 0.001)
	small, large := service.Volume(car.Spec{Size: car.SizeSmall}), service.Volume(car.Spec{Size: car.SizeLarge})
	rear := service.Volume(car.Spec{Size: car.SizeLarge, Evaporators: 2})
	if !(small.Value < large.Value && large.Value < rear.Value && small.Lo < small.Value && small.Value < small.Hi) {
		t.Errorf("volumes %v %v %v", small, large, rear)
	}
}

// A label of 100 g and one of 20 kg, the least and the most that are taken, go through
// every sum of a job. By hand: 20 kg at 260 kg/m³ are 76.9 l; 100 microns a minute are
// 13.33 Pa in 60 s, so 0.2222 · 0.0769 = 0.01709 Pa m³/s of air come in.
func TestFirstAndLastLabelGoThroughEverySum(t *testing.T) {
	for _, kg := range []float64{0.1, 20} {
		of := car.Spec{Refrigerant: car.R134a, LabelCharge: kg}
		in := service.HoldInput{Sigma: service.SigmaElectronic, Finest: service.FinestElectronic, Ambient: refrig.Celsius(25),
			Volume: service.Volume(of), Refrigerant: of.Refrigerant}
		for i := range 5 {
			in.Points = append(in.Points, service.HoldPoint{Time: 180 * float64(i), Pressure: refrig.Pressure(53.33 + 40*float64(i))})
		}
		h, err := service.Hold(in)
		if err != nil || h.Verdict != service.HoldLeak {
			t.Fatalf("%g kg, hold test: %v, %v", kg, h.Verdict, err)
		}
		near(t, "air coming in, Pa m³/s", h.Leak.Throughput.Value, 0.01709*kg/20, 0.0002*kg/20)
		gas := service.PressureTestInput{Start: 150 * psi, End: 150 * psi, StartTemperature: in.Ambient, EndTemperature: in.Ambient, Time: 1800,
			Volume: service.Volume(of), Refrigerant: of.Refrigerant, Label: kg}
		if p, err := service.HoldPressure(gas); err != nil || p.Verdict != service.PressureHolds {
			t.Errorf("%g kg, gas: %v, %v", kg, p.Verdict, err)
		}
		out, err := service.Recover(service.RecoveryInput{Recovered: kg / 2, Label: kg, Temperature: in.Ambient, Refrigerant: of.Refrigerant})
		if err != nil {
			t.Fatal(err)
		}
		if l, err := service.Leak(service.LeakInput{Label: kg, Lost: out.Missing, Months: 12, Refrigerant: of.Refrigerant}); err != nil || l.Rate.Value <= 0 {
			t.Errorf("%g kg, leak: %v, %v", kg, l.Rate, err)
		}
		plan, err := service.Charge(service.ChargeInput{Refrigerant: of.Refrigerant, Label: kg, Temperature: in.Ambient})
		if err != nil {
			t.Fatal(err)
		}
		if c, err := plan.Weighed(kg); err != nil || c.Label != service.InsideBand {
			t.Errorf("%g kg, charged: %v, %v", kg, c, err)
		}
		if r, err := service.AtRest(service.RestingInput{Car: of, Low: 20 * psi, High: 20 * psi, Temperature: in.Ambient, Soaked: true}); err != nil || r.MassLeft == nil || r.MassLeft.Value >= kg {
			t.Errorf("%g kg, at rest: %+v, %v", kg, r.MassLeft, err)
		}
	}
}
