package job

import (
	"math"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

var noon = time.Date(2026, 7, 1, 12, 0, 0, 0, time.UTC)

// code returns the code of the first problem of a field, "" if it has none.
func code(problems []present.Problem, id present.FieldID) string {
	for _, p := range problems {
		if p.Field == id {
			return p.Code
		}
	}
	return ""
}

func near(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.9g, want %.9g", what, got, want)
	}
}

// Hand calculations with 1 psi = 6894.757 Pa [NIST811]; tolerances are the last
// digit of the hand calculation.
func TestTypedTextBecomesACase(t *testing.T) {
	j := New(noon, unit.US())
	j.Car = Car{Refrigerant: "R1234yf", Metering: "expansion_valve", Compressor: "variable", HighPort: "liquid", Size: "large", Evaporators: 2}
	j.SetText(present.LabelCharge, "1 lb 8 oz")
	j.SetText(present.ServiceHigh, "190-230")
	v := &j.Before
	v.SetText(present.Ambient, "95")
	v.SetText(present.Humidity, "40")
	v.SetText(present.Altitude, "1000 m")
	v.SetText(present.EngineSpeed, "1,000")
	v.Recirc = true
	v.SetReading(car.Low, Reading{Swing: true, Lo: "22", Hi: "45"})
	v.SetReading(car.High, Reading{Text: ">500"})
	v.SetReading(car.Vent, Reading{Text: "10 C"})
	v.SetReading(car.SightGlass, Reading{Choice: "bubbles"})
	v.SetReading(car.Recovered, Reading{Text: "12 oz"})
	c, problems := j.Case()

	if want := (car.Spec{Refrigerant: car.R1234yf, Metering: car.ExpansionValve, Compressor: car.Variable,
		HighPort: car.PortLiquid, Size: car.SizeLarge, Evaporators: 2, LabelCharge: c.Car.LabelCharge}); c.Car != want {
		t.Errorf("car %+v, want %+v", c.Car, want)
	}
	near(t, "label charge", c.Car.LabelCharge, 0.680389, 1e-6)
	near(t, "ambient", c.Weather.Ambient, 308.15, 1e-9)
	near(t, "humidity", c.Weather.Humidity, 0.4, 1e-12)
	near(t, "altitude", c.Weather.Altitude, 1000, 1e-9)
	near(t, "rpm", c.Running.RPM, 1000, 0)
	if !c.Weather.HumidityKnown || !c.Running.RPMKnown || !c.Running.Recirc {
		t.Error("what was typed counts as assumed")
	}
	low := c.Readings[car.Low]
	near(t, "low, lowest", low.Lo, 151685, 1)
	near(t, "low, highest", low.Hi, 310264, 1)
	near(t, "low, middle", low.Value, 230974, 1)
	if !low.Swing {
		t.Error("the swing is lost")
	}
	high := c.Readings[car.High]
	near(t, "high", high.Value, 3447379, 1)
	if !high.AtLeast || high.Swing {
		t.Errorf("a pegged needle reads %+v", high)
	}
	near(t, "vent", c.Readings[car.Vent].Value, 283.15, 1e-9)
	if c.Readings[car.SightGlass].Choice != "bubbles" {
		t.Error("the choice is lost")
	}
	near(t, "recovered", c.Readings[car.Recovered].Value, 0.5, 1e-9)
	near(t, "service high, lowest", c.Service.High.Lo, 1310004, 1)
	near(t, "service high, highest", c.Service.High.Hi, 1585794, 1)
	if c.Service.Low != (car.Interval{}) {
		t.Error("service figures from nowhere")
	}
	if len(problems) != 1 || code(problems, present.Blower) != present.DefaultUsed {
		t.Errorf("problems %v", problems)
	}
}

