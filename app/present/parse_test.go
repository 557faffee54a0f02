package present

import (
	"errors"
	"math"
	"strings"
	"testing"

	"twoneedles/refrig/unit"
)

// Hand calculations: 1 psi = 6894.757 Pa, 1 inHg = 3386.389 Pa [NIST811]. The
// tolerance is the last digit of the hand calculation.
func TestWhatATechnicianTypes(t *testing.T) {
	type want struct {
		value, lo, hi float64
		form          string // steady, swing, atLeast, atMost
	}
	steady := func(v float64) want { return want{v, v, v, "steady"} }
	for _, c := range []struct {
		text string
		kind unit.Kind
		sel  unit.Unit
		want want
		tol  float64
	}{
		{"28", unit.GaugePressure, unit.PSI, steady(193053), 1},
		{" 28 ", unit.GaugePressure, unit.PSI, steady(193053), 1},
		{"28.", unit.GaugePressure, unit.PSI, steady(193053), 1},
		{"+28", unit.GaugePressure, unit.PSI, steady(193053), 1},
		{"28.5", unit.GaugePressure, unit.PSI, steady(196501), 1},
		{"28,5", unit.GaugePressure, unit.PSI, steady(196501), 1},
		{".5", unit.GaugePressure, unit.Bar, steady(50000), 1},
		{"-5", unit.GaugePressure, unit.PSI, steady(-34474), 1},
		{"−5", unit.GaugePressure, unit.PSI, steady(-34474), 1},
		{"in 12", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"12 in", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"12inHg", unit.GaugePressure, unit.KPa, steady(-40637), 1},
		{"12 in. Hg", unit.GaugePressure, unit.Bar, steady(-40637), 1},
		{"12\"", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"12 in vac", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"vacuum 12", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"-12 in", unit.GaugePressure, unit.PSI, steady(-40637), 1},
		{"1.9 bar", unit.GaugePressure, unit.PSI, steady(190000), 1e-6},
		{"1,9bar", unit.GaugePressure, unit.PSI, steady(190000), 1e-6},
		{"190 kPa", unit.GaugePressure, unit.PSI, steady(190000), 1e-6},
		{"1.9 BAR", unit.GaugePressure, unit.PSI, steady(190000), 1e-6},
		{"2 kg/cm2", unit.GaugePressure, unit.PSI, steady(196133), 1e-6},
		{"1,500", unit.GaugePressure, unit.KPa, steady(1.5e6), 1e-6},
		{"1,500", unit.GaugePressure, unit.Bar, steady(150000), 1e-6},
		{"1,234.5", unit.GaugePressure, unit.KPa, steady(1.2345e6), 1e-6},
		{"1.234,5", unit.GaugePressure, unit.KPa, steady(1.2345e6), 1e-6}, // the same as it is written in German, Spanish …
		{"1.500 bar", unit.GaugePressure, unit.KPa, steady(150000), 1e-6}, // the unit that was typed has decimals
		{"1.250 kg", unit.Mass, unit.Gram, steady(1.25), 1e-12},
		{"1,250kg", unit.Mass, unit.Gram, steady(1.25), 1e-12},
		{"0.680 kg", unit.Mass, unit.Gram, steady(0.680), 1e-12},
		{"1.234.567", unit.AbsolutePressure, unit.Pascal, steady(1234567), 1e-6},
		{"1,5e3", unit.GaugePressure, unit.KPa, steady(1.5e6), 1e-6},
		{"22-45", unit.GaugePressure, unit.PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22 – 45", unit.GaugePressure, unit.PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"swings 22-45", unit.GaugePressure, unit.PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22 to 45 psi", unit.GaugePressure, unit.Bar, want{230974, 151685, 310264, "swing"}, 1},
		{"45 to 22", unit.GaugePressure, unit.PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"between 22 and 45", unit.GaugePressure, unit.PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22psi-45psi", unit.GaugePressure, unit.Bar, want{230974, 151685, 310264, "swing"}, 1},
		{"22-22", unit.GaugePressure, unit.PSI, steady(151685), 1},
		{"5 in - 20", unit.GaugePressure, unit.PSI, want{60481.5, -16932, 137895, "swing"}, 1},
		{"-5 to 10", unit.GaugePressure, unit.PSI, want{17237, -34474, 68948, "swing"}, 1},
		{"-5--2", unit.GaugePressure, unit.PSI, want{-24132, -34474, -13790, "swing"}, 1},
		{">500", unit.GaugePressure, unit.PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"≥ 500", unit.GaugePressure, unit.PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"500+", unit.GaugePressure, unit.PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"pegged 500", unit.GaugePressure, unit.PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"500 pegged", unit.GaugePressure, unit.PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"more than 500 psi", unit.GaugePressure, unit.Bar, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"<5", unit.GaugePressure, unit.PSI, want{34474, 34474, 34474, "atMost"}, 1},
		{"less than 5", unit.GaugePressure, unit.PSI, want{34474, 34474, 34474, "atMost"}, 1},
		{"pegged 30 in", unit.GaugePressure, unit.PSI, want{-101592, -101592, -101592, "atMost"}, 1},
		{"95F", unit.Temperature, unit.Celsius, steady(308.15), 1e-9},
		{"95 °F", unit.Temperature, unit.Celsius, steady(308.15), 1e-9},
		{"95 degF", unit.Temperature, unit.Celsius, steady(308.15), 1e-9},
		{"95 deg F", unit.Temperature, unit.Celsius, steady(308.15), 1e-9},
		{"35 c", unit.Temperature, unit.Fahrenheit, steady(308.15), 1e-9},
		{"35º", unit.Temperature, unit.Celsius, steady(308.15), 1e-9},
		{"-40", unit.Temperature, unit.Fahrenheit, steady(233.15), 1e-9},
		{"50 %", unit.Fraction, unit.Percent, steady(0.5), 1e-12},
		{"50%", unit.Fraction, unit.Percent, steady(0.5), 1e-12},
		{"1,500 rpm", unit.Speed, unit.RPM, steady(1500), 0},
		{"5,000 ft", unit.Length, unit.Metre, steady(1524), 1e-9},
		{"3 per min", unit.Rate, unit.PerMinute, steady(3), 0},
		{"1 lb 8 oz", unit.Mass, unit.Gram, steady(0.680389), 1e-6},
		{"1lb8oz", unit.Mass, unit.Gram, steady(0.680389), 1e-6},
		{"1 lb 8", unit.Mass, unit.PoundOunce, steady(0.680389), 1e-6},
		{"1.5", unit.Mass, unit.PoundOunce, steady(0.680389), 1e-6},
		{"24oz", unit.Mass, unit.Gram, steady(0.680389), 1e-6},
		{"680", unit.Mass, unit.Gram, steady(0.680), 1e-12},
		{"0,68 kg", unit.Mass, unit.Gram, steady(0.680), 1e-12},
		{"2 min 30 s", unit.Duration, unit.Minute, steady(150), 1e-9},
		{"1:30", unit.Duration, unit.Minute, steady(90), 1e-9},
		{"90 s", unit.Duration, unit.Minute, steady(90), 1e-9},
		{"5 min", unit.Duration, unit.Minute, steady(300), 1e-9},
		{"1 h 20 min", unit.Duration, unit.Minute, steady(4800), 1e-9},
		{"500 micron", unit.AbsolutePressure, unit.Pascal, steady(66.6612), 1e-4},
		{"1 fl oz", unit.Volume, unit.Millilitre, steady(2.957353e-5), 1e-11},
	} {
		e, err := Parse(c.text, c.kind, c.sel)
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		form := "steady"
		switch {
		case e.Swing:
			form = "swing"
		case e.AtLeast:
			form = "atLeast"
		case e.AtMost:
			form = "atMost"
		}
		got := want{e.Value, e.Lo, e.Hi, form}
		if math.Abs(got.value-c.want.value) > c.tol || math.Abs(got.lo-c.want.lo) > c.tol ||
			math.Abs(got.hi-c.want.hi) > c.tol || got.form != c.want.form {
			t.Errorf("%q in %s: got %+v, want %+v", c.text, c.sel, got, c.want)
		}
	}
}

func TestWhatCannotBeRead(t *testing.T) {
	for _, c := range []struct {
		text string
		kind unit.Kind
		sel  unit.Unit
		code string
	}{
		{"", unit.GaugePressure, unit.PSI, Empty},
		{" \t ", unit.GaugePressure, unit.PSI, Empty},
		{"abc", unit.GaugePressure, unit.PSI, NotANumber},
		{"NaN", unit.GaugePressure, unit.PSI, NotANumber},
		{"Inf", unit.GaugePressure, unit.PSI, NotANumber},
		{"-", unit.GaugePressure, unit.PSI, NotANumber},
		{"in", unit.GaugePressure, unit.PSI, NotANumber},
		{"22-", unit.GaugePressure, unit.PSI, NotANumber},
		{"1.2.3", unit.GaugePressure, unit.PSI, NotANumber},
		{"2.5,3", unit.GaugePressure, unit.PSI, NotANumber},
		{"28!", unit.GaugePressure, unit.PSI, NotANumber},
		{"1/2", unit.GaugePressure, unit.PSI, UnknownUnit},
		{"28 furlongs", unit.GaugePressure, unit.PSI, UnknownUnit},
		{"28 psi please", unit.GaugePressure, unit.PSI, UnknownUnit},
		{"95 F", unit.GaugePressure, unit.PSI, WrongKind},
		{"28 psi", unit.Temperature, unit.Fahrenheit, WrongKind},
		{"28 psia", unit.GaugePressure, unit.PSI, AbsoluteUnit},
		{"2 bara", unit.GaugePressure, unit.PSI, AbsoluteUnit},
		{"28 psi abs", unit.GaugePressure, unit.PSI, AbsoluteUnit},
		{"28 30", unit.GaugePressure, unit.PSI, TooMuch},
		{"20-30-40", unit.GaugePressure, unit.PSI, NotANumber},
		{">20-30", unit.GaugePressure, unit.PSI, TooMuch},
		{"<20+", unit.GaugePressure, unit.PSI, TooMuch},
		{"pegged", unit.GaugePressure, unit.PSI, PeggedNumber},
		{"1:75", unit.Duration, unit.Minute, NotANumber},
		{strings.Repeat("1", MaxText+1), unit.GaugePressure, unit.PSI, TooLong},
	} {
		_, err := Parse(c.text, c.kind, c.sel)
		var p *Problem
		if !errors.As(err, &p) || p.Code != c.code || p.Level != Refused {
			t.Errorf("%q: got %v, want %s", c.text, err, c.code)
		}
	}
}

func TestParseRefusesAUnitOfAnotherKind(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("misuse must panic")
		}
	}()
	Parse("28", unit.GaugePressure, unit.Celsius)
}

