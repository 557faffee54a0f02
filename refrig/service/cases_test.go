package service_test

import (
	"bufio"
	"os"
	"strconv"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
)

// published reads the "key: value" lines of a published case.
func published(t *testing.T, id string) map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/cases/service_" + id + ".txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	m := map[string]string{}
	for s := bufio.NewScanner(f); s.Scan(); {
		if k, v, ok := strings.Cut(s.Text(), ": "); ok {
			m[k] = v
		}
	}
	return m
}

func number(t *testing.T, m map[string]string, key string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(m[key], 64)
	if err != nil {
		t.Fatalf("%s: %v", key, err)
	}
	return v
}

// TestPublishedHoldTests: a climb just inside the published limit passes the criterion of
// that source, one just outside fails it. Sources print 2 inHg as 7 kPa, hence 5 %. (C077
// shares its limit with C076 and differs in pump time; C079 names no limit.)
func TestPublishedHoldTests(t *testing.T) {
	for _, id := range []string{"C076", "C078"} {
		m := published(t, id)
		seconds, rise := number(t, m, "hold_time_s"), 1000*number(t, m, "rise_kPa_max")
		for factor, want := range map[float64]string{0.95: "passes", 1.05: "fails"} {
			var points []service.HoldPoint
			for i := range 6 {
				x := float64(i) / 5
				points = append(points, service.HoldPoint{Time: x * seconds, Pressure: refrig.Pressure(2000 + x*factor*rise)})
			}
			found := false
			for _, c := range hold(t, points, 1).Criteria {
				if c.Criterion.Ref == m["cites"] {
					found = true
					if c.Outcome != want {
						t.Errorf("%s, %v of its limit: %s, want %s", id, factor, c.Outcome, want)
					}
				}
			}
			if !found {
				t.Errorf("%s: no criterion cites %s", id, m["cites"])
			}
		}
	}
	long := published(t, "C077")
	found := false
	for _, p := range service.PumpTimes() {
		found = found || p.Ref == long["cites"] && p.Lo == number(t, long, "pump_time_s_min")
	}
	if !found {
		t.Error("C077: its pump time is not among ours")
	}
}

// TestPublishedTankTest: C074, the R-12 example; its 552 kPa are 80 psi rounded.
func TestPublishedTankTest(t *testing.T) {
	m := published(t, "C074")
	limit := 1000 * number(t, m, "container_kPa_gauge_max")
	r := atRest(t, exact(car.R12, limit+1000, refrig.Celsius(number(t, m, "ambient_C"))))
	if r.TankTest == nil {
		t.Fatal("no tank test")
	}
	near(t, "limit, Pa", r.TankTest.Hi, limit, 500)
}

// BenchmarkHold is the cost of a keystroke in the hold test: 21 readings, all curves.
func BenchmarkHold(b *testing.B) {
	in := service.HoldInput{Sigma: service.SigmaElectronic, Ambient: 293.15}
	for i := range 21 {
		x := float64(i)
		in.Points = append(in.Points, service.HoldPoint{Time: 60 * x, Pressure: refrig.Pressure(100 + 2000*x/(3+x))})
	}
	for b.Loop() {
		if _, err := service.Hold(in); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkAtRest is the cost of a keystroke in the check at rest.
func BenchmarkAtRest(b *testing.B) {
	in := exact(car.R134a, 80*psi, fahrenheit(70))
	for b.Loop() {
		if _, err := service.AtRest(in); err != nil {
			b.Fatal(err)
		}
	}
}
