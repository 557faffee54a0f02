package present

import (
	"math"
	"strconv"
	"testing"

	"twoneedles/refrig/unit"
)

// What the page asks or refuses, and what it offers instead. Plausible numbers
// are from published tables [USArmy291], slips are the ones people make.
func TestQuestionsAndOffers(t *testing.T) {
	kpa := unit.Metric()
	kpa.Pressure = unit.KPa
	plainUS := unit.US()
	plainUS.InHg = false
	for _, c := range []struct {
		why   string
		field FieldID
		text  string
		u     unit.Units
		code  string // "" is no problem
		level Level
		offer string // text of the first suggestion
	}{
		{"a usual low side", "low", "28", unit.US(), "", 0, ""},
		{"a usual low side", "low", "1.9", unit.Metric(), "", 0, ""},
		{"a usual low side", "low", "190", kpa, "", 0, ""},
		{"a usual high side", "high", "220", unit.US(), "", 0, ""},
		{"a usual high side", "high", "15", unit.Metric(), "", 0, ""},
		{"bar typed as psi", "low", "1.9", unit.US(), PerhapsUnit, Asked, "1.9 bar"},
		{"bar typed as psi", "high", "15.2", unit.US(), PerhapsUnit, Asked, "15.2 bar"},
		{"bar typed as psi, whole number", "high", "15", unit.US(), PerhapsUnit, Asked, "15 bar"},
		{"a real 2 psi is not questioned", "low", "2", unit.US(), "", 0, ""},
		{"psi typed as bar", "low", "28", unit.Metric(), AboveLimit, Refused, "28 psi"},
		{"psi typed as bar", "high", "220", unit.Metric(), AboveLimit, Refused, "220 psi"},
		{"kPa typed as psi", "low", "190", unit.US(), PerhapsUnit, Asked, "190 kPa"},
		{"kPa typed as psi", "high", "1500", unit.US(), AboveLimit, Refused, "1500 kPa"},
		{"psi typed as kPa", "high", "220", kpa, PerhapsUnit, Asked, "220 psi"},
		{"bar typed as kPa", "high", "15.2", kpa, PerhapsUnit, Asked, "15.2 bar"},
		{"°F typed as °C", Ambient, "95", unit.Metric(), AboveLimit, Refused, "95 F"},
		{"°C typed as °F", Ambient, "35", unit.US(), PerhapsUnit, Asked, "35 C"},
		{"°C typed as °F", "vent", "8", unit.US(), PerhapsUnit, Asked, "8 C"},
		{"°F typed as °C", "vent", "72", unit.Metric(), PerhapsUnit, Asked, "72 F"},
		{"a typed unit is not questioned", Ambient, "35 F", unit.US(), Unusual, Asked, ""},
		{"inches of mercury typed with a minus", "low", "-12", unit.US(), PerhapsInches, Asked, "12 in"},
		{"not where inches are not shown", "low", "-5", plainUS, "", 0, ""},
		{"below a vacuum in psi", "low", "-20", unit.US(), BelowVacuum, Refused, "20 in"},
		{"below a vacuum", "low", "31 in", unit.US(), BelowVacuum, Refused, ""},
		{"the dial's end", "low", "30 in", unit.US(), "", 0, ""},
		{"9e99", "low", "9e99", unit.US(), AboveLimit, Refused, ""},
		{"below absolute zero", Ambient, "-500", unit.US(), BelowZeroKelvin, Refused, ""},
		{"colder than any place", Ambient, "-80", unit.Metric(), BelowLimit, Refused, ""},
		{"negative speed", EngineSpeed, "-5", unit.US(), Negative, Refused, ""},
		{"humidity above 100 %", Humidity, "120", unit.US(), AboveLimit, Refused, ""},
		{"a fraction typed as percent", Humidity, "0.5", unit.US(), Unusual, Asked, ""},
		{"pegged high gauge", "high", ">500", unit.US(), "", 0, ""},
		{"pegged thermometer", Ambient, ">500", unit.US(), NoBound, Refused, ""},
		{"swing of a weight", LabelCharge, "600-700 g", unit.US(), NoSwing, Refused, ""},
		{"ounces typed as pounds", LabelCharge, "24", unit.US(), PerhapsUnit, Asked, "24 oz"},
		{"grams typed as pounds", LabelCharge, "680", unit.US(), AboveLimit, Refused, "680 g"},
		{"kilograms typed as grams", LabelCharge, "0.68", unit.Metric(), BelowLimit, Refused, "0.68 kg"},
		{"kilograms typed as grams, hundreds", LabelCharge, "1.2", unit.Metric(), BelowLimit, Refused, "1.2 kg"},
		{"a swing in the wrong unit", "low", "1.6-2.9", unit.US(), PerhapsUnit, Asked, "1.6 to 2.9 bar"},
	} {
		f, ok := FieldOf(c.field)
		if !ok {
			t.Fatalf("no field %s", c.field)
		}
		e, p := Read(c.text, f, c.u)
		if p == nil {
			if c.code != "" {
				t.Errorf("%s: %s %q passes, want %s", c.why, c.field, c.text, c.code)
			}
			continue
		}
		offer := ""
		if len(p.Suggest) > 0 {
			offer = p.Suggest[0].Text
		}
		if p.Code != c.code || p.Level != c.level || offer != c.offer || p.Field != c.field {
			t.Errorf("%s: %s %q gives %s, level %d, offers %q; want %s, %d, %q", c.why, c.field, c.text, p.Code, p.Level, offer, c.code, c.level, c.offer)
		}
		if p.Level == Asked && e.Value == 0 {
			t.Errorf("%s: %q is a question, so its number counts", c.why, c.text)
		}
		// Taking an offer must settle the matter.
		for _, s := range p.Suggest {
			if _, again := Read(s.Text, f, c.u); again != nil && again.Level == Refused {
				t.Errorf("%s: the offer %q is refused: %s", c.why, s.Text, again.Code)
			}
		}
	}
}

