package job

import (
	"math"
	"testing"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// What goes along with a job is the visit that the answer took, to five digits: of
// everything that the model looks at.
func TestAVisitGoesAlong(t *testing.T) {
	j := full(t)
	j.Before.Engine = EngineOn
	j.Before.SetText(present.Ambient, "84")
	j.Before.SetReading(car.Low, Reading{Text: "32"})
	j.Before.SetReading(car.High, Reading{Text: "205.4"})
	j.Before.SetReading(car.Vent, Reading{Text: "45"})
	j.Before.SetReading(car.Recovered, Reading{Text: "1"})
	j.Before.SetReading(car.LiquidLine, Reading{Text: "100"})
	for _, known := range []string{"1", ""} {
		for _, id := range []present.FieldID{present.Humidity, present.EngineSpeed, present.Altitude, present.Blower} {
			j.Before.SetText(id, map[present.FieldID]string{present.EngineSpeed: "1800", present.Blower: "70"}[id])
			if id == present.Humidity || id == present.Altitude {
				j.Before.SetText(id, known)
			}
			if known == "" {
				j.Before.SetText(id, "")
			}
		}
		v := j.SoundVisits()[0].Is
		v.Months, v.Charge = 14.02, 1.03
		got := PastOf(v).visit()
		want := v
		want.Readings = car.Readings{}
		for q, r := range v.Readings.Steadied() {
			if r.Choice == "" && !r.Swing {
				want.Readings[q] = car.Reading{Value: r.Value}
			}
		}
		if len(want.Readings) < 4 || len(got.Readings) != len(want.Readings) {
			t.Fatalf("readings %v, want %v", got.Readings, want.Readings)
		}
		for q, r := range want.Readings {
			if math.Abs(got.Readings[q].Value-r.Value) > 1e-4*math.Abs(r.Value) {
				t.Errorf("%s: %g, want %g", q, got.Readings[q].Value, r.Value)
			}
		}
		got.Readings, want.Readings = nil, nil
		for _, x := range []struct{ got, want *float64 }{
			{&got.Weather.Ambient, &want.Weather.Ambient}, {&got.Weather.Humidity, &want.Weather.Humidity},
			{&got.Running.Blower, &want.Running.Blower}, {&got.Weather.Altitude, &want.Weather.Altitude}, {&got.Rest.Temperature, &want.Rest.Temperature},
		} {
			if math.Abs(*x.got-*x.want) <= 1e-4*math.Abs(*x.want) {
				*x.got = *x.want
			}
		}
		if g, w := got, want; g.Weather != w.Weather || g.Running != w.Running || g.Rest != w.Rest || g.Months != w.Months || g.Charge != w.Charge || g.Refrigerant != w.Refrigerant {
			t.Errorf("%+v\nwant %+v", got, want)
		}
	}
}

// A job from outside may claim any past: what no list holds is dropped and counted, and
// what is shown of it is finite.
func TestAnyPastIsCleaned(t *testing.T) {
	b := []byte(`{"format":"twoneedles-job","version":2,"leftOut":["past.0","past.0","../x","past.1234"],"past":[
		{"months":1e300,"refrigerant":"R999","doors":"ajar","air":{"ambient":-4,"moon":1},"readings":{"low":1e308,"smell":3}},
		{"months":-5},{},{},{},{},{},{},{},{},{},{},{},{}]}`)
	j, warn, err := Restore(b)
	if err != nil || len(warn) == 0 {
		t.Fatal(warn, err)
	}
	if len(j.Past) > car.MostEarlier || j.Past[0].Refrigerant != "" || j.Past[0].Doors != "" || len(j.Past[0].Air) != 1 || len(j.Past[0].Readings) != 1 {
		t.Errorf("%+v", j.Past)
	}
	if len(j.LeftOut) != 1 {
		t.Errorf("left out %q", j.LeftOut)
	}
	j.Units = unit.US()
	for _, v := range j.Earlier(nil) {
		if v.Name == "" || v.At.Year() > 2300 {
			t.Errorf("%+v", v)
		}
	}
}
