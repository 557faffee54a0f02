package diagnose

import (
	"encoding/json"
	"errors"
	"math"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// everyWay asks c of everything a page may ask and returns the errors.
func everyWay(m *Model, c car.Case) []error {
	_, ask := m.Diagnose(c)
	_, plane := m.Plane(c, []car.ConditionID{car.CondenserAirflow})
	_, weather := m.WeatherBands(c, []float64{c.Weather.Ambient, 300})
	return []error{ask, plane, weather}
}

// typed tells whether err is one of the two kinds that Ask promises.
func typed(err error) bool {
	var r *refrig.RangeError
	var u *refrig.UnknownError
	return errors.As(err, &r) || errors.As(err, &u)
}

// Whatever is wrong with the car, the weather, the running or the vehicle's own
// figures is refused by everything that uses it, also where nothing was read yet.
func TestTheDoorIsShutForAll(t *testing.T) {
	m := model(t)
	for name, spoil := range map[string]func(*car.Case){
		"colder than the coldest":   func(c *car.Case) { c.Weather.Ambient = 95 },
		"no number of degrees":      func(c *car.Case) { c.Weather.Ambient = math.NaN() },
		"humidity":                  func(c *car.Case) { c.Weather.Humidity = 1e300 },
		"altitude":                  func(c *car.Case) { c.Weather.Altitude = -1e300 },
		"speed":                     func(c *car.Case) { c.Running.RPM = math.Inf(1) },
		"blower":                    func(c *car.Case) { c.Running.Blower = 0 },
		"label":                     func(c *car.Case) { c.Car.LabelCharge = 1e-55 },
		"label below nothing":       func(c *car.Case) { c.Car.LabelCharge = -1 },
		"refrigerant":               func(c *car.Case) { c.Car.Refrigerant = "R999" },
		"metering":                  func(c *car.Case) { c.Car.Metering = 9 },
		"compressor":                func(c *car.Case) { c.Car.Compressor = -1 },
		"port":                      func(c *car.Case) { c.Car.HighPort = 3 },
		"size":                      func(c *car.Case) { c.Car.Size = 4 },
		"evaporators":               func(c *car.Case) { c.Car.Evaporators = 3 },
		"figure without an end":     func(c *car.Case) { c.Service.Low = car.Interval{Lo: 1e5, Hi: math.Inf(1)} },
		"figure that is no number":  func(c *car.Case) { c.Service.High = car.Interval{Lo: math.NaN(), Hi: 2e6} },
		"figure below a vacuum":     func(c *car.Case) { c.Service.Low = car.Interval{Lo: -1e6, Hi: 2e5} },
		"figure beyond every gauge": func(c *car.Case) { c.Service.High = car.Interval{Lo: 1e6, Hi: 1e300} },
	} {
		for _, read := range []bool{true, false} {
			c := warmDay(200e3, 1500e3)
			if spoil(&c); !read {
				c.Readings = nil
			}
			for i, err := range everyWay(m, c) {
				if !typed(err) {
					t.Errorf("%s, read %v, way %d: %v", name, read, i, err)
				}
			}
		}
	}
	if _, err := m.WeatherBands(warmDay(200e3, 1500e3), []float64{1e9}); !typed(err) {
		t.Errorf("bands at 1e9 K: %v", err)
	}
	ok := warmDay(200e3, 1500e3)
	ok.Readings = nil
	if errs := everyWay(m, ok); !typed(errs[0]) || errs[1] != nil || errs[2] != nil {
		t.Errorf("a sound case without readings: %v; only its answer must be refused", errs)
	}
}

// A reading that no instrument can give is refused; what the form of a reading
// leaves unused is not looked at.
func TestReadingsAtTheDoor(t *testing.T) {
	m := model(t)
	inf, nan := math.Inf(1), math.NaN()
	for name, r := range map[string]car.Reading{
		"endless":            {Value: inf},
		"no number":          {Value: nan},
		"swing to no end":    {Swing: true, Value: 2e5, Lo: 1e5, Hi: inf},
		"swing from nowhere": {Swing: true, Value: 2e5, Lo: nan, Hi: 3e5},
		"swing upside down":  {Swing: true, Value: 2e5, Lo: 3e5, Hi: 1e5},
	} {
		c := warmDay(200e3, 1500e3)
		c.Readings[car.Low] = r
		if _, err := m.Diagnose(c); !typed(err) {
			t.Errorf("%s: %v", name, err)
		}
	}
	c := warmDay(200e3, 1500e3)
	c.Readings[car.SightGlass] = car.Reading{Choice: "purple"}
	if _, err := m.Diagnose(c); !typed(err) {
		t.Errorf("a sight glass that shows purple: %v", err)
	}
	want, err := m.Diagnose(warmDay(200e3, 1500e3))
	if err != nil {
		t.Fatal(err)
	}
	c = warmDay(200e3, 1500e3)
	c.Readings[car.Low] = car.Reading{Value: 200e3, Lo: inf, Hi: nan, Choice: "steady"}
	c.Readings[car.SightGlass] = car.Reading{Choice: car.GlassNone, Value: nan}
	c.Readings["colour_of_the_hose"] = car.Reading{Value: nan}
	got, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}
	if a, b := asJSON(t, got), asJSON(t, want); a != b {
		t.Errorf("what is not part of the reading changed the answer:\n%s\n%s", a, b)
	}
}

