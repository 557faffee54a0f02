package present

import (
	"math"
	"strconv"
	"strings"
	"testing"
	"unicode"

	"twoneedles/refrig/unit"
)

func formatFixed(x float64, d int) string { return strconv.FormatFloat(x, 'f', d, 64) }

// trimmed is s without zeros after the point.
func trimmed(s string) string {
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	return s
}

// Rounding by hand: instruments are read to about a psi, 5 kPa, a hundredth of a
// bar on a small dial, a degree Fahrenheit, half a degree Celsius.
func TestNumbersAreShownAsInstrumentsAreRead(t *testing.T) {
	us, metric := Voice{English(), unit.US()}, Voice{English(), unit.Metric()}
	kpaUnits := unit.Metric()
	kpaUnits.Pressure = unit.KPa
	kpa := Voice{English(), kpaUnits}
	for _, c := range []struct{ got, want string }{
		{us.Quantity(193053, unit.GaugePressure), "28 psi"},
		{us.Quantity(0, unit.GaugePressure), "0 psi"},
		{us.Quantity(-200, unit.GaugePressure), "0 psi"}, // a tenth of an inch is nothing
		{us.Quantity(-40637, unit.GaugePressure), "12 inHg vacuum"},
		{us.Quantity(-8466, unit.GaugePressure), "2.5 inHg vacuum"},
		{metric.Quantity(193053, unit.GaugePressure), "1.93 bar"},
		{metric.Quantity(190000, unit.GaugePressure), "1.90 bar"},
		{metric.Quantity(1516847, unit.GaugePressure), "15.2 bar"},
		{metric.Quantity(-40637, unit.GaugePressure), "−0.41 bar"},
		{metric.Quantity(-200, unit.GaugePressure), "0.00 bar"},
		{kpa.Quantity(193053, unit.GaugePressure), "195 kPa"},
		{kpa.Quantity(1516847, unit.GaugePressure), "1515 kPa"},
		{us.Quantity(308.15, unit.Temperature), "95 °F"},
		{metric.Quantity(308.15, unit.Temperature), "35 °C"},
		{metric.Quantity(280.9, unit.Temperature), "8 °C"},
		{metric.Quantity(280.6, unit.Temperature), "7.5 °C"},
		{metric.Quantity(268.15, unit.Temperature), "−5 °C"},
		{metric.Quantity(273.0, unit.Temperature), "0 °C"}, // no minus zero
		{us.Quantity(10, unit.TempDiff), "18 °F"},
		{metric.Quantity(10, unit.TempDiff), "10 °C"},
		{us.Quantity(0.680389, unit.Mass), "1 lb 8 oz"},
		{us.Quantity(0.4, unit.Mass), "14.1 oz"},
		{metric.Quantity(0.6804, unit.Mass), "680 g"},
		{us.Quantity(6e-5, unit.Volume), "2 fl oz"},
		{metric.Quantity(6e-5, unit.Volume), "60 ml"},
		{us.Quantity(1524, unit.Length), "5000 ft"},
		{metric.Quantity(1524, unit.Length), "1524 m"},
		{us.Quantity(0.453, unit.Fraction), "45 %"},
		{us.Quantity(1504, unit.Speed), "1500 rpm"},
		{us.Quantity(3.26, unit.Rate), "3.3 per minute"},
		{us.Quantity(66.6612, unit.AbsolutePressure), "500 micron"},
		{us.Quantity(45, unit.Duration), "45 s"},
		{us.Quantity(150, unit.Duration), "2 min 30 s"},
		{us.Quantity(2700, unit.Duration), "45 min"},
		{us.Quantity(9000, unit.Duration), "2 h 30 min"},
		{us.Quantity(math.NaN(), unit.Temperature), "–"},
		{us.Quantity(math.Inf(1), unit.GaugePressure), "–"},
		{us.Range(172369, 234422, unit.GaugePressure), "25–34 psi"},
		{metric.Range(172369, 234422, unit.GaugePressure), "1.72–2.34 bar"},
		{metric.Range(263.15, 278.15, unit.Temperature), "−10 to 5 °C"},
		{us.Range(-16932, 137895, unit.GaugePressure), "5 inHg vacuum to 20 psi"},
		{us.Range(0.5, 0.6, unit.Mass), "1 lb 1.6 oz to 1 lb 5.2 oz"},
		{us.Entry(Entry{Value: 3447379, AtLeast: true}, unit.GaugePressure), "more than 500 psi"},
		{us.Entry(Entry{Value: 34474, AtMost: true}, unit.GaugePressure), "less than 5 psi"},
		{us.Entry(Entry{Value: 230974, Lo: 151685, Hi: 310264, Swing: true}, unit.GaugePressure), "22–45 psi"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}

func TestNumberAndUnitComeApart(t *testing.T) {
	num, unit := Voice{English(), unit.US()}.Number(193053, unit.GaugePressure)
	if num != "28" || unit != "psi" {
		t.Errorf("got %q %q", num, unit)
	}
}

// A probability is said in words, never to a decimal, and a larger one never
// sounds smaller.
func TestChanceInWords(t *testing.T) {
	for _, c := range []struct {
		p    float64
		want string
	}{
		{0, "very unlikely (less than 1 in 100)"},
		{0.009, "very unlikely (less than 1 in 100)"},
		{0.03, "unlikely (less than 1 in 20)"},
		{0.0501, "about 1 in 20"},
		{0.1, "about 1 in 10"}, {0.2, "about 1 in 5"}, {0.25, "about 1 in 4"}, {0.33, "about 1 in 3"},
		{0.5, "about 1 in 2"}, {0.66, "about 2 in 3"}, {0.75, "about 3 in 4"}, {0.8, "about 4 in 5"}, {0.9, "about 9 in 10"},
		{0.97, "more than 19 in 20"}, {1, "more than 19 in 20"},
		{math.NaN(), "not known"}, {-0.1, "not known"}, {1.1, "not known"}, {math.Inf(1), "not known"},
	} {
		if got := English().Chance(c.p); got != c.want {
			t.Errorf("%g: %q, want %q", c.p, got, c.want)
		}
	}
	place := map[string]int{}
	order := []string{"chance.very_unlikely", "chance.unlikely"}
	for _, c := range chances {
		order = append(order, c.key)
	}
	for i, key := range append(order, "chance.almost_certain") {
		place[key] = i
	}
	last := 0
	for i := 0; i <= 10000; i++ {
		p := float64(i) / 10000
		key := ChanceKey(p)
		at, ok := place[key]
		if !ok || at < last {
			t.Fatalf("%g: %s comes after a larger one", p, key)
		}
		last = at
		if strings.ContainsFunc(English().Text(key, nil), func(r rune) bool { return r == '.' || r == '%' || unicode.IsUpper(r) }) {
			t.Errorf("%s is not plain words", key)
		}
	}
	if last != len(place)-1 {
		t.Errorf("only %d of %d words are ever used", last+1, len(place))
	}
}

// What is said must be near what is meant. The widest step is at the ends of the
// table, from 1 in 10 to 1 in 20: odds of 9 and 19, a factor of 2.11.
func TestChanceIsNearTheTruth(t *testing.T) {
	for i := 500; i <= 9500; i++ {
		p := float64(i) / 10000
		for _, c := range chances {
			if c.key != ChanceKey(p) {
				continue
			}
			ratio := math.Exp(math.Abs(logit(p) - logit(c.p)))
			if ratio > 2.12 {
				t.Errorf("%g is said as %s, odds off by %.2f", p, c.key, ratio)
			}
		}
	}
}