func TestEveryFieldHoldsItsOwnLimits(t *testing.T) {
	for id, f := range fields {
		if f.Kind == unit.Choice {
			continue
		}
		for _, s := range []Span{f.Usual, f.Typical} {
			if !f.Limit.Contains(s.Lo) || !f.Limit.Contains(s.Hi) || !(s.Lo < s.Hi) {
				t.Errorf("%s: %v does not lie in %v", id, s, f.Limit)
			}
		}
		if !f.Usual.Contains(f.Typical.Lo) || !f.Usual.Contains(f.Typical.Hi) {
			t.Errorf("%s: typical is wider than usual", id)
		}
	}
}

// Every row of the published table [USArmy291] and of the unsourced cards that
// dispute it (common practice, memory) must pass without a question in every unit.
func TestPublishedNormalPressuresPass(t *testing.T) {
	low, _ := FieldOf("low")
	high, _ := FieldOf("high")
	kpa := unit.Metric()
	kpa.Pressure = unit.KPa
	for _, u := range []unit.Units{unit.US(), unit.Metric(), kpa} {
		for _, psi := range []float64{10, 15, 20, 25, 30, 35, 40, 45, 50, 55} {
			if _, p := Read(u.Pressure.Plain(unit.PSI.ToSI(psi)), low, u); p != nil {
				t.Errorf("low side %g psi in %s: %s", psi, u.Pressure, p.Code)
			}
		}
		for _, psi := range []float64{120, 140, 170, 190, 210, 240, 270, 300, 325, 345} {
			if _, p := Read(u.Pressure.Plain(unit.PSI.ToSI(psi)), high, u); p != nil {
				t.Errorf("high side %g psi in %s: %s", psi, u.Pressure, p.Code)
			}
		}
	}
}

