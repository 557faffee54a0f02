package sums

import (
	"strings"
	"testing"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// A charge that nobody weighed and a leak that nobody looked for are asked for where
// the circuit was touched, and only there.
func TestProofFollowsTheReport(t *testing.T) {
	report := func(deviation float64) *page.Answer {
		e := func(q car.Quantity, v, lo, hi float64) diagnose.Evidence {
			return diagnose.Evidence{Quantity: q, Reading: car.Reading{Value: v}, HasExpected: true, Median: (lo + hi) / 2, Expected: car.Interval{Lo: lo, Hi: hi}}
		}
		return &page.Answer{State: page.Answered, Of: car.Case{Weather: car.Weather{Ambient: 294, Humidity: .3, HumidityKnown: true}, Running: car.Running{RPM: 1500}},
			Report: diagnose.Report{Deviation: diagnose.Deviation{Square: deviation},
				Evidence: []diagnose.Evidence{e(car.Low, 2e5, 1.8e5, 2.4e5), e(car.High, 12e5, 11e5, 14e5), e(car.Vent, 280, 278, 283)}}}
	}
	var fan, opened, weighed job.Job
	fan.Repair.Parts = []string{"blower"}
	opened.Repair.Opened = true
	weighed.Repair.Retest = "tight"
	weighed.Car.Refrigerant = car.R134a
	weighed.Units = unit.Metric()
	weighed.SetText(present.LabelCharge, "600")
	weighed.SetText(present.MassIn, "600")
	weighed.SetText(present.OutTemp, "25")
	short := weighed.Clone()
	short.SetText(present.MassIn, "400")
	leaks := weighed.Clone()
	leaks.Repair.Retest = "leak"
	gas := fan.Clone() // gas went in: the circuit was not left alone
	gas.Repair.Retest = "leak"
	pumped := fan.Clone()
	pumped.Repair.Done = []string{"evacuate"}
	for _, c := range []struct {
		name      string
		job       job.Job
		deviation float64
		want      service.Outcome
		because   string
		hold      service.HoldVerdict
	}{
		{name: "a fan", job: fan, deviation: 1, want: service.Proved},
		{name: "a fan, at the edge", job: fan, deviation: 8, want: service.AtTheEdge, because: "readings"},
		{name: "a fan, far out", job: fan, deviation: 12, want: service.NotProved, because: "readings"},
		{name: "opened", job: opened, deviation: 1, want: service.AtTheEdge, because: "leak_open charge_open"},
		{name: "weighed", job: weighed, deviation: 1, want: service.Proved},
		{name: "short", job: short, deviation: 1, want: service.NotProved, because: "charge"},
		{name: "leaks", job: leaks, deviation: 1, want: service.NotProved, because: "leak"},
		{name: "leaks, nothing else noted", job: gas, deviation: 1, want: service.NotProved, because: "leak"},
		{name: "pumped out, nothing else noted", job: pumped, deviation: 1, want: service.AtTheEdge, because: "leak_open charge_open"},
		{name: "weighed, the vacuum held", job: weighed, deviation: 1, want: service.Proved, hold: service.HoldTight},
		{name: "weighed, the vacuum rose", job: weighed, deviation: 1, want: service.NotProved, because: "leak", hold: service.HoldLeak},
		{name: "opened, the vacuum held", job: opened, deviation: 1, want: service.AtTheEdge, because: "leak_open charge_open", hold: service.HoldTight},
	} {
		of, _ := c.job.Case()
		p := Of(c.job, of).Proof(report(c.deviation), Result[service.HoldReport]{Is: service.HoldReport{Verdict: c.hold}})
		if !p.Ready() || p.Is.Outcome != c.want || strings.Join(p.Is.Because, " ") != c.because || !p.Is.Vents.Applies {
			t.Errorf("%s: %+v, want %s because %q", c.name, p, c.want, c.because)
		}
	}
	if p := Of(fan, car.Case{}).Proof(&page.Answer{State: page.Missing, Missing: []present.FieldID{"high"}}, Result[service.HoldReport]{}); strings.Join(p.Need, " ") != "after_high" {
		t.Errorf("needs %v", p.Need)
	}
}
