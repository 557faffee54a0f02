package chart_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	. "twoneedles/chart"
	"twoneedles/chart/loop"
	"twoneedles/chart/svg/svgtest"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// dice draws numbers: sane ones, or now and then one that no gauge shows.
type dice struct {
	*rand.Rand
	wild bool // whether to mix in what is not a pressure
	bad  bool // whether that has happened
}

func (d *dice) in(lo, hi float64) float64 {
	if d.wild && d.IntN(40) == 0 {
		d.bad = true
		return []float64{math.NaN(), math.Inf(1), math.Inf(-1), 9e99, -9e99, math.MaxFloat64}[d.IntN(6)]
	}
	switch d.IntN(12) {
	case 0:
		return lo
	case 1:
		return hi
	}
	return lo + (hi-lo)*d.Float64()
}

func (d *dice) needle(lo, hi float64) Needle {
	if d.IntN(5) == 0 {
		return Needle{}
	}
	n := Steady(d.in(lo, hi), d.in(0, 1e4))
	if d.IntN(3) == 0 {
		n.Hi = d.in(lo, hi)
		if n.Hi < n.Lo {
			n.Lo, n.Hi = n.Hi, n.Lo
		}
	}
	n.AtLeast, n.AtMost = d.IntN(9) == 0, d.IntN(9) == 0
	return n
}

func (d *dice) reading() Reading {
	return Reading{d.needle(-1e5, 3e6), d.needle(-1e5, 9e6)}
}

func (d *dice) plane() (diagnose.Plane, []car.ConditionID) {
	var p diagnose.Plane
	for range d.IntN(3) {
		r := diagnose.Region{Level: d.Float64()}
		for range d.IntN(30) {
			r.Outline = append(r.Outline, [2]float64{d.in(-1e5, 3e6), d.in(-1e5, 9e6)})
		}
		p.Regions = append(p.Regions, r)
		if len(r.Outline)%3 == 0 { // no draw of its own: every later number would be another
			p.Own = append(p.Own, diagnose.Region{Level: r.Level, Outline: r.Outline[:len(r.Outline)/2]})
		}
	}
	var ids []car.ConditionID
	for range d.IntN(7) {
		dr := diagnose.Drift{Condition: car.Conditions()[d.IntN(len(car.Conditions()))]}
		for range d.IntN(8) {
			dr.Points = append(dr.Points, diagnose.DriftPoint{Severity: d.Float64(), Low: d.in(-1e5, 9e6), High: d.in(-1e5, 9e6)})
		}
		p.Drifts = append(p.Drifts, dr)
		ids = append(ids, dr.Condition)
	}
	return p, append(ids, car.Empty)
}

func (d *dice) bands() []diagnose.WeatherBand {
	var out []diagnose.WeatherBand
	band := func(top float64) diagnose.Band {
		a, s := d.in(-1e5, top), d.in(0, 1e5)
		return diagnose.Band{P05: a, P25: a + s, P50: a + s, P75: a + 2*s, P95: a + 3*s}
	}
	for i := range 2 + d.IntN(20) {
		out = append(out, diagnose.WeatherBand{Ambient: 250 + 3*float64(i) + d.in(0, 2), Low: band(2e6), High: band(6e6)})
	}
	return out
}

func (d *dice) published() []PublishedRange {
	var out []PublishedRange
	for range d.IntN(12) {
		low, high := d.in(-1e5, 2e6), d.in(-1e5, 6e6)
		out = append(out, PublishedRange{
			Ambient: d.in(230, 340), Low: car.Interval{Lo: low, Hi: low + d.in(0, 1e5)}, High: car.Interval{Lo: high, Hi: high + d.in(0, 5e5)},
			Source: []string{"TM 9", "a source with a rather long name & <more>", ""}[d.IntN(3)],
		})
	}
	return out
}

func (d *dice) cycle() Cycle {
	cy := sampleCycle()
	for i := range cy.States {
		cy.States[i].P = d.in(2e4, 8e6)
		cy.States[i].H = d.in(1e5, 6e5)
	}
	cy.Superheat, cy.Subcooling = d.in(-5, 40), d.in(-5, 40)
	return cy
}

func (d *dice) hold() HoldTest {
	h := HoldTest{Verdict: HoldUnclear}
	t := 0.0
	for range 1 + d.IntN(20) {
		h.Points = append(h.Points, HoldPoint{t, d.in(0.1, 1e5)})
		h.Fit = append(h.Fit, HoldPoint{t, d.in(0.1, 1e5)})
		t += d.in(0, 60)
	}
	for range d.IntN(4) {
		h.Limits = append(h.Limits, HoldLine{"some limit", d.in(1, 1e5)})
	}
	return h
}