func asJSON(t testing.TB, v any) string {
	t.Helper()
	b, err := json.Marshal(v) // fails for every number that is not finite
	if err != nil {
		t.Fatalf("%v in %+v", err, v)
	}
	return string(b)
}

// The vehicle's own figures move every pressure of their side alike, at idle and in
// the tests too: a car whose every reading lies as far above the figures as another's
// lies above the model's medians is judged the same. 1e-3: the networks see the
// readings as 32-bit numbers, through the inverse of a table.
func TestServiceFiguresMoveTheirSide(t *testing.T) {
	m := model(t)
	c := warmDay(200e3, 1500e3)
	c.Weather.HumidityKnown = true
	sc, err := nets.NewScaler(&c)
	if err != nil {
		t.Fatal(err)
	}
	bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient})
	if err != nil {
		t.Fatal(err)
	}
	c.Readings = car.Readings{car.Low: {Value: 230e3}, car.High: {Value: 1700e3}, car.LowIdle: {Value: 260e3},
		car.HighIdle: {Value: 1650e3}, car.WaterTest: {Value: 1300e3}, car.FanTest: {Value: 1400e3}, car.Vent: {Value: 285}}
	plain, err := m.Diagnose(c)
	if err != nil {
		t.Fatal(err)
	}

	// 4 and 7 K of saturation temperature for what each gauge reads while the engine runs.
	up := map[car.Quantity]float64{car.Low: 0.4, car.LowIdle: 0.4, car.High: 0.7, car.HighIdle: 0.7, car.WaterTest: 0.7, car.FanTest: 0.7}
	moved := func(q car.Quantity, v float64) float64 { return sc.Out(q, sc.In(q, v)+up[q]) }
	own := c
	own.Readings = car.Readings{}
	for q, r := range c.Readings {
		own.Readings[q] = r
		if up[q] != 0 {
			own.Readings[q] = car.Reading{Value: moved(q, r.Value)}
		}
	}
	span := func(mid float64) car.Interval { return car.Interval{Lo: mid - 30e3, Hi: mid + 30e3} }
	own.Service = car.ServiceFigures{Low: span(moved(car.Low, bands[0].Low.P50)), High: span(moved(car.High, bands[0].High.P50))}
	got, err := m.Diagnose(own)
	if err != nil {
		t.Fatal(err)
	}
	for _, k := range plain.Ranking {
		if p := chance(got, k.ID); math.Abs(p-k.Probability) > 1e-3 {
			t.Errorf("%s: %.4f by the model's medians, %.4f as far from the car's own figures", k.ID, k.Probability, p)
		}
	}
	for _, e := range got.Evidence {
		if e.Quantity == car.Low || e.Quantity == car.High || up[e.Quantity] == 0 {
			continue // the needles show the figures themselves; the others know no figures
		}
		for _, was := range plain.Evidence {
			if was.Quantity == e.Quantity && math.Abs(e.Median-moved(e.Quantity, was.Median)) > 500 { // Pa: as above
				t.Errorf("%s: expected %.0f Pa, want %.0f", e.Quantity, e.Median, moved(e.Quantity, was.Median))
			}
		}
	}
}

// The pieces of an inference are the whole, whatever the order they are asked in.
func TestInferenceIsWorkedOutOnce(t *testing.T) {
	m := model(t)
	world := sim.World{Flatten: 1}
	samples, _ := world.DrawMany(20, 3)
	conds := []car.ConditionID{car.Undercharge, car.CondenserAirflow}
	for _, s := range samples {
		delete(s.Case.Readings, car.LiquidLine) // something must be left to measure
		want, err := m.Diagnose(s.Case)
		if err != nil {
			t.Fatal(err)
		}
		plane, err := m.Plane(s.Case, conds)
		if err != nil {
			t.Fatal(err)
		}
		a, err := m.Ask(s.Case)
		if err != nil {
			t.Fatal(err)
		}
		next := a.Next()
		gotPlane := a.Plane(conds)
		got := a.Answer()
		got.Next = next
		if asJSON(t, got) != asJSON(t, want) || asJSON(t, gotPlane) != asJSON(t, plane) || asJSON(t, a.Next()) != asJSON(t, want.Next) {
			t.Fatalf("in another order the answer to %+v is another", s.Case)
		}
	}
}