// FuzzParse: any text gives finite numbers in order, or a refusal whose words
// exist; and what is shown of a number can be typed again.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"28", "-5", "in 12", "22-45", ">500", "9e99", "-9e99 in", "1 lb 8 oz", "1:30", "٣", "1e", "１", "\x00", "5e308", "0.0000001", "12 in - 20 kPa", "--5", "1 h 1 min 1 s 1"} {
		for k := 0; k < 12; k++ {
			f.Add(s, k)
		}
	}
	kinds := []unit.Kind{unit.GaugePressure, unit.AbsolutePressure, unit.Temperature, unit.TempDiff, unit.Mass, unit.Volume, unit.Length, unit.Duration, unit.Speed, unit.Rate, unit.Fraction, unit.Bore, unit.Months}
	f.Fuzz(func(t *testing.T, text string, n int) {
		k := kinds[((n%len(kinds))+len(kinds))%len(kinds)]
		units := []unit.Units{unit.US(), unit.Metric()}[n&1]
		e, err := Parse(text, k, units.For(k))
		if err != nil {
			p, ok := err.(*Problem)
			if !ok || p.Level != Refused || !English().Has("problem."+p.Code+".what") {
				t.Fatalf("%q: %#v", text, err)
			}
			return
		}
		for _, x := range []float64{e.Value, e.Lo, e.Hi} {
			if !finite(x) {
				t.Fatalf("%q gives %v", text, x)
			}
		}
		if !(e.Lo <= e.Value && e.Value <= e.Hi) || e.Swing != (e.Lo < e.Hi) {
			t.Fatalf("%q gives %+v", text, e)
		}
		v := Voice{English(), units}
		if s := v.Entry(e, k); s == "" || strings.ContainsAny(s, "⟨") || strings.Contains(s, "NaN") {
			t.Fatalf("%q is shown as %q", text, s)
		}
	})
}

