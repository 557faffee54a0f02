package job

import (
	"math"
	"strings"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// Number reads one text outside the visits. ok is false if the field is empty or
// its text is refused; p then says why, or is nil if it is empty.
func (j Job) Number(id present.FieldID) (e present.Entry, ok bool, p *present.Problem) {
	r := &reader{units: j.Units}
	if isVacuum(id) {
		e, ok = r.vacuum(id, j.Text[id], j.altitude())
	} else {
		e, ok = r.optional(id, j.Text[id])
	}
	if len(r.problems) > 0 {
		p = &r.problems[0]
	}
	return e, ok, p
}

// AtRest is what the job says of the car at rest, and what is missing of it: "resting"
// the pressure, "ambient" a temperature. Where the car's own was not taken, that of the
// outside air stands for it; where one gauge was read, it stands for both.
func (j Job) AtRest(c car.Case) (in service.RestingInput, need []string) {
	low, ok := c.Readings[car.Resting]
	if !ok {
		need = append(need, "resting")
	}
	in = service.RestingInput{Car: c.Car, Low: refrig.Gauge(low.Value), High: refrig.Gauge(low.Value),
		Temperature: refrig.Temperature(c.Weather.Ambient), Altitude: c.Weather.Altitude, Soaked: j.Repair.Soaked}
	if e, ok, _ := j.Number(present.Soak); ok {
		in.Temperature = refrig.Temperature(e.Value)
	}
	if in.Temperature == 0 {
		need = append(need, "ambient")
	}
	if e, ok, _ := j.Number(present.RestingHigh); ok {
		in.High = refrig.Gauge(e.Value)
	}
	return in, need
}

// HoldReading is one point of the hold test.
type HoldReading struct {
	Time     float64 // s since the pump was shut off
	Pressure float64 // Pa absolute
	Coarse   bool    // read in inches on a compound gauge, not on a vacuum gauge
	Step     float64 // Pa, the place of its last digit: 100 microns for "400"
}

// HoldReadings returns the points of the hold test that can be read, in the
// order typed, and per line of Repair.Hold the problems of the others.
func (j Job) HoldReadings() (points []HoldReading, problems map[int][]present.Problem) {
	problems = map[int][]present.Problem{}
	for i, h := range j.Repair.Hold {
		if blank(h.Time) && blank(h.Pressure) {
			continue
		}
		r := &reader{units: j.Units}
		t, okT := r.optional(present.HoldTime, h.Time)
		p, okP := r.vacuum(present.HoldPressure, h.Pressure, j.altitude())
		for id, text := range map[present.FieldID]string{present.HoldTime: h.Time, present.HoldPressure: h.Pressure} {
			if blank(text) {
				r.note(id, present.Empty, present.Missing, nil)
			}
		}
		if len(r.problems) > 0 {
			problems[i] = r.problems
		}
		if okT && okP {
			points = append(points, HoldReading{t.Value, p.Value, p.Unit.Kind() == unit.GaugePressure, lastPlace(h.Pressure) * p.Unit.Size()})
		}
	}
	return points, problems
}

// LogReading is one line of a log. What was not read, or cannot be, is not in Is.
type LogReading struct {
	Time float64                  // s since the start
	Is   map[car.Quantity]float64 // SI
}

// LogReadings returns the lines of a log whose time can be read, in the order typed, and
// per line and field what is wrong with the others.
func (j Job) LogReadings(l Log) (lines []LogReading, problems map[int][]present.Problem) {
	problems = map[int][]present.Problem{}
	for i, p := range l.Points {
		r := &reader{units: j.Units}
		line := LogReading{Is: map[car.Quantity]float64{}}
		t, ok := r.optional(present.HoldTime, p.Time)
		line.Time = t.Value
		for q, text := range map[car.Quantity]string{car.Low: p.Low, car.High: p.High, car.Vent: p.Vent} {
			if e, read := r.optional(present.FieldID(q), text); read {
				line.Is[q] = e.Value
			}
		}
		if len(r.problems) > 0 {
			problems[i] = r.problems
		}
		if ok && len(line.Is) > 0 {
			lines = append(lines, line)
		}
	}
	return lines, problems
}

// lastPlace returns the value of the last digit of a typed number that is not a zero
// before the point: 10 for "450", 0.1 for "28.5 in", 1 for "7". Zeros after a point
// were read and count.
func lastPlace(text string) float64 {
	digits, point := strings.Builder{}, -1
	for _, c := range strings.TrimSpace(text) {
		switch {
		case c >= '0' && c <= '9':
			digits.WriteRune(c)
		case (c == '.' || c == ',') && point < 0:
			point = digits.Len()
		case digits.Len() > 0 && c != '.' && c != ',':
			return worth(digits.String(), point)
		}
	}
	return worth(digits.String(), point)
}

func worth(digits string, point int) float64 {
	if point >= 0 {
		return math.Pow10(point - len(digits))
	}
	return math.Pow10(len(digits) - len(strings.TrimRight(digits, "0")))
}

func (j Job) altitude() float64 {
	e, p := present.Read(j.Before.Text[present.Altitude], field(present.Altitude), j.Units)
	if p != nil && p.Level == present.Refused {
		return 0 // the default of Case
	}
	return e.Value
}

func isVacuum(id present.FieldID) bool { return field(id).Kind == unit.AbsolutePressure }

// vacuum reads an absolute pressure. Inches of mercury, and bar or psi below zero, are
// what a compound gauge shows below the local air, so the altitude makes them absolute.
func (r *reader) vacuum(id present.FieldID, text string, altitude float64) (present.Entry, bool) {
	g, err := present.Parse(text, unit.GaugePressure, unit.PSI)
	below := g.Unit == unit.InHg || g.Typed && g.Value < 0 // −0.95 bar is no absolute pressure
	if err != nil || !below || g.Swing || g.AtLeast || g.AtMost {
		return r.optional(id, text)
	}
	atm := float64(air.AtmosphericPressure(altitude))
	abs := g.Value + atm
	if abs < 0 {
		r.note(id, present.VacuumTooDeep, present.Asked, map[string]any{
			"value": present.Amount{Value: g.Value, Kind: unit.GaugePressure, Unit: g.Unit},
			"limit": present.Amount{Value: -atm, Kind: unit.GaugePressure, Unit: g.Unit},
		})
		abs = 0
	}
	return present.Entry{Value: abs, Lo: abs, Hi: abs, Unit: g.Unit, Typed: true, Decimal: g.Decimal}, true
}