func (d *dice) loop() loop.Of {
	read := car.Readings{}
	for _, q := range []car.Quantity{car.Low, car.High, car.Vent, car.DischargeLine, car.SuctionLine, car.LiquidLine, car.CondenserIn, car.CondenserOut} {
		lo, hi := 220.0, 470.0
		if q == car.Low || q == car.High {
			lo, hi = -1e5, 9e6
		}
		v := d.in(lo, hi)
		read[q] = car.Reading{Value: v, Lo: v, Hi: v, Swing: d.IntN(3) == 0, AtLeast: d.IntN(9) == 0, AtMost: d.IntN(9) == 0}
		if d.IntN(4) == 0 {
			delete(read, q)
		}
	}
	ids := car.Conditions()
	d.Shuffle(len(ids), func(i, j int) { ids[i], ids[j] = ids[j], ids[i] })
	l := sampleLoop(car.Spec{Metering: car.Metering(d.IntN(3)), HighPort: car.HighPort(d.IntN(3)), Evaporators: d.IntN(3)}, nil, ids[:d.IntN(7)]...)
	l.Read = read
	for i := range l.Points {
		if l.Points[i].Boils != (car.Interval{}) || d.IntN(2) == 0 {
			l.Points[i].Boils = car.Interval{Lo: d.in(220, 300), Hi: d.in(300, 400)}
		}
	}
	return l
}

func (d *dice) log() Log {
	l := Log{Lines: map[car.Quantity][]LogPoint{}}
	t := 0.0
	for range 1 + d.IntN(20) {
		l.Lines[car.Low] = append(l.Lines[car.Low], LogPoint{t, d.in(-1e5, 4e6)})
		l.Lines[car.High] = append(l.Lines[car.High], LogPoint{t, d.in(-1e5, 4e6)})
		l.On = append(l.On, [2]float64{t, t + d.in(0, 1)})
		t += d.in(0, 10)
	}
	return l
}

// What can be read is drawn, and nothing outside the picture; what cannot be
// read is refused with its value and limits, never drawn and never a panic.
func TestAnyNumbers(t *testing.T) {
	rounds := 500
	if testing.Short() {
		rounds = 60
	}
	refused := 0
	for seed := range rounds {
		d := &dice{Rand: rand.New(rand.NewPCG(uint64(seed), 7)), wild: seed%2 == 1}
		o := SampleOptions("r", []unit.Units{unit.US(), InKPa(), unit.Metric()}[d.IntN(3)])
		p, ids := d.plane()
		var trail [][2]float64
		for range d.IntN(20) {
			trail = append(trail, [2]float64{d.in(-1e5, 3e6), d.in(-1e5, 9e6)})
		}
		o.From = d.reading()
		bad := d.bad
		for _, c := range []struct {
			name string
			draw func() (Figure, error)
		}{
			{"plane", func() (Figure, error) { return Plane(p, d.reading(), ids, o) }},
			{"beforeafter", func() (Figure, error) { return BeforeAfter(p, d.reading(), d.reading(), o) }},
			{"trail", func() (Figure, error) { return Trail(p, d.reading(), d.reading(), trail, ids, o) }},
			{"weather", func() (Figure, error) { return Weather(d.bands(), At{d.reading(), d.in(240, 330)}, d.published(), o) }},
			{"odds", func() (Figure, error) {
				return Odds([]diagnose.Ranked{{ID: ids[0], Probability: d.in(0, 1)}, {ID: "?", Probability: d.in(0, 1)}, {ID: ids[0], Probability: d.in(0, 1)}}, o)
			}},
			{"ph", func() (Figure, error) { return PH(d.cycle(), o) }},
			{"hold", func() (Figure, error) { return Hold(d.hold(), o) }},
			{"vent", func() (Figure, error) {
				var bands []diagnose.WeatherBand
				for range 2 + d.IntN(4) {
					lo, mid := d.in(240, 330), d.in(0, 20)
					bands = append(bands, diagnose.WeatherBand{Ambient: d.in(240, 330), Vent: car.Interval{Lo: lo, Hi: lo + mid + d.in(0, 20)}, VentMedian: lo + mid})
				}
				return Vent(bands, VentNow{d.in(240, 330), d.in(240, 330), true}, nil, o)
			}},
			{"log", func() (Figure, error) { return Over(d.log(), o) }},
			{"loop", func() (Figure, error) { return loop.Draw(d.loop(), o) }},
			{"gauges", func() (Figure, error) {
				return Gauges(d.reading(), car.Interval{Lo: d.in(-1e5, 9e5), Hi: d.in(-1e5, 9e5)}, car.Interval{Lo: d.in(0, 9e6), Hi: d.in(0, 9e6)}, o)
			}},
		} {
			d.bad = bad && (c.name == "plane" || c.name == "beforeafter" || c.name == "trail")
			f, err := c.draw()
			switch {
			case err != nil && !d.bad:
				t.Fatalf("seed %d, %s refused: %v", seed, c.name, err)
			case err != nil:
				var r *refrig.RangeError
				if refused++; !errors.As(err, &r) {
					t.Fatalf("seed %d, %s: %v is no RangeError", seed, c.name, err)
				}
			default:
				if err := svgtest.Check(f.SVG); err != nil {
					t.Fatalf("seed %d, %s: %v", seed, c.name, err)
				}
				if m := f.Moved; !(math.Abs(m[0]) <= PlaneW && math.Abs(m[1]) <= PlaneH) {
					t.Fatalf("seed %d, %s: the reading comes from outside the picture, %v", seed, c.name, m)
				}
			}
		}
	}
	if refused < rounds/4 {
		t.Errorf("only %d refused: the wild numbers do not arrive", refused)
	}
}