// FuzzRead: whatever is typed into whatever field, what is not refused lies
// within what the field can hold, and every message is complete.
func FuzzRead(f *testing.F) {
	for id := range fields {
		f.Add(string(id), "28", true)
		f.Add(string(id), "-1e9", false)
		f.Add(string(id), "22-45", true)
	}
	f.Fuzz(func(t *testing.T, id, text string, us bool) {
		fd, ok := FieldOf(FieldID(id))
		if !ok || fd.Kind == unit.Choice {
			return
		}
		u := unit.Metric()
		if us {
			u = unit.US()
		}
		e, p := Read(text, fd, u)
		if p != nil {
			m := Voice{English(), u}.Problem(p)
			for _, s := range []string{m.What, m.Why, m.Next} {
				if s == "" || strings.Contains(s, "⟨") {
					t.Fatalf("%s %q: message %q", id, text, s)
				}
			}
		}
		if p != nil && p.Level == Refused {
			if e != (Entry{}) {
				t.Fatalf("%s %q: refused, but %+v", id, text, e)
			}
			return
		}
		if !fd.Limit.Contains(e.Lo) || !fd.Limit.Contains(e.Hi) {
			t.Fatalf("%s %q: %+v is outside %+v", id, text, e, fd.Limit)
		}
	})
}

