package repair

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

// sum is the outcome of one sum of the job: what is still missing for it, or why
// it could not be done, or the result. The words of a need are job.need.<code>.
type sum[T any] struct {
	Need []string
	Err  error
	Is   T
}

func (s sum[T]) ready() bool { return len(s.Need) == 0 && s.Err == nil }

// sums turns what was typed into the inputs of refrig/service. It does no sums of
// its own and knows no screen.
type sums struct {
	job  job.Job
	of   car.Case                // the visit before the repair as the model sees it
	held sum[service.HoldReport] // the hold test, where a sum wants it
	miss []string                // what the sum at hand has found missing
}

func sumsOf(j job.Job, c car.Case) *sums { return &sums{job: j, of: c} }

// done ends a sum: nothing is asked of the service while something is missing.
func done[T any](s *sums, do func() (T, error)) sum[T] {
	out := sum[T]{Need: s.miss}
	s.miss = nil
	if len(out.Need) == 0 {
		out.Is, out.Err = do()
	}
	return out
}

func (s *sums) lacks(code string) {
	if !slices.Contains(s.miss, code) {
		s.miss = append(s.miss, code)
	}
}

// number reads a text of the job; without one the code is noted as missing, unless
// it is "".
func (s *sums) number(id present.FieldID, code string) (float64, bool) {
	e, ok, _ := s.job.Number(id)
	if !ok && code != "" {
		s.lacks(code)
	}
	return e.Value, ok
}

func (s *sums) label() float64 {
	kg, _ := s.number(present.LabelCharge, "label")
	return kg
}

// temperature is the one typed for the step, or else that of the outside air.
func (s *sums) temperature(id present.FieldID) refrig.Temperature {
	if k, ok := s.number(id, ""); ok {
		return refrig.Temperature(k)
	}
	if s.of.Weather.Ambient == 0 {
		s.lacks("ambient")
	}
	return refrig.Temperature(s.of.Weather.Ambient)
}

func (s *sums) refrigerant() string {
	if s.of.Car.Refrigerant == "" {
		s.lacks("refrigerant")
	}
	return s.of.Car.Refrigerant
}

// recovered is the mass on the machine's display in kg. It is the reading of the
// same name, which the model takes as a share of the label.
func (s *sums) recovered() float64 {
	f, _ := present.FieldOf(present.FieldID(car.Recovered))
	e, p := present.Read(s.job.Before.Readings[car.Recovered].Text, f, s.job.Units)
	if p != nil && p.Level != present.Asked { // an odd mass is asked about beside its field, and counts as typed
		s.lacks("recovered")
	}
	return e.Value
}

func (s *sums) resting() sum[service.Resting] {
	in, need := page.AtRest(s.job, s.of)
	for _, code := range need {
		s.lacks(code)
	}
	return done(s, func() (service.Resting, error) { return service.AtRest(in) })
}

func (s *sums) recovery() sum[service.Recovery] { return s.recoveryAgainst(s.label()) }

func (s *sums) recoveryAgainst(label float64) sum[service.Recovery] {
	oil, _ := s.number(present.OilOut, "")
	in := service.RecoveryInput{Recovered: s.recovered(), Label: label, Temperature: s.temperature(present.OutTemp),
		Refrigerant: s.of.Car.Refrigerant, Oil: oil}
	return done(s, func() (service.Recovery, error) { return service.Recover(in) })
}

// leak is how fast it leaks: from what was in it once to what was recovered. ok is
// false where nothing is missing, which is no leak to compute.
func (s *sums) leak() (out sum[service.LeakReport], lost bool) {
	start, ok := s.number(present.MassAtStart, "")
	if !ok {
		start = s.label()
	}
	months, _ := s.number(present.LeakMonths, "months")
	needs := s.miss
	s.miss = nil
	rec := s.recoveryAgainst(start)
	for _, n := range append(needs, rec.Need...) {
		s.lacks(n)
	}
	lost = rec.ready() && rec.Is.Missing.Value > 0
	if rec.ready() && !lost {
		s.miss = nil
		return sum[service.LeakReport]{}, false
	}
	return done(s, func() (service.LeakReport, error) {
		if rec.Err != nil {
			return service.LeakReport{}, rec.Err
		}
		return service.Leak(service.LeakInput{Label: start, Lost: rec.Is.Missing, Months: months,
			Evaporators: s.of.Car.Evaporators, Refrigerant: s.of.Car.Refrigerant})
	}), true
}

// parts are the replaced parts that the oil and the notes know.
func (s *sums) parts() []service.Part {
	var out []service.Part
	for _, p := range service.Parts() {
		if slices.Contains(s.job.Repair.Parts, string(p)) {
			out = append(out, p)
		}
	}
	return out
}

