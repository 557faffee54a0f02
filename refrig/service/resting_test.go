package service_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/service"
)

// exact is a check with gauges and thermometer good to a hundredth of a psi, so that
// what is tested is the physics.
func exact(id string, p float64, T refrig.Temperature) service.RestingInput {
	return service.RestingInput{
		Car: car.Spec{Refrigerant: id, LabelCharge: 0.52},
		Low: refrig.Gauge(p), High: refrig.Gauge(p), Temperature: T, Soaked: true,
		LowError: 70, HighError: 70, TemperatureError: 0.05,
	}
}

func atRest(t *testing.T, in service.RestingInput) service.Resting {
	t.Helper()
	r, err := service.AtRest(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// TestRestingTable: printed pressures at rest are saturated, and 3 psi on either side
// of them is not. R-1234yf is printed from the superseded equation, 0.03 psi away.
func TestRestingTable(t *testing.T) {
	for _, r := range reftest.ReadTable(t, "service/static.csv").Rows() {
		for id, column := range map[string]string{car.R12: "R12_psi", car.R134a: "R134a_psi", car.R1234yf: "R1234yf_psi"} {
			p, T := r.Num(column)*psi, fahrenheit(r.Num("T_F"))
			got := atRest(t, exact(id, p, T))
			near(t, id+" saturation, psi", got.Saturation.Value/psi, r.Num(column), 0.1)
			if got.Finding != service.RestingSaturated {
				t.Errorf("%s at %v °F, %v psi: %s", id, r.Num("T_F"), r.Num(column), got.Finding)
			}
			if got.MassLeft != nil || got.AirFraction != nil {
				t.Errorf("%s: a saturated system tells neither mass nor air, got %+v", id, got)
			}
			if low := atRest(t, exact(id, p-3*psi, T)); low.Finding != service.RestingNoLiquid || low.MassLeft == nil {
				t.Errorf("%s 3 psi low: %s", id, low.Finding)
			}
			if high := atRest(t, exact(id, p+3*psi, T)); high.Finding != service.RestingAbove || high.AirFraction == nil {
				t.Errorf("%s 3 psi high: %s", id, high.Finding)
			}
		}
	}
}

// TestRestingAltitude: the same car at 5000 ft shows 2.47 psi more
// (101.33 less 84.31 kPa, the standard atmosphere [ISO2533]), because the gauge reads
// above a thinner atmosphere.
func TestRestingAltitude(t *testing.T) {
	in := exact(car.R134a, 71.1*psi, fahrenheit(70))
	sea := atRest(t, in)
	in.Altitude = 5000 * feet
	up := atRest(t, in)
	near(t, "rise at 5000 ft, psi", (up.Saturation.Value-sea.Saturation.Value)/psi, 2.47, 0.006)
	if up.Finding != service.RestingNoLiquid {
		t.Errorf("a sea-level reading at 5000 ft: %s", up.Finding)
	}
}

// TestAirFraction: the published tank example, R-12 at 70 °F with 80 psi on the gauge,
// is 9.9 psi of air in 94.7 psi absolute: 10.5 % (worked by hand from [SAEJ1989]).
func TestAirFraction(t *testing.T) {
	r := atRest(t, exact(car.R12, 80*psi, fahrenheit(70)))
	near(t, "air", r.AirFraction.Value, 0.105, 0.0006)
	if r.TankTest == nil || math.Abs(r.TankTest.Hi-80*psi) > 1 {
		t.Errorf("tank test %+v, want 80 psi", r.TankTest)
	}
	if !(r.AirFraction.Lo < r.AirFraction.Value && r.AirFraction.Value < r.AirFraction.Hi) {
		t.Errorf("limits out of order: %+v", r.AirFraction)
	}
	// As heat instead: 84.0 psi is 80 °F, so 80 psi is a little less.
	if f := r.HotPart.Celsius()*1.8 + 32; f < 76 || f > 79 {
		t.Errorf("hot part %v °F", f)
	}
}

func TestTankTest(t *testing.T) {
	for _, row := range reftest.ReadTable(t, "service/tank_test.csv").Rows() {
		r := atRest(t, exact(car.R134a, (row.Num("limit_psi")+1)*psi, fahrenheit(row.Num("T_F"))))
		if r.TankTest == nil {
			t.Fatalf("no tank test at %v °F", row.Num("T_F"))
		}
		near(t, "limit, psi", r.TankTest.Hi/psi, row.Num("limit_psi"), 1e-6)
		near(t, "saturation, psi", r.Saturation.Value/psi, row.Num("saturation_psi"), 0.06)
	}
	if r := atRest(t, exact(car.R134a, 200*psi, fahrenheit(115))); r.TankTest != nil {
		t.Error("the table ends at 110 °F")
	}
}

// TestMassLeft: R-134a at 300 kPa absolute and 293.8221 K weighs 13.4276 kg/m³
// (reference table of the property library); 0.52 kg of label charge stand for 2.0 l by
// the rule of Volume. So 26.9 g.
func TestMassLeft(t *testing.T) {
	r := atRest(t, exact(car.R134a, 300e3-101325, 293.8221))
	if r.Finding != service.RestingNoLiquid {
		t.Fatal(r.Finding)
	}
	near(t, "mass, g", 1000*r.MassLeft.Value, 26.855, 0.02)
	near(t, "least, g", 1000*r.MassLeft.Lo, 26.855*0.70, 0.05)
	near(t, "most, g", 1000*r.MassLeft.Hi, 26.855*1.45, 0.05)
}

func TestEmptyAndUnequal(t *testing.T) {
	r := atRest(t, exact(car.R134a, 0, 295))
	if r.Finding != service.RestingEmpty || r.MassLeft == nil || r.MassLeft.Hi > 0.02 || r.LookAlikes != nil {
		t.Errorf("empty: %+v", r)
	}
	// Pulled into a vacuum and left: no mass, and no hole either, or air would be in it. A
	// gauge of class 1.6 of 1 MPa is off by 16 kPa at most [EN837].
	for _, gas := range []string{car.R134a, ""} {
		if r := atRest(t, exact(gas, -90e3, 295)); r.Finding != service.RestingVacuum || gas != "" && r.MassLeft.Hi != 0 {
			t.Errorf("vacuum: %+v", r)
		}
	}
	for kPa, want := range map[float64]service.RestingFinding{-15: service.RestingEmpty, -17: service.RestingVacuum} {
		in := exact(car.R134a, 1e3*kPa, 295)
		in.LowError, in.HighError = 0, 0 // the usual ones
		if r := atRest(t, in); r.Finding != want {
			t.Errorf("%v kPa: %s, want %s", kPa, r.Finding, want)
		}
	}
	// R-134a boils at −26 °C: at −29 °C its liquid rests 13 kPa below the atmosphere.
	if r := atRest(t, exact(car.R134a, -13e3, 244.15)); r.Finding == service.RestingVacuum {
		t.Errorf("liquid in deep cold: %+v", r)
	}
	in := exact(car.R134a, 71*psi, fahrenheit(70))
	in.High += 20 * psi
	if r := atRest(t, in); r.Finding != service.RestingUnequal || r.LookAlikes != nil || r.MassLeft != nil {
		t.Errorf("unequal: %+v", r)
	}
	in.LowError, in.HighError = 0, 0 // ordinary gauges allow 16 + 56 kPa = 10 psi
	in.High = in.Low + 8*psi
	if r := atRest(t, in); r.Finding == service.RestingUnequal {
		t.Error("8 psi apart is within the gauges' error")
	}
	in.Soaked = false
	if r := atRest(t, in); !codes(r.Warnings)["not_soaked"] {
		t.Error("no warning of a car not soaked")
	}
}

// TestLookAlikes: pressure cannot tell R-134a from R-1234yf at 40 °C (2 kPa apart) nor
// R-134a from R-12 near 16 °C (computed outside
// this module from the equations of state). Propane stands alone. Saturation
// of the others at 303 K as in the property library's tables.
func TestLookAlikes(t *testing.T) {
	ids := func(r service.Resting) (s string) {
		for _, l := range r.LookAlikes {
			s += l.ID + " "
		}
		return s
	}
	for _, c := range []struct {
		id   string
		p    float64 // Pa absolute
		T    refrig.Temperature
		want string
	}{
		{car.R134a, 1016.6e3, refrig.Celsius(40), "R134a R1234yf "},
		{car.R134a, 57.45*psi + 101325, fahrenheit(60), "R134a R12 "},
		{car.R134a, 1075016.828, 303, "R290 "},
		{car.R134a, 403015.6776, 303, "R600a "},
		{car.R134a, 686866.486, 303, "R152a "},
	} {
		in := exact(c.id, c.p-101325, c.T)
		in.LowError, in.HighError = 3e3, 3e3
		if got := ids(atRest(t, in)); got != c.want {
			t.Errorf("%v Pa at %v K looks like %q, want %q", c.p, c.T, got, c.want)
		}
	}
	in := exact("", 1016.6e3-101325, refrig.Celsius(40))
	if r := atRest(t, in); r.Finding != service.RestingWhich || r.Saturation != nil || r.Thumb != nil || len(r.LookAlikes) == 0 {
		t.Errorf("refrigerant not known: %+v", r)
	}
}

// TestThumb: "as many psi as °F" for R-134a against the printed table: 70 °F is 71.1 psi,
// 90 °F is 104.3 psi.
func TestThumb(t *testing.T) {
	good := atRest(t, exact(car.R134a, 71.1*psi, fahrenheit(70))).Thumb
	near(t, "error at 70 °F, psi", float64(good.Error)/psi, 70-71.1, 0.06)
	bad := atRest(t, exact(car.R134a, 104.3*psi, fahrenheit(90))).Thumb
	near(t, "error at 90 °F, psi", float64(bad.Error)/psi, 90-104.3, 0.06)
	if !good.Good || bad.Good {
		t.Errorf("good at 70 °F: %v, at 90 °F: %v", good.Good, bad.Good)
	}
	// From the table: 20 °F is 18.4 psi, 0 °F is 6.5 psi, so 5 psi low near 3 °F; 80 °F is
	// 86.7 psi, so 5 psi low near 77 °F; at 40 °F, 35.0 psi, just good.
	lo, hi, err := service.ThumbSpan(car.R134a)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "from, °F", (lo-273.15)*1.8+32, 3, 1)
	near(t, "to, °F", (hi-273.15)*1.8+32, 77, 1)
}

func TestRestingRefuses(t *testing.T) {
	good := exact(car.R134a, 71*psi, 295)
	for quantity, spoil := range map[string]func(*service.RestingInput){
		"low-side pressure":      func(in *service.RestingInput) { in.Low = 9e99 },
		"high-side pressure":     func(in *service.RestingInput) { in.High = refrig.Gauge(math.NaN()) },
		"temperature of the car": func(in *service.RestingInput) { in.Temperature = 77 },
		"altitude":               func(in *service.RestingInput) { in.Altitude = 1e5 },
		"low gauge error":        func(in *service.RestingInput) { in.LowError = -5 },
		"thermometer error":      func(in *service.RestingInput) { in.TemperatureError = 40 },
		"label charge":           func(in *service.RestingInput) { in.Car.LabelCharge = 520 },
	} {
		in := good
		spoil(&in)
		_, err := service.AtRest(in)
		outOfRange(t, err, quantity)
	}
	good.Car.Refrigerant = "R22"
	var unknown *refrig.UnknownError
	if _, err := service.AtRest(good); !errors.As(err, &unknown) || unknown.Value != "R22" {
		t.Errorf("R22: %v", err)
	}
}

// FuzzResting: any readings give a finite answer or a typed error, and no answer with
// liquid left carries a mass.
func FuzzResting(f *testing.F) {
	f.Add(71*psi, 71*psi, 294.3, 0.0, 0.0, uint8(0))
	f.Add(-1e5, 4e6, 243.15, 5600.0, 4.5, uint8(1))
	f.Add(1.5e6, 1.5e6, 328.15, -450.0, 1.0, uint8(3))
	f.Fuzz(func(t *testing.T, low, high, T, altitude, dT float64, which uint8) {
		id := []string{car.R134a, car.R1234yf, car.R12, "", "R744"}[which%5]
		r, err := service.AtRest(service.RestingInput{
			Car: car.Spec{Refrigerant: id, Size: car.Size(which % 4), Evaporators: int(which % 3)},
			Low: refrig.Gauge(low), High: refrig.Gauge(high), Temperature: refrig.Temperature(T),
			Altitude: altitude, TemperatureError: refrig.TempDiff(dT),
		})
		if err != nil {
			var re *refrig.RangeError
			var ue *refrig.UnknownError
			if !errors.As(err, &re) && !errors.As(err, &ue) {
				t.Fatalf("untyped error %v", err)
			}
			return
		}
		finite := []float64{r.Reading.Value, float64(r.HotPart), float64(r.Atmosphere)}
		for _, e := range []*service.Estimate{r.Saturation, r.MassLeft, r.AirFraction} {
			if e == nil {
				continue
			}
			finite = append(finite, e.Value, e.Lo, e.Hi)
			if !(e.Lo <= e.Value && e.Value <= e.Hi) {
				t.Errorf("limits out of order: %+v in %+v", *e, r)
			}
		}
		for _, v := range finite {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%v in %+v", v, r)
			}
		}
		if r.MassLeft != nil && r.Finding != service.RestingNoLiquid && r.Finding != service.RestingEmpty && r.Finding != service.RestingVacuum {
			t.Errorf("%s carries a mass", r.Finding)
		}
	})
}
