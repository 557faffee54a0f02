package explore

import (
	"math"
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// An answer of the model names every number it promises: no placeholder is left
// in any question, on either kind of units.
func TestAnswersOfTheModelAreComplete(t *testing.T) {
	s := page.New(present.English(), nil, job.Memory{})
	for _, u := range []unit.Units{unit.US(), unit.Metric()} {
		s.Job.Units = u
		p := &view{s: s}
		for _, q := range practice.Questions {
			var told []armAnswer
			for _, a := range practice.NewSettings().Arms(q) {
				moves, err := p.rig.Watch(a)
				told = append(told, armAnswer{a, moves, err})
			}
			if text := s.Words.Text("explore.ask."+string(q)+".answer", p.answerArgs(told)); strings.ContainsAny(text, "⟨⟩") {
				t.Errorf("%s: %s", q, text)
			}
		}
	}
}

// Over every dial at both ends, every question and every kind of car: a question is
// asked of a car with nothing wrong but the dial it turns, no sentence has a gap, and
// each says only what was seen.
func TestAnswersAreTrueWhateverIsSet(t *testing.T) {
	s := page.New(present.English(), nil, job.Memory{})
	p := &view{s: s}
	for _, compressor := range []car.Compressor{car.Fixed, car.Variable, car.Electric} {
		for i, d := range practice.Dials {
			for j, v := range []float64{d.Min, d.Max} {
				set := practice.NewSettings()
				set.Compressor = compressor
				set = set.With(d.Dial, v)
				for k, q := range practice.Questions {
					arms := set.Arms(q)
					for _, a := range arms {
						for _, o := range practice.Dials {
							if o.Fault && a.Car.At[o.Dial] != o.Rest {
								t.Errorf("%s with %s at %g: %s stands at %g", q, d.Dial, v, o.Dial, a.Car.At[o.Dial])
							}
						}
					}
					if d.Fault && (j > 0 || d.Dial != practice.Restriction) || testing.Short() && (i+j+k)%4 > 0 {
						continue // a fault that is set changes nothing; one is enough to see it
					}
					var told []armAnswer
					for _, a := range arms {
						moves, err := p.rig.Watch(a)
						if err != nil {
							t.Fatalf("%s with %s at %g: %v", q, d.Dial, v, err)
						}
						told = append(told, armAnswer{a, moves, err})
					}
					key := answerKey(q, told)
					text := s.Words.Text(key, p.answerArgs(told))
					if strings.ContainsAny(text, "⟨⟩") {
						t.Errorf("%s with %s at %g: %s", q, d.Dial, v, text)
					}
					if low := [2]practice.Move{lowSide(told[0]), lowSide(told[1])}; strings.HasPrefix(text, "By the low side") && low[0].To-low[0].From <= low[1].To-low[1].From {
						t.Errorf("%s with %s at %g: %s", q, d.Dial, v, text)
					}
				}
			}
		}
	}
}

// A day that warms up keeps its water. By hand: 50 % at 30 °C is 2.12 kPa of vapour;
// saturation at 40 °C is 7.38 kPa, which makes 28.7 % [HylandWexler1983]. With half
// the humidity at 40 °C the low side would rise by twice as much.
func TestAWarmerDayIsNotAWetterOne(t *testing.T) {
	var rig practice.Rig
	set := practice.NewSettings()
	moves, err := rig.Watch(set.Arms(practice.AskOutside)[0])
	if err != nil {
		t.Fatal(err)
	}
	hot := set.With(practice.Outside, set.At[practice.Outside]+10)
	hot.At[practice.Humidity] = 0.287
	want, err := rig.Solve(hot)
	if err != nil {
		t.Fatal(err)
	}
	if got := lowSide(armAnswer{moves: moves}).To; math.Abs(got-want.Low) > 1e3 { // 1 kPa: the humidity by hand has three digits
		t.Errorf("the low side goes to %.0f kPa, with the same water it is %.0f", got/1e3, want.Low/1e3)
	}
}

// The trail forgets its beginning, not its end, and does not grow at rest.
func TestTrail(t *testing.T) {
	var trail [][2]float64
	for i := range 3 * trailLength {
		at := [2]float64{200e3 + 2e3*float64(i), 1500e3}
		trail = follow(follow(trail, at), at)
	}
	if trail[0][0] != 200e3+2e3*float64(2*trailLength) {
		t.Errorf("the trail begins at %v", trail[0])
	}
	if len(trail) != trailLength || trail[trailLength-1][0] != 200e3+2e3*float64(3*trailLength-1) {
		t.Errorf("%d places, the last %v", len(trail), trail[len(trail)-1])
	}
}