func (s *sums) oil() sum[service.OilPlan] {
	r := s.job.Repair
	in := service.OilInput{Replaced: s.parts(), Drained: map[service.Part]float64{}, Filled: map[service.Part]float64{},
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

// notes are what to prepare and mind for the work at hand.
func (s *sums) notes() []service.Note {
	r := s.job.Repair
	return service.RepairNotes(service.RepairInput{Car: s.of.Car, Replaced: s.parts(), Opened: r.Opened, Broken: s.broken()})
}

// broken is a failed compressor: it counts only while the compressor is among the parts.
func (s *sums) broken() bool {
	return s.job.Repair.Broken && slices.Contains(s.job.Repair.Parts, string(service.Compressor))
}

func (s *sums) retrofit() sum[service.RetrofitPlan] {
	r12, _ := s.number(present.R12Charge, "r12")
	return done(s, func() (service.RetrofitPlan, error) { return service.Retrofit(r12) })
}

func (s *sums) pressureTest() sum[service.PressureTest] {
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
	gasLeak  = "leak"  // somebody found one, or the needle fell
	gasTight = "tight" // every joint was searched
	gasHolds = "holds" // nobody said what the search found, and the needle stood
)

// underGas is what is known of the search under gas, "" where nothing is. A needle that
// fell counts more than a search that found nothing.
func (s *sums) underGas() string {
	p := s.pressureTest()
	switch {
	case s.job.Repair.Retest == gasLeak, p.ready() && p.Is.Verdict == service.PressureLeak:
		return gasLeak
	case s.job.Repair.Retest == gasTight:
		return gasTight
	case p.ready() && p.Is.Verdict == service.PressureHolds:
		return gasHolds
	}
	return ""
}

// volume is the inner volume of the system, as typed or estimated.
func (s *sums) volume() service.Estimate {
	if v, ok := s.number(present.SystemVolume, ""); ok {
		return service.Estimate{Value: v, Lo: v, Hi: v}
	}
	return service.Volume(s.of.Car)
}

func (s *sums) vacuum() sum[service.Evacuation] {
	e, ok, _ := s.job.Number(present.VacuumReached)
	if !ok {
		s.lacks("vacuum")
	}
	p := refrig.Pressure(e.Value)
	in := service.EvacuationInput{Pressure: p, ReadingError: service.ElectronicError(p),
		Ambient: s.temperature(present.Soak), Altitude: s.of.Weather.Altitude}
	if e.Unit == unit.InHg {
		in.ReadingError = service.NeedleError
	}
	return done(s, func() (service.Evacuation, error) { return service.Evacuate(in) })
}

// holdInput is the hold test as typed, and what is missing for it.
func (s *sums) holdInput() (in service.HoldInput, miss []string) {
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

func (s *sums) charge() sum[service.ChargePlan] {
	in := service.ChargeInput{Refrigerant: s.refrigerant(), Label: s.label(), Hoses: hoseStates[s.job.Repair.Hoses],
		Temperature: s.temperature(present.OutTemp), Evaporators: s.of.Car.Evaporators}
	if in.Hoses != service.HosesDrawnIn {
		length, _ := s.number(present.HoseLength, "hose_length")
		bore, _ := s.number(present.HoseBore, "hose_bore")
		in.HoseVolume = service.HoseVolume(length, bore)
	}
	return done(s, func() (service.ChargePlan, error) { return service.Charge(in) })
}

func (s *sums) charged() sum[service.Charged] {
	plan := s.charge()
	s.miss = plan.Need
	kg, _ := s.number(present.MassIn, "mass_in")
	return done(s, func() (service.Charged, error) {
		if plan.Err != nil {
			return service.Charged{}, plan.Err
		}
		return plan.Is.Weighed(kg)
	})
}

// proof compares the visit after the repair with what its own report expects of a
// healthy car. It wants the answer to that visit.
func (s *sums) proof(a *page.Answer) sum[service.Proof] {
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
		in.Charge, in.Leak = s.chargeCheck(), s.leakCheck()
	}
	s.miss = miss
	return done(s, func() (service.Proof, error) { return service.Prove(in) })
}

func (s *sums) chargeCheck() service.Check {
	switch c := s.charged(); {
	case !c.ready():
		return service.CheckOpen
	case c.Is.Label == service.InsideBand:
		return service.CheckGood
	}
	return service.CheckBad
}

// leakCheck is what the search under gas found, or the pressure that was left on it. A
// vacuum that rose as with a leak counts against it too, one that held for nothing.
// What was found and closed is no leak any more, so the places found do not count.
func (s *sums) leakCheck() service.Check {
	if h := s.held; h.ready() && (h.Is.Verdict == service.HoldLeak || h.Is.Verdict == service.HoldBoth) {
		return service.CheckBad
	}
	switch s.underGas() {
	case gasLeak:
		return service.CheckBad
	case gasTight:
		return service.CheckGood
	}
	return service.CheckOpen
}
