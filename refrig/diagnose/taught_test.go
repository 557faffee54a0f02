package diagnose

import (
	"math"
	"reflect"
	"testing"

	"twoneedles/refrig/car"
)

// What files of confirmed jobs taught the build and what a shop learns come one upon the
// other: a build that was taught the first answers with the second as one that learnt both
// by itself, and what a shop would still learn there is the rest.
func TestTheBuildsLessonsAndAShopsAddUp(t *testing.T) {
	plain, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	short := car.Index(car.Undercharge)
	twice := make([]float64, len(conditions))
	for i := range twice {
		twice[i] = 1
	}
	twice[short] = 2
	build, own := Lessons{Jobs: 200, Odds: twice, Low: 1, High: -2, Vent: 0.5, Sharp: 0.9}, Lessons{Jobs: 40, Low: 0.5, High: -1, Vent: 1}
	taught := plain.with(build, Lessons{})
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a}, Weather: car.Weather{Ambient: 305, Humidity: 0.5, HumidityKnown: true}, Running: car.Running{RPM: 1500, Blower: 1},
		Readings: car.Readings{car.Low: {Value: 150e3}, car.High: {Value: 1300e3}, car.Vent: {Value: 283}}}

	both, err := taught.With(own)
	if err != nil {
		t.Fatal(err)
	}
	alone, err := plain.With(Lessons{Odds: twice, Low: 1.5, High: -3, Vent: 1.5, Sharp: 0.9})
	if err != nil {
		t.Fatal(err)
	}
	first, err := plain.Answer(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range []*Model{both, alone, taught.Untaught()} {
		r, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		if same := reflect.DeepEqual(r.Ranking, first.Ranking); same != (m != both && m != alone) {
			t.Errorf("as without lessons: %v", same)
		}
	}
	a, errA := both.Answer(c)
	b, errB := alone.Answer(c)
	if errA != nil || errB != nil || !reflect.DeepEqual(a.Ranking, b.Ranking) {
		t.Errorf("one upon the other %v, together %v, %v, %v", a.Ranking[0], b.Ranking[0], errA, errB)
	}

	before, errA := plain.Gaps(c)
	after, errB := taught.Gaps(c)
	for i, by := range []float64{1, -2, 0.5} {
		if d := before[i].By - after[i].By; errA != nil || errB != nil || math.Abs(d-by) > 1e-9 {
			t.Errorf("reading %d: %.3f K less is left to learn, want %g; %v, %v", i, d, by, errA, errB)
		}
	}
	p, q := plain.Shares(), taught.Shares()
	ratio := q[short] / q[0] / (p[short] / p[0])
	sum := 0.0
	for _, x := range q {
		sum += x
	}
	if short == 0 || math.Abs(ratio-2) > 1e-9 || math.Abs(sum-1) > 1e-9 {
		t.Errorf("the odds of a shortage are %.3f times those of the survey, want 2; the shares add up to %.3f", ratio, sum)
	}
}
