package service

import (
	"math"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// thumb compares the rule of thumb with the saturation pressure sat (Pa gauge) at T.
func thumb(T, sat float64) *Thumb {
	p := ((T-273.15)*1.8 + 32) * psi // common practice
	t := &Thumb{Rule: Rule{"psi_as_fahrenheit", p, p, CommonPractice, ""}}
	off := p - sat
	t.Error = refrig.Gauge(off)
	t.Good = off <= ThumbGood && off >= -ThumbGood
	return t
}

// ThumbSpan returns the temperatures in K between which the rule of thumb comes
// within [ThumbGood] of saturation of the refrigerant at sea level. For R-134a that is
// −16 to 25 °C (3 to 77 °F), cooler than its reputation of 70–90 °F: at 90 °F the rule
// is 14 psi low, and who trusts it takes a good system for one with air in it.
func ThumbSpan(refrigerant string) (lo, hi float64, err error) {
	for f := -10.0; f <= 140; f += 0.5 {
		T := fahrenheit(f)
		_, s, err := boiling(refrigerant, T)
		if err != nil {
			return 0, 0, err
		}
		if thumb(T, s.P-101325).Good {
			if lo == 0 {
				lo = T
			}
			hi = T
		}
	}
	return lo, hi, nil
}

// tankTestR134a are the printed limits, °F and psi gauge (MEMORY of [SAEJ2211]).
var tankTestR134a = [][2]float64{{65, 69}, {70, 76}, {80, 91}, {90, 109}, {100, 129}, {110, 152}}

// tankTest returns the pressure above which a published test calls a recycling tank
// of id contaminated with air at T (K), by straight lines between its rows: a car is
// not a tank, but air in it shows the same way. ok is false outside the table; of the
// R-12 test only the example at 70 °F was read.
func tankTest(id string, T float64) (limit Rule, ok bool) {
	f := math.Round(((T-273.15)*1.8+32)*100) / 100 // so that a printed 65 °F is in the table
	switch id {
	case car.R134a:
		rows := tankTestR134a
		for i := 1; i < len(rows); i++ {
			a, b := rows[i-1], rows[i]
			if f >= a[0] && f <= b[0] {
				p := (a[1] + (f-a[0])/(b[0]-a[0])*(b[1]-a[1])) * psi
				return Rule{"tank_test", p, p, Published, "SAEJ2211"}, true
			}
		}
	case car.R12:
		if f >= 69 && f <= 71 {
			return Rule{"tank_test", 80 * psi, 80 * psi, Published, "SAEJ1989"}, true
		}
	}
	return Rule{}, false
}
