package job

import (
	"math"
	"strconv"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Past is an earlier visit as it goes along with a job that is handed on: the jobs of the
// car stay behind, and without it the same readings would get another answer there. In SI,
// with what the answer takes of the visit and nothing else.
type Past struct {
	Months      float64                  `json:"months"`
	Charge      float64                  `json:"charge,omitempty"`
	Refrigerant string                   `json:"refrigerant,omitempty"`
	Air         map[string]float64       `json:"air,omitempty"` // pastAir, what was known
	Recirc      bool                     `json:"recirc,omitempty"`
	Doors       string                   `json:"doors,omitempty"`
	Soaked      bool                     `json:"soaked,omitempty"`
	Readings    map[car.Quantity]float64 `json:"readings,omitempty"`
}

// pastAir are the keys of Past.Air.
var pastAir = []string{"ambient", "humidity", "altitude", "rpm", "blower", "soak"}

// PastOf writes a visit. Its numbers have five digits, more than any gauge.
func PastOf(v car.Visit) Past {
	p := Past{Months: digits(v.Months), Charge: digits(v.Charge), Refrigerant: v.Refrigerant, Recirc: v.Running.Recirc,
		Doors: v.Running.Doors.Code(), Soaked: v.Rest.Soaked, Air: map[string]float64{}, Readings: map[car.Quantity]float64{}}
	put := func(key string, si float64, known bool) {
		if known && si != 0 {
			p.Air[key] = digits(si)
		}
	}
	put("ambient", v.Weather.Ambient, true)
	put("humidity", v.Weather.Humidity, v.Weather.HumidityKnown)
	put("altitude", v.Weather.Altitude, true)
	put("rpm", v.Running.RPM, v.Running.RPMKnown)
	put("blower", v.Running.Blower, true)
	put("soak", v.Rest.Temperature, true)
	for q, r := range v.Readings.Steadied() {
		if r.Choice == "" && !r.Swing {
			p.Readings[q] = digits(r.Value)
		}
	}
	return p
}

// digits rounds to five digits.
func digits(x float64) float64 {
	y, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', 5, 64), 64)
	if err != nil {
		return x
	}
	return y
}

// visit reads it again; what is not there is taken as a case takes it.
func (p Past) visit() car.Visit {
	v := car.Visit{Refrigerant: p.Refrigerant, Months: p.Months, Charge: p.Charge, Readings: car.Readings{},
		Weather: car.Weather{Ambient: p.Air["ambient"], Humidity: defaultHumidity, Altitude: p.Air["altitude"]},
		Running: car.Running{RPM: defaultRPM, Blower: defaultBlower, Recirc: p.Recirc},
		Rest:    car.Rest{Temperature: p.Air["soak"], Soaked: p.Soaked}}
	if h, ok := p.Air["humidity"]; ok {
		v.Weather.Humidity, v.Weather.HumidityKnown = h, true
	}
	if rpm, ok := p.Air["rpm"]; ok {
		v.Running.RPM, v.Running.RPMKnown = rpm, true
	}
	if b, ok := p.Air["blower"]; ok {
		v.Running.Blower = b
	}
	v.Running.Doors, _ = car.DoorsOf(p.Doors)
	for q, x := range p.Readings {
		v.Readings[q] = car.Reading{Value: x}
	}
	return v
}

// sent are the visits that came along with the job, as the list shows them.
func (j Job) sent() []SoundVisit {
	var out []SoundVisit
	for i, p := range j.Past {
		v := SoundVisit{Name: "past." + strconv.Itoa(i), Units: j.Units, Is: p.visit()}
		if !j.Created.IsZero() && math.Abs(p.Months) < 1e4 {
			v.At = j.Created.Add(-time.Duration(p.Months * month))
		}
		write := func(si float64, k unit.Kind) string {
			u := j.Units.For(k)
			return u.Text(u.FromSI(si))
		}
		for _, q := range []car.Quantity{car.Low, car.High, car.Vent} {
			if x, ok := p.Readings[q]; ok {
				v.Typed.SetReading(q, Reading{Text: write(x, q.Info().Kind)})
			}
		}
		if t := p.Air["ambient"]; t > 0 {
			v.Typed.SetText(present.Ambient, write(t, unit.Temperature))
		}
		out = append(out, v)
	}
	return out
}