// What is missing or upside down is an error, not an empty picture.
func TestRefusals(t *testing.T) {
	o := SampleOptions("r", unit.US())
	p := SamplePlane()
	bands := sampleBands()
	for name, f := range map[string]func() (Figure, error){
		"no words":              func() (Figure, error) { return Plane(p, Reading{}, nil, Options{ID: "a", Units: o.Units}) },
		"no unit":               func() (Figure, error) { return Plane(p, Reading{}, nil, Options{ID: "a", Words: o.Words}) },
		"no points of the loop": func() (Figure, error) { return loop.Draw(loop.Of{}, o) },
		"bad id": func() (Figure, error) {
			return Plane(p, Reading{}, nil, Options{ID: "a b", Units: o.Units, Words: o.Words})
		},
		"swing reversed": func() (Figure, error) { return Plane(p, Reading{Low: Swinging(2e5, 1e5, 0)}, nil, o) },
		"negative error": func() (Figure, error) { return Plane(p, Reading{Low: Steady(2e5, -1)}, nil, o) },
		"one band":       func() (Figure, error) { return Weather(bands[:1], At{}, nil, o) },
		"same bands": func() (Figure, error) {
			return Weather([]diagnose.WeatherBand{bands[0], bands[0]}, At{}, nil, o)
		},
		"band reversed": func() (Figure, error) {
			b := sampleBands()
			b[1].Low.P05 = b[1].Low.P95 + 1
			return Weather(b, At{}, nil, o)
		},
		"no ranking":    func() (Figure, error) { return Odds(nil, o) },
		"probability 2": func() (Figure, error) { return Odds([]diagnose.Ranked{{Probability: 2}}, o) },
		"no dome":       func() (Figure, error) { return PH(Cycle{States: sampleCycle().States}, o) },
		"no states":     func() (Figure, error) { return PH(Cycle{Dome: sampleCycle().Dome}, o) },
		"no points":     func() (Figure, error) { return Hold(HoldTest{Verdict: HoldTight}, o) },
		"one vent":      func() (Figure, error) { return Vent(sampleVents()[:1], VentNow{}, nil, o) },
		"an empty log":  func() (Figure, error) { return Over(Log{}, o) },
		"two kinds": func() (Figure, error) {
			return Over(Log{Lines: map[car.Quantity][]LogPoint{car.Low: {{0, 2e5}}, car.Vent: {{0, 290}}}}, o)
		},
		"a log that goes back": func() (Figure, error) {
			return Over(Log{Lines: map[car.Quantity][]LogPoint{car.Low: {{5, 2e5}, {1, 2e5}}}}, o)
		},
		"no verdict": func() (Figure, error) { return Hold(HoldTest{Points: []HoldPoint{{0, 9}}}, o) },
		"back in time": func() (Figure, error) {
			return Hold(HoldTest{Points: []HoldPoint{{5, 9}, {1, 9}}, Verdict: HoldTight}, o)
		},
		"below absolute": func() (Figure, error) {
			return Gauges(Reading{Low: Steady(-2e5, 0)}, car.Interval{}, car.Interval{}, o)
		},
	} {
		if _, err := f(); err == nil {
			t.Errorf("%s: drawn", name)
		}
	}
}

// FuzzPlane draws any reading or refuses it.
func FuzzPlane(f *testing.F) {
	f.Add(2e5, 2e5, 1e3, 1.5e6, 1.5e6, 1e4)
	f.Add(-101325.0, 0.0, 0.0, 0.0, 1e7, 0.0)
	p := SamplePlane()
	f.Fuzz(func(t *testing.T, a, b, e1, c, d, e2 float64) {
		g, err := Plane(p, Reading{Swinging(a, b, e1), Swinging(c, d, e2)}, car.Conditions(), SampleOptions("f", unit.Metric()))
		if err != nil {
			return
		}
		if err := svgtest.Check(g.SVG); err != nil {
			t.Error(err)
		}
	})
}