// What the page writes behind a number may be typed there, in every language.
func TestUnitsAreReadAsTheyAreWritten(t *testing.T) {
	for _, code := range Languages() {
		w, err := Load(code)
		if err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, f := range fields {
			if f.Kind == unit.Choice {
				continue
			}
			also := []unit.Unit{f.Unit(unit.US()), f.Unit(unit.Metric())}
			switch f.Kind {
			case unit.GaugePressure:
				also = append(also, unit.InHg)
			case unit.Months:
				also = append(also, unit.Year)
			}
			for _, u := range append(unit.Choices(f.Kind), also...) {
				key := "unit." + string(u)
				if u == unit.PoundOunce || !w.Has(key) { // "lb + oz" heads a field of two numbers
					continue
				}
				n++
				if e, err := Parse("12 "+w.T(key), f.Kind, u); err != nil || e.Unit != u {
					t.Errorf("%s: 12 %s is %v %s, want %s", code, w.T(key), err, e.Unit, u)
				}
			}
		}
		if n < 100 {
			t.Errorf("%s: only %d units were tried", code, n)
		}
	}
	for _, text := range []string{"22 bis 45", "22 a 45 psi", "22 à 45"} {
		if e, err := Parse(text, unit.GaugePressure, unit.PSI); err != nil || !e.Swing {
			t.Errorf("%s: %+v, %v", text, e, err)
		}
	}
}
