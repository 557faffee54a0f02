package present

import (
	"errors"
	"math"
	"strings"
	"testing"
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
		kind Kind
		sel  Unit
		want want
		tol  float64
	}{
		{"28", GaugePressure, PSI, steady(193053), 1},
		{" 28 ", GaugePressure, PSI, steady(193053), 1},
		{"28.", GaugePressure, PSI, steady(193053), 1},
		{"+28", GaugePressure, PSI, steady(193053), 1},
		{"28.5", GaugePressure, PSI, steady(196501), 1},
		{"28,5", GaugePressure, PSI, steady(196501), 1},
		{".5", GaugePressure, Bar, steady(50000), 1},
		{"-5", GaugePressure, PSI, steady(-34474), 1},
		{"−5", GaugePressure, PSI, steady(-34474), 1},
		{"in 12", GaugePressure, PSI, steady(-40637), 1},
		{"12 in", GaugePressure, PSI, steady(-40637), 1},
		{"12inHg", GaugePressure, KPa, steady(-40637), 1},
		{"12 in. Hg", GaugePressure, Bar, steady(-40637), 1},
		{"12\"", GaugePressure, PSI, steady(-40637), 1},
		{"12 in vac", GaugePressure, PSI, steady(-40637), 1},
		{"vacuum 12", GaugePressure, PSI, steady(-40637), 1},
		{"-12 in", GaugePressure, PSI, steady(-40637), 1},
		{"1.9 bar", GaugePressure, PSI, steady(190000), 1e-6},
		{"1,9bar", GaugePressure, PSI, steady(190000), 1e-6},
		{"190 kPa", GaugePressure, PSI, steady(190000), 1e-6},
		{"1.9 BAR", GaugePressure, PSI, steady(190000), 1e-6},
		{"2 kg/cm2", GaugePressure, PSI, steady(196133), 1e-6},
		{"1,500", GaugePressure, KPa, steady(1.5e6), 1e-6},
		{"1,500", GaugePressure, Bar, steady(150000), 1e-6},
		{"1,234.5", GaugePressure, KPa, steady(1.2345e6), 1e-6},
		{"22-45", GaugePressure, PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22 – 45", GaugePressure, PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"swings 22-45", GaugePressure, PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22 to 45 psi", GaugePressure, Bar, want{230974, 151685, 310264, "swing"}, 1},
		{"45 to 22", GaugePressure, PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"between 22 and 45", GaugePressure, PSI, want{230974, 151685, 310264, "swing"}, 1},
		{"22psi-45psi", GaugePressure, Bar, want{230974, 151685, 310264, "swing"}, 1},
		{"22-22", GaugePressure, PSI, steady(151685), 1},
		{"5 in - 20", GaugePressure, PSI, want{60481.5, -16932, 137895, "swing"}, 1},
		{"-5 to 10", GaugePressure, PSI, want{17237, -34474, 68948, "swing"}, 1},
		{"-5--2", GaugePressure, PSI, want{-24132, -34474, -13790, "swing"}, 1},
		{">500", GaugePressure, PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"≥ 500", GaugePressure, PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"500+", GaugePressure, PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"pegged 500", GaugePressure, PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"500 pegged", GaugePressure, PSI, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"more than 500 psi", GaugePressure, Bar, want{3447379, 3447379, 3447379, "atLeast"}, 1},
		{"<5", GaugePressure, PSI, want{34474, 34474, 34474, "atMost"}, 1},
		{"less than 5", GaugePressure, PSI, want{34474, 34474, 34474, "atMost"}, 1},
		{"pegged 30 in", GaugePressure, PSI, want{-101592, -101592, -101592, "atMost"}, 1},
		{"95F", Temperature, Celsius, steady(308.15), 1e-9},
		{"95 °F", Temperature, Celsius, steady(308.15), 1e-9},
		{"95 degF", Temperature, Celsius, steady(308.15), 1e-9},
		{"95 deg F", Temperature, Celsius, steady(308.15), 1e-9},
		{"35 c", Temperature, Fahrenheit, steady(308.15), 1e-9},
		{"35º", Temperature, Celsius, steady(308.15), 1e-9},
		{"-40", Temperature, Fahrenheit, steady(233.15), 1e-9},
		{"50 %", Fraction, Percent, steady(0.5), 1e-12},
		{"50%", Fraction, Percent, steady(0.5), 1e-12},
		{"1,500 rpm", Speed, RPM, steady(1500), 0},
		{"5,000 ft", Length, Metre, steady(1524), 1e-9},
		{"3 per min", Rate, PerMinute, steady(3), 0},
		{"1 lb 8 oz", Mass, Gram, steady(0.680389), 1e-6},
		{"1lb8oz", Mass, Gram, steady(0.680389), 1e-6},
		{"1 lb 8", Mass, PoundOunce, steady(0.680389), 1e-6},
		{"1.5", Mass, PoundOunce, steady(0.680389), 1e-6},
		{"24oz", Mass, Gram, steady(0.680389), 1e-6},
		{"680", Mass, Gram, steady(0.680), 1e-12},
		{"0,68 kg", Mass, Gram, steady(0.680), 1e-12},
		{"2 min 30 s", Duration, Minute, steady(150), 1e-9},
		{"1:30", Duration, Minute, steady(90), 1e-9},
		{"90 s", Duration, Minute, steady(90), 1e-9},
		{"5 min", Duration, Minute, steady(300), 1e-9},
		{"1 h 20 min", Duration, Minute, steady(4800), 1e-9},
		{"500 micron", AbsolutePressure, Pascal, steady(66.6612), 1e-4},
		{"1 fl oz", Volume, Millilitre, steady(2.957353e-5), 1e-11},
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
		kind Kind
		sel  Unit
		code string
	}{
		{"", GaugePressure, PSI, Empty},
		{" \t ", GaugePressure, PSI, Empty},
		{"abc", GaugePressure, PSI, NotANumber},
		{"NaN", GaugePressure, PSI, NotANumber},
		{"Inf", GaugePressure, PSI, NotANumber},
		{"-", GaugePressure, PSI, NotANumber},
		{"in", GaugePressure, PSI, NotANumber},
		{"22-", GaugePressure, PSI, NotANumber},
		{"1.2.3", GaugePressure, PSI, NotANumber},
		{"28!", GaugePressure, PSI, NotANumber},
		{"1/2", GaugePressure, PSI, UnknownUnit},
		{"28 furlongs", GaugePressure, PSI, UnknownUnit},
		{"28 psi please", GaugePressure, PSI, UnknownUnit},
		{"95 F", GaugePressure, PSI, WrongKind},
		{"28 psi", Temperature, Fahrenheit, WrongKind},
		{"28 psia", GaugePressure, PSI, AbsoluteUnit},
		{"2 bara", GaugePressure, PSI, AbsoluteUnit},
		{"28 psi abs", GaugePressure, PSI, AbsoluteUnit},
		{"28 30", GaugePressure, PSI, TooMuch},
		{"20-30-40", GaugePressure, PSI, NotANumber},
		{">20-30", GaugePressure, PSI, TooMuch},
		{"<20+", GaugePressure, PSI, TooMuch},
		{"pegged", GaugePressure, PSI, PeggedNumber},
		{"1:75", Duration, Minute, NotANumber},
		{strings.Repeat("1", MaxText+1), GaugePressure, PSI, TooLong},
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
	Parse("28", GaugePressure, Celsius)
}

// FuzzParse: any text gives finite numbers in order, or a refusal whose words
// exist; and what is shown of a number can be typed again.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"28", "-5", "in 12", "22-45", ">500", "9e99", "-9e99 in", "1 lb 8 oz", "1:30", "٣", "1e", "１", "\x00", "5e308", "0.0000001", "12 in - 20 kPa", "--5", "1 h 1 min 1 s 1"} {
		for k := 0; k < 12; k++ {
			f.Add(s, k)
		}
	}
	kinds := []Kind{GaugePressure, AbsolutePressure, Temperature, TempDiff, Mass, Volume, Length, Duration, Speed, Rate, Fraction, Bore, Months}
	f.Fuzz(func(t *testing.T, text string, n int) {
		k := kinds[((n%len(kinds))+len(kinds))%len(kinds)]
		units := []Units{USUnits, MetricUnits}[n&1]
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
		if !ok || fd.Kind == Choice {
			return
		}
		u := MetricUnits
		if us {
			u = USUnits
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
