package page

import (
	"strings"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// AtRest is what the job says of the car at rest, and what is missing of it: "resting"
// the pressure, "ambient" a temperature. Where the car's own was not taken, that of the
// outside air stands for it; where one gauge was read, it stands for both.
func AtRest(j job.Job, c car.Case) (in service.RestingInput, need []string) {
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

// SetEngine says whether the engine runs. What both needles show with the engine off is
// a resting pressure: off, the two numbers become that, and there is none yet of the
// running car. The job as it was can be brought back.
func (s *Page) SetEngine(engine string) {
	before := s.Job.Clone()
	if before.Before.Engine == engine {
		return
	}
	v := &s.Job.Before
	v.Engine = engine
	if low, high := v.Readings[car.Low], v.Readings[car.High]; engine == job.EngineOff && (low.Text != "" || high.Text != "") {
		if low.Text == "" {
			low = high
		}
		v.SetReading(car.Resting, job.Reading{Text: low.Text})
		s.Job.SetText(present.RestingHigh, high.Text)
		v.SetReading(car.Low, job.Reading{})
		v.SetReading(car.High, job.Reading{})
		s.previous, s.owned = &before, false
	}
	s.Tried() // an invented car stays one
	s.SyncInputs()
}

// saidAtRest is what two needles at rest say, and what to do then.
func (s *Page) saidAtRest() Said {
	w := s.Words
	in, need := AtRest(s.Job, s.Case())
	if len(need) > 0 {
		return Said{Bar: w.T("readings.rest.need_" + need[0])}
	}
	r, err := service.AtRest(in)
	if err != nil {
		m := s.Voice().Error(err)
		return Said{Title: m.What, Technician: m.Why, Step: Step{Text: m.Next}, Bar: m.What}
	}
	key := "job.rest." + string(r.Finding)
	said := Said{Title: w.T(key + ".short"), Technician: w.Text(key+".says", nil), Step: Step{Text: w.T("readings.rest.then_" + string(r.Finding))}}
	said.Customer = w.T("verdict.engine.customer")
	if r.Saturation != nil {
		v := s.Voice()
		said.Technician = w.T("readings.two_sentences", "first", said.Technician, "second", w.T("readings.rest.saturation",
			"value", v.Quantity(r.Saturation.Value, unit.GaugePressure), "range", v.Range(r.Saturation.Lo, r.Saturation.Hi, unit.GaugePressure)))
	}
	said.Bar = w.T("readings.two_sentences", "first", ended(said.Title), "second", said.Step.Text)
	return said
}

// ended is a title as a sentence.
func ended(title string) string {
	if strings.HasSuffix(title, "?") {
		return title
	}
	return title + "."
}

// saidEngine is what can be said of two needles that stand together before it is known
// whether the engine runs: off, they should; running, nothing pumps.
func (s *Page) saidEngine() Said {
	w := s.Words
	title, act := w.T("verdict.engine.name"), w.T("verdict.engine.act")
	return Said{AskEngine: true, Verdict: diagnose.CannotTell, Title: title, Technician: w.T("verdict.engine.tech"),
		Customer: w.T("verdict.engine.customer"), Step: Step{Text: act}, Bar: w.T("readings.two_sentences", "first", ended(title), "second", act)}
}
