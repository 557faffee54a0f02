package unit

import (
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// Rounding by hand: instruments are read to about a psi, 5 kPa, a hundredth of a
// bar on a small dial, a degree Fahrenheit, half a degree Celsius.
func TestComputedValuesAreRoundedToTheStep(t *testing.T) {
	for _, c := range []struct {
		u    Unit
		x    float64
		want string
	}{
		{PSI, 27.6, "28"}, {PSI, -0.3, "0"}, {KPa, 182, "180"}, {KPa, 1872.6, "1875"},
		{Bar, 1.9, "1.90"}, {Bar, 7.236, "7.24"}, {Bar, 15.26, "15.3"}, {Bar, -0.001, "0.00"},
		{InHg, 2.3, "2.5"}, {InHg, 12.4, "12"}, {Celsius, 7.6, "7.5"}, {Celsius, 35, "35"},
		{Micron, 512.4, "512"}, {Micron, 0.2, "0.2"}, {Kilogram, 0.4537, "0.454"}, {Kilogram, 1.456, "1.46"},
		{BtuLb, 176.4, "176"}, {PSI, math.NaN(), "–"}, {Bar, math.Inf(1), "–"},
	} {
		if got := c.u.Text(c.x); got != c.want {
			t.Errorf("%g %s is written %s, want %s", c.x, c.u, got, c.want)
		}
	}
}

// What is typed comes back as the same number from its value in SI, in every unit
// and whatever its step is.
func TestReadingsAreWrittenAsTyped(t *testing.T) {
	dice := rand.New(rand.NewPCG(1, 2))
	for u := range units {
		for range 300 {
			decimals := dice.IntN(4)
			typed := strconv.FormatFloat(dice.Float64()*600-100, 'f', decimals, 64)
			x, _ := strconv.ParseFloat(typed, 64)
			got, err := strconv.ParseFloat(u.write(u.FromSI(u.ToSI(x)), Unit.toTyped), 64)
			if err != nil || got != x {
				t.Fatalf("typed %s %s, written %g", typed, u, got)
			}
		}
	}
}

// A number that was typed in another unit has no digits of its own: it is written
// like a computed one. 28 psi are 193.0532 kPa, 1.9 bar 27.557 psi [NIST811].
func TestReadingsInAnotherUnitAreRounded(t *testing.T) {
	for _, c := range []struct {
		from, to Unit
		x        float64
		want     string
	}{{PSI, KPa, 28, "195"}, {Bar, PSI, 1.9, "28"}, {Fahrenheit, Celsius, 96, "35.5"}, {PSI, Bar, 220, "15.2"}, {Bar, KPa, 1.93, "193"}} {
		if got := c.to.write(c.to.FromSI(c.from.ToSI(c.x)), Unit.toTyped); got != c.want {
			t.Errorf("%g %s are written %s %s, want %s", c.x, c.from, got, c.to, c.want)
		}
	}
}

// english stands in for a language; the words of the page are tested there.
func english(key string, pairs ...any) string {
	text, ok := map[string]string{
		"number.point": ".", "number.missing": "–", "number.huge": "huge", "number.with_unit": "{number} {unit}",
		"number.pound_ounce": "{pounds} lb {ounces} oz", "number.range": "{lo}–{hi}", "number.range_words": "{lo} to {hi}",
		"duration.seconds": "{n} s", "duration.minutes": "{n} min", "duration.minutes_seconds": "{minutes} min {seconds} s", "duration.hours": "{hours} h {minutes} min",
	}[key]
	if !ok {
		return strings.TrimPrefix(key, "unit.")
	}
	for i := 0; i < len(pairs); i += 2 {
		text = strings.ReplaceAll(text, "{"+pairs[i].(string)+"}", pairs[i+1].(string))
	}
	return text
}

func TestWriterPutsNumberAndUnitTogether(t *testing.T) {
	us, metric := Writer{US(), english}, Writer{Metric(), english}
	kpa := Metric()
	kpa.Pressure = KPa
	inKPa := Writer{kpa, english}
	for _, c := range []struct{ got, want string }{
		{us.Quantity(193053, GaugePressure), "28 psi"},
		{us.Quantity(-40637, GaugePressure), "12 inHg"}, // 12 · 3386.389 Pa [NIST811]
		{us.Range(-16932, 137895, GaugePressure), "5 inHg to 20 psi"},
		{us.Numbers(-16932, 137895, GaugePressure), "−2 to 20"},
		{inKPa.Quantity(182e3, GaugePressure), "180 kPa"},
		{inKPa.ReadingText(182e3, GaugePressure), "182 kPa"},
		{inKPa.ReadingRange(182e3, 191e3, GaugePressure), "182–191 kPa"},
		{inKPa.ReadingNumbers(182e3, 191e3, GaugePressure), "182–191"},
		{inKPa.ReadingNumbers(182e3, 182e3, GaugePressure), "182"},
		{inKPa.Numbers(181e3, 182e3, GaugePressure), "180"},
		{metric.Range(263.15, 278.15, Temperature), "−10 to 5 C"},
		{metric.Range(0.5, 0.6, Mass), "500–600 g"},
		{us.Range(0.5, 0.6, Mass), "1 lb 1.6 oz to 1 lb 5.2 oz"},
		{us.ReadingText(1.55*KgPerOunce, Mass), "1.55 oz"},
		{us.ReadingText(17.25*KgPerOunce, Mass), "1 lb 1.25 oz"},
		{us.Quantity(2700, Duration), "45 min"}, {us.Range(60, 3600, Duration), "60 s to 60 min"},
		{us.Quantity(math.NaN(), Mass), "–"}, {us.Quantity(1e13, GaugePressure), "huge"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
}