// Any case at all gets an answer in finite numbers or a typed error, never a panic:
// a sound case of a simulated car in which a few bits of its stored form are changed.
func FuzzCase(f *testing.F) {
	m := model(f)
	world := sim.World{Flatten: 1}
	absurd := []float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, -1, 1e-55, 1e300, -1e300, 5e-324, 300, 2e5}
	f.Add(uint64(1), uint8(0), uint8(0), 0.0)
	f.Add(uint64(2), uint8(3), uint8(1), 1e-55)
	f.Add(uint64(3), uint8(9), uint8(10), math.Inf(1))
	f.Fuzz(func(t *testing.T, seed uint64, changes, first uint8, value float64) {
		r := fleet.NewRand(seed)
		s, err := world.Draw(r)
		if err != nil {
			t.Skip()
		}
		c := s.Case
		for q := range c.Readings {
			if r.Float64() < 0.5 {
				delete(c.Readings, q)
			}
		}
		c.Service.Low, c.Service.High = car.Interval{Lo: 1.5e5, Hi: 2.5e5}, car.Interval{Lo: 1.2e6, Hi: 1.8e6}
		for i := range int(changes % 4) {
			v := value
			if i > 0 {
				v = absurd[r.IntN(len(absurd))]
			}
			spoil(&c, (int(first)+i*7)%spoils, v, r)
		}
		report, err := m.Diagnose(c)
		if err == nil {
			asJSON(t, report)
		} else if !typed(err) {
			t.Fatalf("untyped error %v", err)
		}
		plane, err := m.Plane(c, []car.ConditionID{car.Undercharge, car.ConditionID("none")})
		if err == nil {
			asJSON(t, plane)
		} else if !typed(err) {
			t.Fatalf("untyped error %v", err)
		}
		bands, err := m.WeatherBands(c, []float64{c.Weather.Ambient, 290, value})
		if err == nil {
			asJSON(t, bands)
		} else if !typed(err) {
			t.Fatalf("untyped error %v", err)
		}
	})
}

const spoils = 20

// spoil sets one part of c, by its number, to v.
func spoil(c *car.Case, part int, v float64, r *fleet.Rand) {
	q := quantities[r.IntN(len(quantities))]
	k := c.Readings[q]
	switch part {
	case 0:
		c.Weather.Ambient = v
	case 1:
		c.Weather.Humidity = v
	case 2:
		c.Weather.Altitude = v
	case 3:
		c.Running.RPM = v
	case 4:
		c.Running.Blower = v
	case 5:
		c.Car.LabelCharge = v
	case 6:
		c.Service.Low.Lo = v
	case 7:
		c.Service.Low.Hi = v
	case 8:
		c.Service.High = car.Interval{Lo: v, Hi: -v}
	case 9:
		c.Car.Refrigerant = []string{"", "r134a", "R744", car.R12}[r.IntN(4)]
	case 10:
		c.Car.Metering = car.Metering(r.IntN(6) - 2)
	case 11:
		c.Car.Compressor = car.Compressor(r.IntN(7) - 2)
	case 12:
		c.Car.Size, c.Car.HighPort = car.Size(r.IntN(7)-2), car.HighPort(r.IntN(5)-1)
	case 13:
		c.Car.Evaporators = r.IntN(5) - 1
	case 14:
		k.Choice = []string{car.GlassNone, car.GlassFoam, "", "?"}[r.IntN(4)]
	case 15:
		k.Swing, k.Lo, k.Hi = true, v, 2*v
	case 16:
		k.Lo = v
	case 17:
		k.AtLeast, k.AtMost = true, r.Float64() < 0.5
	case 18:
		c.Readings = nil
		return
	default:
		k.Value = v
	}
	if part > 13 {
		c.Readings[q] = k
	}
}

// A compressor whose suction is shut draws 24 to 28 inHg [USArmy291]: a needle there, on a
// car that runs, is a blockage and no doubtful gauge, however deep it stands, and is shown
// as it was typed. The networks were shown no car below 21 inHg.
func TestADeepVacuumIsABlockage(t *testing.T) {
	m := model(t)
	c := car.Case{Car: car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve},
		Weather: car.Weather{Ambient: 300.15, Humidity: 0.5}, Running: car.Running{RPM: 1500, Blower: 1}}
	least := 0.0
	for _, inHg := range []float64{24, 26, 28, 29.9} {
		low := -inHg * 3386.389
		c.Readings = car.Readings{car.Low: {Value: low}, car.High: {Value: 900e3}}
		r, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		blocked := func(k Ranked) bool { return k.ID == car.ValveClosed || k.ID == car.Restriction }
		if r.Verdict == Doubtful || !blocked(r.Ranking[0]) || !blocked(r.Ranking[1]) || len(r.Questions) > 0 {
			t.Errorf("%g inHg: %s, %v, asks %v", inHg, r.Verdict, r.Ranking[:3], r.Questions)
		}
		for _, e := range r.Evidence {
			if e.Quantity == car.Low && e.Reading.Value != low {
				t.Errorf("%g inHg is shown as %g Pa", inHg, e.Reading.Value)
			}
		}
		// The superheat is that of the needle as it was read.
		c.Readings[car.SuctionLine] = car.Reading{Value: 300.15}
		deeper, err := m.Answer(c)
		if err != nil {
			t.Fatal(err)
		}
		if h := deeper.Superheat; h == nil || h.Value <= least {
			t.Errorf("%g inHg: superheat %v, want more than %g K: the deeper, the colder it boils", inHg, h, least)
		} else {
			least = h.Value
		}
	}
}