func TestDefaultsAreShownAsDefaults(t *testing.T) {
	c, problems := New(noon, unit.Metric()).Case()
	near(t, "humidity", c.Weather.Humidity, 0.5, 0)
	near(t, "rpm", c.Running.RPM, 1500, 0)
	near(t, "blower", c.Running.Blower, 1, 0)
	near(t, "altitude", c.Weather.Altitude, 0, 0)
	near(t, "ambient", c.Weather.Ambient, 0, 0) // never guessed
	if c.Weather.HumidityKnown || c.Running.RPMKnown {
		t.Error("a default counts as known")
	}
	for id, want := range map[present.FieldID]string{
		present.Humidity: present.DefaultUsed, present.EngineSpeed: present.DefaultUsed, present.Blower: present.DefaultUsed,
		present.Altitude: present.DefaultUsed, present.Ambient: present.Empty, "low": present.Empty, "high": present.Empty, "vent": "",
	} {
		if got := code(problems, id); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
	for _, p := range problems {
		if p.Level == present.Refused || p.Level == present.Asked {
			t.Errorf("an empty job has done nothing wrong: %s %s", p.Field, p.Code)
		}
	}
	if len(c.Readings) != 0 {
		t.Errorf("readings from nowhere: %v", c.Readings)
	}
}

func TestDoubtfulAndRefusedInputs(t *testing.T) {
	j := New(noon, unit.US())
	read := func(q car.Quantity, text string) { j.Before.SetReading(q, Reading{Text: text}) }
	read(car.Low, "220")
	read(car.High, "28")
	read(car.Vent, "cold")
	read(car.SightGlass, "")
	read(car.Resting, "30 in")
	read(car.Recovered, "12 oz")
	j.Before.SetReading(car.SightGlass, Reading{Choice: "purple"})
	j.Before.SetReading(car.LowIdle, Reading{Swing: true, Lo: "20", Hi: ""})
	j.Before.SetText(present.Ambient, "95")
	j.Before.SetText(present.Humidity, "many")
	j.Before.SetText(present.Altitude, "5000")
	j.SetText(present.ServiceLow, "30")
	text := j.Clone()
	c, problems := j.Case()

	if code(problems, "vent") != present.NotANumber {
		t.Error("“cold” is read as a number")
	}
	if _, ok := c.Readings[car.Vent]; ok {
		t.Error("a refused reading is in the case")
	}
	if code(problems, "sight_glass") != present.BadChoice {
		t.Error("a choice that is none passes")
	}
	if code(problems, "recovered") != present.NoLabelCharge {
		t.Error("a recovered mass without a label must be explained")
	}
	if code(problems, present.ServiceLow) != present.NeedsRange || c.Service.Low != (car.Interval{}) {
		t.Error("one number passes for a range")
	}
	// A refused humidity says so and falls back to the default, shown as such.
	if code(problems, present.Humidity) != present.NotANumber || c.Weather.HumidityKnown {
		t.Error("a refused humidity counts as known")
	}
	near(t, "humidity", c.Weather.Humidity, 0.5, 0)
	// One end of a swing is a steady reading until the other is there.
	if r := c.Readings[car.LowIdle]; r.Swing || math.Abs(r.Value-137895) > 1 {
		t.Errorf("half a swing reads %+v", r)
	}
	// At 5000 ft the standard atmosphere [ISO2533] is 84.3 kPa or 24.9 inHg: 30 inHg
	// cannot be.
	near(t, "resting", c.Readings[car.Resting].Value, -84307, 30)
	found := false
	for _, p := range problems {
		found = found || p.Field == "resting" && p.Code == present.VacuumTooDeep
		if p.Code == present.LowAboveHigh && (p.Level != present.Asked || p.Suggest[0].Code != present.SwapSides) {
			t.Errorf("low above high: %+v", p)
		}
	}
	if !found || code(problems, "low") == "" {
		t.Errorf("problems %v", problems)
	}
	// Nothing typed is erased or changed by reading it.
	if string(text.portion(browser)) != string(j.portion(browser)) {
		t.Error("reading the job changed it")
	}
}

func TestAfterTheRepairFallsBackOnTheWeatherBefore(t *testing.T) {
	j := New(noon, unit.US())
	j.Before.SetText(present.Ambient, "95")
	j.Before.SetText(present.Humidity, "40")
	j.After.SetText(present.Humidity, "60")
	j.After.SetReading(car.Low, Reading{Text: "33"})
	j.Before.SetReading(car.Low, Reading{Text: "20"})
	c, problems := j.CaseAfter()
	near(t, "ambient", c.Weather.Ambient, 308.15, 1e-9)
	near(t, "humidity", c.Weather.Humidity, 0.6, 1e-12)
	near(t, "low", c.Readings[car.Low].Value, 227527, 1)
	for _, p := range problems {
		if !p.After {
			t.Errorf("%s is not marked as after", p.Field)
		}
	}
	if j.After.Text[present.Ambient] != "" {
		t.Error("the fallback was written into the job")
	}
}

func TestNumbersOfTheRepair(t *testing.T) {
	j := New(noon, unit.US())
	j.Before.SetText(present.Altitude, "5000")
	for _, c := range []struct {
		id   present.FieldID
		text string
		want float64
		tol  float64
		code string
	}{
		{present.MassOut, "1 lb 8 oz", 0.680389, 1e-6, ""},
		{present.VacuumReached, "500", 66.6612, 1e-4, ""}, // micron
		// 84 307 Pa at 5000 ft less 24 inHg, 81 273 Pa: 3034 Pa.
		{present.VacuumReached, "24 in", 3034, 30, ""},
		{present.VacuumReached, "28 in", 0, 0, present.VacuumTooDeep},
		{present.LeakMonths, "2 years", 24, 0, ""},
		{present.HoseLength, "6 ft", 1.8288, 1e-9, ""},
		{present.HoseBore, "1/4", 0, 0, present.UnknownUnit},
		{present.PumpTime, "45", 2700, 1e-9, ""},
	} {
		j.SetText(c.id, c.text)
		e, ok, p := j.Number(c.id)
		got := ""
		if p != nil {
			got = p.Code
		}
		if got != c.code || ok != (p == nil || p.Level != present.Refused) {
			t.Errorf("%s %q: %s, ok %v, want %s", c.id, c.text, got, ok, c.code)
		}
		near(t, c.text, e.Value, c.want, c.tol)
	}
	if _, ok, p := j.Number(present.MassIn); ok || p != nil {
		t.Error("an empty field is neither a number nor a problem")
	}
}

func TestHoldReadings(t *testing.T) {
	j := New(noon, unit.US())
	j.Repair.Hold = []HoldPoint{{"0", "500"}, {"", ""}, {"5 min", "29.5 in"}, {"10", "often"}, {"15", ""}}
	points, problems := j.HoldReadings()
	if len(points) != 2 || points[0].Coarse || !points[1].Coarse {
		t.Fatalf("points %+v", points)
	}
	near(t, "first", points[0].Pressure, 66.6612, 1e-4)
	// 101 325 Pa less 29.5 inHg, 99 898.5 Pa.
	near(t, "second", points[1].Pressure, 1426.5, 1)
	near(t, "second time", points[1].Time, 300, 1e-9)
	// Hundreds of microns of 0.1333 Pa, tenths of an inch of 3386 Pa.
	near(t, "first step", points[0].Step, 13.3322, 1e-3)
	near(t, "second step", points[1].Step, 338.639, 1e-2)
	// A needle gauge in bar reads below zero too: 0.95 bar below 101 325 Pa are 6325 Pa.
	j.Repair.Hold[1] = HoldPoint{"3", "-0.95 bar"}
	if points, _ = j.HoldReadings(); len(points) != 3 || !points[1].Coarse {
		t.Fatalf("a needle gauge in bar: %+v", points)
	}
	near(t, "in bar", points[1].Pressure, 6325, 1)
	near(t, "step in bar", points[1].Step, 1000, 1e-6)
	for _, text := range []string{"0.95 bar", "-0.95"} { // of which it is not clear what they are
		j.Repair.Hold[1].Pressure = text
		if points, _ = j.HoldReadings(); len(points) != 2 {
			t.Errorf("%q is taken for a vacuum: %+v", text, points)
		}
	}
	if len(problems) != 2 || code(problems[3], present.HoldPressure) != present.NotANumber || code(problems[4], present.HoldPressure) != present.Empty {
		t.Errorf("problems %v", problems)
	}
}

func TestUnitsChangeAndTheCarDoesNot(t *testing.T) {
	for _, j := range Examples(noon) {
		a, _ := j.Case()
		for _, u := range []unit.Units{unit.US(), unit.Metric()} {
			k := j.WithUnits(u)
			b, _ := k.Case()
			near(t, "ambient", b.Weather.Ambient, a.Weather.Ambient, 0.3) // half a °F
			for q, r := range a.Readings {
				tol := 3.5e3 // half a psi
				if r.Value < 1000 && q != car.Recovered {
					tol = 0.3
				}
				near(t, j.Example+" "+string(q), b.Readings[q].Value, r.Value, tol)
			}
			if back := k.WithUnits(j.Units); string(back.Before.Text[present.Ambient]) != j.Before.Text[present.Ambient] {
				t.Errorf("%s: ambient comes back as %s", j.Example, back.Before.Text[present.Ambient])
			}
		}
		if j.Units == unit.US() && j.Before.Readings[car.High].Text == "" && !j.Before.Readings[car.High].Swing {
			t.Errorf("%s: the original changed", j.Example)
		}
	}
}

// What was logged follows a change of units as any reading does: 30 psi are 2.07 bar, 50 °F
// are 10 °C.
func TestLogFollowsTheUnits(t *testing.T) {
	j := New(noon, unit.US())
	lines := []LogPoint{{Time: "3", Low: "30", High: "200", Vent: "50"}, {Time: "6", Low: "12 in"}}
	j.Before.Log.Points, j.After.Log.Points = lines, lines
	k := j.WithUnits(unit.Metric())
	for _, l := range []Log{k.Before.Log, k.After.Log} {
		read, _ := k.LogReadings(l)
		near(t, "low", read[0].Is[car.Low], 206.8e3, 3.5e3)
		near(t, "high", read[0].Is[car.High], 1379e3, 3.5e3)
		near(t, "vent", read[0].Is[car.Vent], 283.15, 0.3)
		near(t, "time", read[0].Time, 180, 0)
		near(t, "vacuum", read[1].Is[car.Low], -40.6e3, 3.5e3)
	}
	if back := k.WithUnits(j.Units); back.Before.Log.Points[0] != lines[0] || j.Before.Log.Points[0] != lines[0] {
		t.Errorf("there and back: %v, the original %v", back.Before.Log.Points[0], j.Before.Log.Points[0])
	}
}

// What hurts is said before anything is read, and only while it is so.
func TestWhatIsNotJudgedIsRefusedBeforeAnythingIsRead(t *testing.T) {
	j := New(noon, unit.Metric())
	if err := j.Refused(); err != nil || j.Shut() {
		t.Fatal(err)
	}
	for _, system := range car.Systems()[1:] {
		j.Car.System = system
		if j.Refused() == nil || !j.Shut() {
			t.Errorf("%s is judged", system)
		}
	}
	j.Car.System = ""
	if err := j.Refused(); err != nil {
		t.Error(err)
	}
}
