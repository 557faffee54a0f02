package service_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// Both ways against the saturation tables of testdata/eos, which CoolProp 8.0.0 made.
func TestSaturationIsTheReferenceTables(t *testing.T) {
	const why = "a tenth of what a digital thermometer or a 1 psi gauge shows"
	const atm = 101325 // Pa: the standard atmosphere at sea level
	for _, id := range []string{"R134a", "R1234yf", "R12"} {
		s, err := service.NewSaturation(id, 0)
		if err != nil {
			t.Fatal(err)
		}
		seen := 0
		for _, row := range reftest.ReadTable(t, "eos/sat_"+id+".csv").Rows() {
			T, p := row.Num("T_K"), row.Num("p_Pa")
			if T < 233.15 || T > 358.15 { // what a car's gauges meet
				continue
			}
			seen++
			got, err := s.Temperature(refrig.Gauge(p - atm))
			if err != nil {
				t.Errorf("%s: %v", row, err)
			}
			reftest.Close(t, id+" temperature", float64(got), T, 0.01, why)
			back, err := s.Gauge(refrig.Temperature(T))
			if err != nil {
				t.Errorf("%s: %v", row, err)
			}
			reftest.Close(t, id+" pressure", float64(back), p-atm, 0.1*unit.PaPerPSI, why)
		}
		if seen < 15 {
			t.Errorf("%s: only %d rows of its table were held against", id, seen)
		}
	}
}

// The same needle on a mountain is a lower pressure. The air at 2000 m has 79.50 kPa
// by the standard atmosphere [ISO2533], 21.83 kPa less than at the sea.
func TestSaturationKnowsTheAltitude(t *testing.T) {
	sea, err := service.NewSaturation("R134a", 0)
	if err != nil {
		t.Fatal(err)
	}
	high, err := service.NewSaturation("R134a", 2000)
	if err != nil {
		t.Fatal(err)
	}
	a, _ := sea.Temperature(200e3)
	b, _ := high.Temperature(200e3 + 21.83e3)
	reftest.Close(t, "temperature on the mountain", float64(b), float64(a), 0.01, "the table gives the air to four digits")
}

// What has no answer is refused, never clamped to one.
func TestSaturationEndsWhereTheTableEnds(t *testing.T) {
	s, err := service.NewSaturation("", 0)
	if err != nil {
		t.Fatal(err)
	}
	lo, hi := s.Limits()
	var re *refrig.RangeError
	for _, g := range []refrig.Gauge{lo - 1, hi + 1, refrig.Gauge(math.NaN()), refrig.Gauge(math.Inf(1))} {
		if T, err := s.Temperature(g); !errors.As(err, &re) {
			t.Errorf("at %g Pa it says %g K, %v", g, T, err)
		}
	}
	for _, T := range []refrig.Temperature{0, 374.3, refrig.Temperature(math.NaN())} { // R-134a is critical at 374.21 K [TillnerRoth1994]
		if g, err := s.Gauge(T); !errors.As(err, &re) {
			t.Errorf("at %g K it says %g Pa, %v", T, g, err)
		}
	}
	for _, bad := range []struct {
		id       string
		altitude float64
	}{{"R999", 0}, {"R134a", 1e9}, {"R134a", math.NaN()}} {
		if _, err := service.NewSaturation(bad.id, bad.altitude); err == nil {
			t.Errorf("%s at %g m is taken", bad.id, bad.altitude)
		}
	}
}
