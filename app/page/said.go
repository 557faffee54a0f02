package page

import (
	"twoneedles/app/claim"
	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Said is what the page claims of the car before the repair; the zero Claim where there
// is no answer.
func (s *Page) Said() claim.Claim {
	a := s.Answer()
	switch {
	case a.State == Resting:
		in, need := s.Job.AtRest(s.Case())
		return claim.AtRest(s.Voice(), in, need)
	case a.State != Answered || len(a.Report.Ranking) == 0:
		return claim.Claim{}
	case a.Report.Group == diagnose.GroupEqual && s.Job.Before.Engine == "" && a.Report.Ranking[0].ID != car.Empty: // which it is either way
		return claim.Engine(s.Words)
	}
	return claim.Of(s.Words, a.Report, a.Of.Readings, a.Planned)
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