func TestRetypeKeepsTheMeaning(t *testing.T) {
	for _, c := range []struct {
		text     string
		k        unit.Kind
		from, to unit.Unit
		want     string
	}{
		{"28", unit.GaugePressure, unit.PSI, unit.Bar, "1.93"},     // 1.9305 bar
		{"1.93", unit.GaugePressure, unit.Bar, unit.PSI, "28"},     // 27.99 psi
		{"28", unit.GaugePressure, unit.PSI, unit.KPa, "193"},      // 193.05 kPa
		{"190", unit.GaugePressure, unit.KPa, unit.Bar, "1.90"},    // exact
		{"53.66", unit.GaugePressure, unit.PSI, unit.KPa, "370.0"}, // 369.97 kPa
		{"370.0", unit.GaugePressure, unit.KPa, unit.PSI, "53.66"}, // 53.664 psi
		{"-5", unit.GaugePressure, unit.PSI, unit.KPa, "-34"},      // −34.47 kPa
		{"22-45", unit.GaugePressure, unit.PSI, unit.KPa, "152 to 310"},
		{">500", unit.GaugePressure, unit.PSI, unit.Bar, ">34.47"},
		{"1.9 bar", unit.GaugePressure, unit.PSI, unit.KPa, "1.9 bar"},
		{"12 in", unit.GaugePressure, unit.PSI, unit.KPa, "12 in"},
		{"abc", unit.GaugePressure, unit.PSI, unit.KPa, "abc"},
		{"", unit.GaugePressure, unit.PSI, unit.KPa, ""},
		{"95", unit.Temperature, unit.Fahrenheit, unit.Celsius, "35"},
		{"96", unit.Temperature, unit.Fahrenheit, unit.Celsius, "35.6"},
		{"35,6", unit.Temperature, unit.Celsius, unit.Fahrenheit, "96"},
		{"1.5", unit.Mass, unit.PoundOunce, unit.Gram, "680"},
		{"5000", unit.Length, unit.Foot, unit.Metre, "1524"},
	} {
		if got := Retype(c.text, c.k, c.from, c.to); got != c.want {
			t.Errorf("%q from %s to %s: %q, want %q", c.text, c.from, c.to, got, c.want)
		}
	}
}

// Whatever a gauge can be read to comes back the same after a change of unit and
// back: whole psi, hundredths of a bar, steps of 5 kPa, degrees, half degrees.
func TestRetypeThereAndBack(t *testing.T) {
	there := func(text string, k unit.Kind, from unit.Unit) {
		for _, to := range unit.Choices(k) {
			if back := Retype(Retype(text, k, from, to), k, to, from); trimmed(back) != text {
				t.Errorf("%s %s through %s comes back as %s", text, from, to, back)
			}
		}
	}
	for i := -14; i <= 700; i++ {
		there(strconv.Itoa(i), unit.GaugePressure, unit.PSI)
		there(strconv.Itoa(5*i), unit.GaugePressure, unit.KPa)
		there(trimmed(formatFixed(float64(i)/100, 2)), unit.GaugePressure, unit.Bar)
	}
	for i := -40; i <= 200; i++ {
		there(strconv.Itoa(i), unit.Temperature, unit.Fahrenheit)
		there(trimmed(formatFixed(float64(i)/2, 1)), unit.Temperature, unit.Celsius)
	}
}

// FuzzRetype: a number of more digits than a gauge has moves by no more than half
// a digit of each unit, and the other unit's digit is at most ten of its own.
func FuzzRetype(f *testing.F) {
	f.Add(28.0, 0, 0, 1)
	f.Add(-12.34, 2, 1, 2)
	f.Fuzz(func(t *testing.T, x float64, dec, from, to int) {
		menu := unit.Choices(unit.GaugePressure)
		a, b := menu[abs(from)%3], menu[abs(to)%3]
		if !(x > -1e5 && x < 1e5) {
			return
		}
		text := trimmed(formatFixed(x, abs(dec)%4))
		back := Retype(Retype(text, unit.GaugePressure, a, b), unit.GaugePressure, b, a)
		e, err := Parse(text, unit.GaugePressure, a)
		g, err2 := Parse(back, unit.GaugePressure, a)
		if err != nil || err2 != nil {
			t.Fatalf("%q → %q: %v %v", text, back, err, err2)
		}
		digit := 1.0
		for range decimalsTyped(text) {
			digit /= 10
		}
		if d := math.Abs(a.FromSI(g.Value) - a.FromSI(e.Value)); d > 5.51*digit {
			t.Fatalf("%q in %s through %s comes back as %q", text, a, b, back)
		}
	})
}

func abs(n int) int {
	if n < 0 {
		return -(n + 1)
	}
	return n
}
