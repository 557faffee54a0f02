// Package sums does the sums of a job: what was typed becomes the inputs of refrig/service,
// and what is missing for them gets its code. It knows no screen.
package sums

import (
	"slices"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// Result is the outcome of one sum of the job: what is still missing for it, or why
// it could not be done, or the result. The words of a need are job.need.<code>.
type Result[T any] struct {
	Need []string
	Err  error
	Is   T
}

func (s Result[T]) Ready() bool { return len(s.Need) == 0 && s.Err == nil }

// Sums turns what was typed into the inputs of refrig/service. It does no sums of
// its own and knows no screen.
type Sums struct {
	job  job.Job
	of   car.Case // the visit before the repair as the model sees it
	miss []string // what the sum at hand has found missing
}

// Of are the sums of a job; c is its visit before the repair as the model sees it.
func Of(j job.Job, c car.Case) *Sums { return &Sums{job: j, of: c} }

// done ends a sum: nothing is asked of the service while something is missing.
func done[T any](s *Sums, do func() (T, error)) Result[T] {
	out := Result[T]{Need: s.miss}
	s.miss = nil
	if len(out.Need) == 0 {
		out.Is, out.Err = do()
	}
	return out
}

func (s *Sums) lacks(code string) {
	if !slices.Contains(s.miss, code) {
		s.miss = append(s.miss, code)
	}
}

// number reads a text of the job; without one the code is noted as missing, unless
// it is "".
func (s *Sums) number(id present.FieldID, code string) (float64, bool) {
	e, ok, _ := s.job.Number(id)
	if !ok && code != "" {
		s.lacks(code)
	}
	return e.Value, ok
}

func (s *Sums) Label() float64 {
	kg, _ := s.number(present.LabelCharge, "label")
	return kg
}

// temperature is the one typed for the step, or else that of the outside air.
func (s *Sums) temperature(id present.FieldID) refrig.Temperature {
	if k, ok := s.number(id, ""); ok {
		return refrig.Temperature(k)
	}
	if s.of.Weather.Ambient == 0 {
		s.lacks("ambient")
	}
	return refrig.Temperature(s.of.Weather.Ambient)
}

func (s *Sums) refrigerant() string {
	if s.of.Car.Refrigerant == "" {
		s.lacks("refrigerant")
	}
	return s.of.Car.Refrigerant
}

// Recovered is the mass on the machine's display in kg. It is the reading of the
// same name, which the model takes as a share of the label.
func (s *Sums) Recovered() float64 {
	f, _ := present.FieldOf(present.FieldID(car.Recovered))
	e, p := present.Read(s.job.Before.Readings[car.Recovered].Text, f, s.job.Units)
	if p != nil && p.Level != present.Asked { // an odd mass is asked about beside its field, and counts as typed
		s.lacks("recovered")
	}
	return e.Value
}

func (s *Sums) Resting() Result[service.Resting] {
	in, need := s.job.AtRest(s.of)
	for _, code := range need {
		s.lacks(code)
	}
	return done(s, func() (service.Resting, error) { return service.AtRest(in) })
}

func (s *Sums) Recovery() Result[service.Recovery] { return s.recoveryAgainst(s.Label()) }

func (s *Sums) recoveryAgainst(label float64) Result[service.Recovery] {
	oil, _ := s.number(present.OilOut, "")
	in := service.RecoveryInput{Recovered: s.Recovered(), Label: label, Temperature: s.temperature(present.OutTemp),
		Refrigerant: s.of.Car.Refrigerant, Oil: oil}
	return done(s, func() (service.Recovery, error) { return service.Recover(in) })
}

// Leak is how fast it leaks: from what was in it once to what was recovered. lost is
// false where nothing is missing, which is no leak to compute.
func (s *Sums) Leak() (out Result[service.LeakReport], lost bool) {
	start, ok := s.number(present.MassAtStart, "")
	if !ok {
		start = s.Label()
	}
	months, _ := s.number(present.LeakMonths, "months")
	needs := s.miss
	s.miss = nil
	rec := s.recoveryAgainst(start)
	for _, n := range append(needs, rec.Need...) {
		s.lacks(n)
	}
	lost = rec.Ready() && rec.Is.Missing.Value > 0
	if rec.Ready() && !lost {
		s.miss = nil
		return Result[service.LeakReport]{}, false
	}
	return done(s, func() (service.LeakReport, error) {
		if rec.Err != nil {
			return service.LeakReport{}, rec.Err
		}
		return service.Leak(service.LeakInput{Label: start, Lost: rec.Is.Missing, Months: months,
			Evaporators: s.of.Car.Evaporators, Refrigerant: s.of.Car.Refrigerant})
	}), true
}

// Parts are the replaced parts that the oil and the notes know.
func (s *Sums) Parts() []service.Part {
	var out []service.Part
	for _, p := range service.Parts() {
		if slices.Contains(s.job.Repair.Parts, string(p)) {
			out = append(out, p)
		}
	}
	return out
}

func (s *Sums) Oil() Result[service.OilPlan] {
	r := s.job.Repair
	in := service.OilInput{Replaced: s.Parts(), Drained: map[service.Part]float64{}, Filled: map[service.Part]float64{},
		LargeLeak: r.SuddenLeak, Flushed: r.Flushed}
	in.Recovered, _ = s.number(present.OilOut, "")
	in.Label, _ = s.number(present.LabelOil, "")
	for part, id := range map[service.Part]present.FieldID{
		service.Compressor: present.DrainedCompressor, service.Accumulator: present.DrainedAccumulator,
	} {
		if v, ok := s.number(id, ""); ok {
			in.Drained[part] = v
		}
	}
	if v, ok := s.number(present.NewCompressorOil, ""); ok {
		in.Filled[service.Compressor] = v
	}
	return done(s, func() (service.OilPlan, error) { return service.OilToAdd(in) })
}

// Notes are what to prepare and mind for the work at hand.
func (s *Sums) Notes() []service.Note {
	r := s.job.Repair
	return service.RepairNotes(service.RepairInput{Car: s.of.Car, Replaced: s.Parts(), Opened: r.Opened, Broken: s.broken()})
}

// broken is a failed compressor: it counts only while the compressor is among the parts.
func (s *Sums) broken() bool {
	return s.job.Repair.Broken && slices.Contains(s.job.Repair.Parts, string(service.Compressor))
}

func (s *Sums) Retrofit() Result[service.RetrofitPlan] {
	r12, _ := s.number(present.R12Charge, "r12")
	return done(s, func() (service.RetrofitPlan, error) { return service.Retrofit(r12) })
}

func (s *Sums) PressureTest() Result[service.PressureTest] {
	start, _ := s.number(present.LeakPressure, "test_pressure")
	end, _ := s.number(present.RetestEnd, "test_end")
	seconds, _ := s.number(present.RetestTime, "test_time")
	in := service.PressureTestInput{Start: refrig.Gauge(start), End: refrig.Gauge(end), Time: seconds,
		StartTemperature: s.temperature(present.RetestStartTemp), Altitude: s.of.Weather.Altitude,
		Volume: s.volume(), Refrigerant: s.of.Car.Refrigerant}
	in.EndTemperature = in.StartTemperature
	if k, ok := s.number(present.RetestEndTemp, ""); ok {
		in.EndTemperature = refrig.Temperature(k)
	}
	in.Label, _ = s.number(present.LabelCharge, "")
	return done(s, func() (service.PressureTest, error) { return service.HoldPressure(in) })
}

// What the search under gas came to; the values end the keys of its sentences.
const (
	GasLeak  = "leak"  // somebody found one, or the needle fell
	GasTight = "tight" // every joint was searched
	GasHolds = "holds" // nobody said what the search found, and the needle stood
)

// UnderGas is what is known of the search under gas, "" where nothing is. A needle that
// fell counts more than a search that found nothing.
func (s *Sums) UnderGas() string {
	p := s.PressureTest()
	switch {
	case s.job.Repair.Retest == GasLeak, p.Ready() && p.Is.Verdict == service.PressureLeak:
		return GasLeak
	case s.job.Repair.Retest == GasTight:
		return GasTight
	case p.Ready() && p.Is.Verdict == service.PressureHolds:
		return GasHolds
	}
	return ""
}

// volume is the inner volume of the system, as typed or estimated.
func (s *Sums) volume() service.Estimate {
	if v, ok := s.number(present.SystemVolume, ""); ok {
		return service.Estimate{Value: v, Lo: v, Hi: v}
	}
	return service.Volume(s.of.Car)
}

func (s *Sums) Vacuum() Result[service.Evacuation] {
	e, ok, _ := s.job.Number(present.VacuumReached)
	if !ok {
		s.lacks("vacuum")
	}
	p := refrig.Pressure(e.Value)
	in := service.EvacuationInput{Pressure: p, ReadingError: service.ElectronicError(p),
		Ambient: s.temperature(present.Soak), Altitude: s.of.Weather.Altitude}
	if e.Unit.Kind() == unit.GaugePressure {
		in.ReadingError = service.NeedleError
	}
	return done(s, func() (service.Evacuation, error) { return service.Evacuate(in) })
}

// HoldInput is the hold test as typed, and what is missing for it.
func (s *Sums) HoldInput() (in service.HoldInput, miss []string) {
	points, _ := s.job.HoldReadings()
	if len(points) < 2 {
		s.lacks("points")
	}
	in = service.HoldInput{Sigma: service.SigmaElectronic, Finest: service.FinestElectronic, Ambient: s.temperature(present.Soak),
		Altitude: s.of.Weather.Altitude, Refrigerant: s.of.Car.Refrigerant, Evaporators: s.of.Car.Evaporators, Volume: s.volume()}
	for i, p := range points {
		in.Points = append(in.Points, service.HoldPoint{Time: p.Time, Pressure: refrig.Pressure(p.Pressure)})
		if p.Coarse {
			in.Sigma, in.Finest = service.SigmaNeedle, 0
		}
		if i == 0 || p.Step < in.Step {
			in.Step = p.Step
		}
	}
	miss, s.miss = s.miss, nil
	return in, miss
}

var hoseStates = map[string]service.HoseState{"": service.HosesDrawnIn, "drawn_in": service.HosesDrawnIn,
	"liquid": service.HosesLiquid, "vapour": service.HosesVapour}

func (s *Sums) Charge() Result[service.ChargePlan] {
	in := service.ChargeInput{Refrigerant: s.refrigerant(), Label: s.Label(), Hoses: hoseStates[s.job.Repair.Hoses],
		Temperature: s.temperature(present.OutTemp), Evaporators: s.of.Car.Evaporators}
	if in.Hoses != service.HosesDrawnIn {
		length, _ := s.number(present.HoseLength, "hose_length")
		bore, _ := s.number(present.HoseBore, "hose_bore")
		in.HoseVolume = service.HoseVolume(length, bore)
	}
	return done(s, func() (service.ChargePlan, error) { return service.Charge(in) })
}

func (s *Sums) Charged() Result[service.Charged] {
	plan := s.Charge()
	s.miss = plan.Need
	kg, _ := s.number(present.MassIn, "mass_in")
	return done(s, func() (service.Charged, error) {
		if plan.Err != nil {
			return service.Charged{}, plan.Err
		}
		return plan.Is.Weighed(kg)
	})
}

// Proof compares the visit after the repair with what its own report expects of a
// healthy car. It wants the answer to that visit, and what
// the hold test said; an empty result is no test.
func (s *Sums) Proof(a *page.Answer, held Result[service.HoldReport]) Result[service.Proof] {
	if a.State != page.Answered {
		for _, id := range a.Missing {
			s.lacks("after_" + string(id))
		}
		if len(a.Missing) == 0 {
			s.lacks("after_answer")
		}
	}
	in := service.ProofInput{Ambient: refrig.Temperature(a.Of.Weather.Ambient), Humidity: a.Of.Weather.Humidity,
		HumidityKnown: a.Of.Weather.HumidityKnown, RPM: a.Of.Running.RPM}
	expected := func(q car.Quantity) (float64, service.Estimate) {
		for _, e := range a.Report.Evidence {
			if e.Quantity == q && e.HasExpected {
				return e.Reading.Value, service.Estimate{Value: e.Median, Lo: e.Expected.Lo, Hi: e.Expected.Hi}
			}
		}
		if a.State == page.Answered {
			s.lacks("after_" + string(q))
		}
		return 0, service.Estimate{}
	}
	var low, high, vent float64
	low, in.LowExpected = expected(car.Low)
	high, in.HighExpected = expected(car.High)
	vent, in.VentExpected = expected(car.Vent)
	in.Low, in.High, in.Vent = refrig.Gauge(low), refrig.Gauge(high), refrig.Temperature(vent)
	in.Deviation = a.Report.Deviation.Square
	miss := s.miss
	s.miss = nil
	if s.job.CircuitTouched() {
		in.Charge, in.Leak = s.chargeCheck(), s.leakCheck(held)
	}
	s.miss = miss
	return done(s, func() (service.Proof, error) { return service.Prove(in) })
}

func (s *Sums) chargeCheck() service.Check {
	switch c := s.Charged(); {
	case !c.Ready():
		return service.CheckOpen
	case c.Is.Label == service.InsideBand:
		return service.CheckGood
	}
	return service.CheckBad
}

// leakCheck is what the search under gas found, or the pressure that was left on it. A
// vacuum that rose as with a leak counts against it too, one that held for nothing.
// What was found and closed is no leak any more, so the places found do not count.
func (s *Sums) leakCheck(held Result[service.HoldReport]) service.Check {
	if held.Ready() && (held.Is.Verdict == service.HoldLeak || held.Is.Verdict == service.HoldBoth) {
		return service.CheckBad
	}
	switch s.UnderGas() {
	case GasLeak:
		return service.CheckBad
	case GasTight:
		return service.CheckGood
	}
	return service.CheckOpen
}
