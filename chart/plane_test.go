package chart

import (
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/unit"
)

// Whether the widest region holds a reading, against the angle its outline turns
// round it: a whole turn inside, none outside (winding number).
func TestPairIsHeldByTheRegion(t *testing.T) {
	v := planeView{plane: SamplePlane()}
	low, high, _ := v.healthy()
	seen := map[bool]int{}
	for i := range 21 {
		for j := range 21 {
			x := low.Lo + low.Size()*(float64(i)+0.37)/21
			y := high.Lo + high.Size()*(float64(j)+0.41)/21
			turn := 0.0
			out := v.plane.Regions[0].Outline
			for k, a := range out {
				b := out[(k+1)%len(out)]
				// One side is in kPa, the other in MPa: in shares of the region.
				d := math.Atan2((b[1]-y)/high.Size(), (b[0]-x)/low.Size()) - math.Atan2((a[1]-y)/high.Size(), (a[0]-x)/low.Size())
				turn += math.Remainder(d, 2*math.Pi)
			}
			want := math.Abs(turn) > math.Pi
			if got := holds(v.plane.Regions[0], Reading{Low: Steady(x, 0), High: Steady(y, 0)}); got != want {
				t.Errorf("(%.0f, %.0f) kPa: held %v, want %v", x/1e3, y/1e3, got, want)
			}
			seen[want]++
		}
	}
	if seen[true] < 50 || seen[false] < 50 {
		t.Errorf("seen %v", seen)
	}
}

// A picture of one reading alone is at least so wide that the error of its gauges is
// a quarter of it: 1.6 % of a scale of 1 MPa and of 3.5 MPa, either way [EN837].
func TestNoiseOfANeedleDoesNotFillThePicture(t *testing.T) {
	v := planeView{now: Reading{Low: Steady(220e3, 0), High: Steady(1.5e6, 0)}}
	for _, u := range []unit.Units{unit.US(), unit.Metric()} {
		o := SampleOptions("p", u)
		low, high := v.limits(&o, nil)
		if low.Size() < 4*0.016*1e6 || high.Size() < 4*0.016*3.5e6 {
			t.Errorf("axes of %.0f and %.0f kPa", low.Size()/1e3, high.Size()/1e3)
		}
	}
}

// The rows of the odds are the whole ranking: what is not named is summed.
func TestRestOfTheRankingIsItsSum(t *testing.T) {
	ranking := []diagnose.Ranked{{ID: car.Undercharge, Probability: .4}, {ID: car.Air, Probability: .2}, {ID: car.Healthy, Probability: .1},
		{ID: car.Moisture, Probability: .1}, {ID: car.Slipping, Probability: .08}, {ID: car.Gauge, Probability: .07}, {ID: car.Empty, Probability: .05}}
	o := SampleOptions("odds", unit.US())
	rows := oddsRows(ranking, &o)
	sum := 0.0
	for _, r := range rows {
		sum += r.p
	}
	reftest.Close(t, "sum of the rows", sum, 1, 1e-12, "rounding")
	if last := rows[len(rows)-1]; !last.rest || math.Abs(last.p-.12) > 1e-12 {
		t.Errorf("the rest is %+v", last)
	}
}
