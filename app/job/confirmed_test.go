package job

import (
	"math"
	"strings"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/learn"
	"twoneedles/refrig/unit"
)

// What the page writes is what refrig/learn reads: every condition, swings, what is not
// known, a car read again after its repair. Nothing of a person goes along.
func TestLearnReadsWhatIsWritten(t *testing.T) {
	var cases []ConfirmedCase
	found := map[car.ConditionID]int{}
	for i, id := range car.Conditions() {
		j := New(time.Date(2026, 3, 1+i%28, 12, 0, 0, 0, time.UTC), unit.US())
		j.Title, j.OfCar, j.Plate, j.Notes, j.Shop = "Grey wagon", "our wagon", "INV 1", "call, \"at five\"", "Example Garage"
		j.Car = Car{Refrigerant: "R134a", Metering: "orifice_tube", Compressor: "fixed"}
		j.Before.SetText(present.Ambient, "84")
		j.Before.SetReading(car.Low, Reading{Text: []string{"28", "31", "more than 120"}[i%3]})
		j.Before.SetReading(car.High, Reading{Swing: i%2 == 0, Lo: "180", Hi: "240", Text: "2" + string(rune('0'+i%10)) + "0"})
		if i%3 == 0 {
			j.Before.SetText(present.Humidity, "40")
			j.Before.SetText(present.EngineSpeed, "1500")
			j.Before.SetText(present.Altitude, "1000")
			j.Before.SetReading(car.Vent, Reading{Swing: true, Lo: "45", Hi: "52"})
		}
		if j.Repair.Cause = string(id); len(j.Confirmed()) != 0 {
			t.Error("a cause is a confirmed one before it was confirmed")
		}
		j.Repair.FoundAt = j.Created
		if i%4 == 0 {
			j.After.Sound = true
			j.After.SetReading(car.Low, Reading{Text: "3" + string(rune('0'+i%10))})
			j.After.SetReading(car.Vent, Reading{Text: "45"})
		}
		for _, k := range j.Confirmed() {
			cases = append(cases, k)
			found[k.Found]++
		}
	}
	text := ConfirmedCSV(cases)
	for _, private := range []string{"wagon", "INV", "call", "Garage", "2026-03-0"} {
		if strings.Contains(text, private) {
			t.Errorf("the file holds %q", private)
		}
	}
	jobs, refused, err := learn.NewReader().Read("ours", strings.NewReader(text))
	if err != nil || len(refused) > 0 || len(jobs) != len(cases) {
		t.Fatalf("%d of %d read: %v %v\n%s", len(jobs), len(cases), err, refused, text)
	}
	for i, j := range jobs {
		want := cases[i]
		if j.Found != want.Found || j.After != want.After || math.Abs(j.Case.Weather.Ambient-want.Of.Weather.Ambient) > 0.06 {
			t.Errorf("line %d: %+v, want %+v", i, j, want)
		}
		for _, q := range []car.Quantity{car.Low, car.High} {
			got, had := j.Case.Readings[q], want.Of.Readings[q]
			if !had.AtLeast && (math.Abs(got.Value-had.Value) > 60 || got.Swing != had.Swing) {
				t.Errorf("line %d: %s %+v, want %+v", i, q, got, had)
			}
		}
	}
}
