//go:build !js

package diagnose

import (
	"math"
	"reflect"
	"slices"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// metTwice draws cars with earlier visits.
func metTwice(t testing.TB, n int, seed uint64) []sim.Pair {
	t.Helper()
	w := sim.World{Mixed: true, Flatten: 0.5}
	r := fleet.NewRand(seed)
	var out []sim.Pair
	for len(out) < n {
		if k, err := w.DrawPair(r); err == nil {
			out = append(out, k)
		}
	}
	return out
}

// Varying inputs step by step must equal asking anew, visits and all: a reading hidden
// is a case without it. 1e-4: float32 sums in another order.
func TestVariationsRememberToo(t *testing.T) {
	m := model(t)
	compared := 0
	for _, k := range metTwice(t, 12, 3) {
		a, err := m.Ask(k.Case)
		if err != nil {
			t.Fatal(err)
		}
		for q := range a.c.Readings {
			c := k.Case
			c.Readings = car.Readings{}
			for other, r := range k.Case.Readings {
				if other != q {
					c.Readings[other] = r
				}
			}
			b, err := m.Ask(c)
			if err != nil {
				t.Fatal(err)
			}
			for i, p := range a.without(q) {
				if math.Abs(p-b.p[i]) > 1e-4 {
					t.Errorf("without %s: %s %.5f, asked anew %.5f", q, conditions[i], p, b.p[i])
				}
			}
			compared++
		}
	}
	if compared < 50 {
		t.Errorf("only %d compared", compared)
	}
}

// What is told claims less than what the network found, keeps its order, and adds up to one.
func TestToldWithCaution(t *testing.T) {
	m := model(t)
	for _, k := range metTwice(t, 20, 9) {
		k.Case.Earlier = nil
		a, err := m.Ask(k.Case)
		if err != nil {
			t.Fatal(err)
		}
		found, _, _ := m.odds(m.nets.Posterior.Eval(a.x, &a.s))
		sum := 0.0
		for i := range found {
			sum += a.p[i]
			if want := math.Pow(found[i]/found[0], Sharpness); math.Abs(a.p[i]/a.p[0]-want) > 1e-9*want {
				t.Errorf("%s: %.4g times as likely as healthy is told, %.4g was found", conditions[i], a.p[i]/a.p[0], found[i]/found[0])
			}
		}
		if math.Abs(sum-1) > 1e-12 || slices.Max(a.p) >= slices.Max(found) {
			t.Errorf("adds up to %g; the most likely was found %.3f and told %.3f", sum, slices.Max(found), slices.Max(a.p))
		}
	}
}

// Without earlier visits the answer is the one of the other networks to the last bit;
// with them it is still a distribution, and the order of the visits does not matter.
func TestMemoryIsAnAddition(t *testing.T) {
	m := model(t)
	changed := 0
	for _, k := range metTwice(t, 30, 4) {
		without := k.Case
		without.Earlier = nil
		plain, err := m.Ask(without)
		if err != nil {
			t.Fatal(err)
		}
		p, _, _ := m.odds(m.nets.Posterior.Eval(plain.x, &plain.s))
		if !reflect.DeepEqual(plain.p, released(p)) || plain.Answer().Memory != nil {
			t.Fatal("a car met once is answered otherwise than by the posterior network")
		}
		a, err := m.Ask(k.Case)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.0
		for _, v := range a.p {
			if !(v >= 0 && v <= 1) {
				t.Fatalf("probability %g", v)
			}
			sum += v
		}
		if math.Abs(sum-1) > 1e-9 { // a sum of 22 numbers in double precision
			t.Errorf("probabilities sum to %g", sum)
		}
		if !reflect.DeepEqual(a.p, plain.p) {
			changed++
		}
		r := a.Answer()
		if r.Memory == nil || !reflect.DeepEqual(r.Memory.Alone, plain.rank().Ranking) {
			t.Error("the report does not hold the answer without the visits")
		}
		if n := len(k.Case.Earlier); n > 1 {
			back := k.Case
			back.Earlier = append([]car.Visit(nil), k.Case.Earlier...)
			back.Earlier[0], back.Earlier[n-1] = back.Earlier[n-1], back.Earlier[0]
			b, err := m.Ask(back)
			if err != nil {
				t.Fatal(err)
			}
			for i := range a.p {
				if math.Abs(a.p[i]-b.p[i]) > 1e-5 { // float32 sums in another order
					t.Errorf("%s: %g, %g with the visits in another order", conditions[i], a.p[i], b.p[i])
				}
			}
		}
	}
	if changed < 25 {
		t.Errorf("earlier visits changed only %d of 30 answers", changed)
	}
}

// The band of this car must hold the cars it is made for: sound cars met again, drawn
// afresh. What stands in a 90 % region is checked by each needle's middle 90 %, read with
// the gauges of today, whose errors the band leaves out: so fewer than nine in ten may lie
// in it. A gauge errs by 8 kPa (20 % of them by 32), the band is some 60 kPa wide: at
// least 0.78 is asked, at most 0.97; the standard error of 300 cars is 0.02. And it is
// narrower than the kind's by a fifth at least, or it would be no news.
func TestOwnBandHoldsTheCar(t *testing.T) {
	m := model(t)
	w := sim.World{Mixed: true}
	r := fleet.NewRand(21)
	var in [2]float64
	var n, width, kind [2]float64
	for n[0] < 300 {
		k, err := w.DrawPairAs(r, sim.NotWrong)
		if err != nil || k.Truth.Cause != car.Healthy {
			continue
		}
		a, err := m.Ask(k.Case)
		if err != nil {
			t.Fatal(err)
		}
		low, high := a.bands()
		for _, q := range a.Answer().Memory.Readings {
			i := q.Quantity.Place()
			if i > 1 || !q.Read {
				continue
			}
			n[i]++
			if q.Place == 0 {
				in[i]++
			}
			of := [2]Band{low, high}[i]
			width[i] += q.Expected.P95 - q.Expected.P05
			kind[i] += of.P95 - of.P05
		}
	}
	for i, q := range []car.Quantity{car.Low, car.High} {
		if share := in[i] / n[i]; share < 0.78 || share > 0.97 {
			t.Errorf("%s: %.2f of sound cars lie inside their own middle 90 %%", q, share)
		}
		if width[i] > 0.8*kind[i] {
			t.Errorf("%s: the own band is %.2f times as wide as the kind's", q, width[i]/kind[i])
		}
	}
}

// The region of one car lies round its expected needles and inside what it was told: a
// visit that stood high moves it up. Exact algebra of a normal model for one needle:
// with S of variance V shared, n visits of mean score z give mean S/(S+(V−S)/n) z.
func TestNeedlesOfOneCar(t *testing.T) {
	k := nets.Kept{Variance: []float64{1, 1}, Shared: []float64{0.6, 0.5}}
	got := needlesToday(&k, []float64{1.5, -1}, []float64{1, 1}, 0)
	want := [2]float64{0.6 * 1.5, -0.5}
	for i := range want {
		if math.Abs(got.mean[i]-want[i]) > 1e-12 {
			t.Errorf("mean %g, want %g", got.mean[i], want[i])
		}
	}
	if math.Abs(got.sd[0]*got.sd[0]-(1-0.36)) > 1e-12 || got.rho != 0 {
		t.Errorf("spread %+v", got)
	}
	got = needlesToday(&k, []float64{1.5, 0}, []float64{3, 0}, 0)
	if w := 0.6 / (0.6 + 0.4/3) * 1.5; math.Abs(got.mean[0]-w) > 1e-12 || math.Abs(got.mean[1]) > 1e-5 || math.Abs(got.sd[1]-1) > 1e-5 {
		t.Errorf("one needle thrice, the other never: %+v, want a mean of %g", got, w)
	}
}

// An earlier visit of a sound car and the weather alone must already make a region of
// its own; a visit without a needle makes none.
func TestPlaneOfOneCar(t *testing.T) {
	m := model(t)
	c := warmDay(200e3, 1500e3)
	plain, err := m.Plane(c, nil)
	if err != nil || plain.Own != nil {
		t.Fatal("a region of its own for a car met once", err)
	}
	v := soundVisit()
	v.Readings = car.Readings{car.Low: {Value: 320e3}, car.High: {Value: 1900e3}}
	c.Earlier, c.Readings = []car.Visit{v}, nil
	p, err := m.Plane(c, nil)
	if err != nil || len(p.Own) != 2 {
		t.Fatal(len(p.Own), err)
	}
	if !(p.OwnCentre[0] > p.Centre[0] && p.OwnCentre[0] < 320e3) {
		t.Errorf("low side of its own %.0f, of the kind %.0f, read then 320000", p.OwnCentre[0], p.Centre[0])
	}
	v.Readings = car.Readings{car.Low: {Value: 320e3}}
	c.Earlier = []car.Visit{v}
	if p, err = m.Plane(c, nil); err != nil || p.Own != nil {
		t.Error("a region from one needle", err)
	}
}

func BenchmarkDiagnoseWithMemory(b *testing.B) {
	m := model(b)
	c := warmDay(200e3, 1500e3)
	c.Earlier = []car.Visit{soundVisit()}
	for b.Loop() {
		if _, err := m.Diagnose(c); err != nil {
			b.Fatal(err)
		}
	}
}
