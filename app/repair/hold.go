package repair

import (
	"math"
	"reflect"
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/chart"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// held is the last hold test and what it said: asking costs more than a keystroke has.
type held struct {
	in  service.HoldInput
	out sums.Result[service.HoldReport]
}

// hold is what the points of the hold test say.
func (s *Place) hold() sums.Result[service.HoldReport] {
	in, miss := sums.Of(s.Job, s.Case()).HoldInput()
	if len(miss) > 0 {
		return sums.Result[service.HoldReport]{Need: miss}
	}
	if !reflect.DeepEqual(in, s.held.in) {
		r, err := service.Hold(in)
		s.held = held{in, sums.Result[service.HoldReport]{Is: r, Err: err}}
	}
	return s.held.out
}

// proof is what the visit after the repair proves, the hold test with it.
func (s *Place) proof() sums.Result[service.Proof] {
	return sums.Of(s.Job, s.Case()).Proof(s.After(), s.hold())
}

// holdTimes are when to read a hold test: often at first, where a curve bends, then
// less (judgement; ten and twenty minutes are those of the published rules).
var holdTimes = []time.Duration{0, 2 * time.Minute, 5 * time.Minute, 10 * time.Minute, 15 * time.Minute, 20 * time.Minute,
	30 * time.Minute, 45 * time.Minute, 60 * time.Minute}

// holdRuns tells if the clock of the hold test runs.
func (s *Place) holdRuns() bool { return s.runs(s.Job.Repair.HoldStart) }

// holdDue is when the next reading is due: the first of holdTimes after the last
// reading; 0 for never.
func (s *Place) holdDue() time.Duration {
	points, _ := s.Job.HoldReadings()
	if len(points) == 0 {
		return 0
	}
	last := time.Duration(points[len(points)-1].Time * float64(time.Second))
	for _, t := range holdTimes {
		if t > last+30*time.Second { // a reading half a minute early is that reading
			return t
		}
	}
	return 0
}

// holdClock is the clock of the test with its buttons.
func (c *stepCard) holdClock() app.UI {
	s, w := c.s, c.s.Words
	button := func(id, class string, do func()) app.UI {
		return page.Button("hold-"+id, class, w.T("job.clock."+id), do)
	}
	if !s.holdRuns() {
		body := []app.UI{button("start", "btn main", s.startHold)}
		switch {
		case len(s.Job.Repair.Hold) > 0:
			body = []app.UI{button("clear", "btn", s.clearHold)}
		case len(s.cleared) > 0:
			body = append(body, button("restore", "btn", s.restoreHold))
		}
		return app.Div().ID("hold-clock").Class("row").Body(body...)
	}
	due := s.holdDue()
	text := w.T("job.clock.type")
	if due > 0 {
		text = w.T("job.clock.next", "time", s.Voice().Quantity(due.Seconds(), unit.Duration))
	}
	return app.Div().ID("hold-clock").Body(
		&clock{Lang: s.Lang(), ID: "hold-time-now", Start: s.Job.Repair.HoldStart, Due: due, Text: text, Now: w.T("job.clock.now"), now: s.now,
			onDue: func() { browser.Notify("hold", w.T("job.hold.title"), w.T("job.clock.now")) }},
		app.Div().Class("row").Body(button("read", "btn main", s.readHold), button("stop", "btn", s.stopHold)),
		app.P().Class("hint").Text(w.T("job.clock.how")),
	)
}

// startHold starts the clock with the first reading, which is read at once.
func (s *Place) startHold() {
	browser.MayNotify()
	s.Job.Repair.HoldStart = s.now().UTC().Truncate(time.Second)
	s.cleared = nil
	s.readHold()
}

// readHold notes the time and waits for the pressure. A line whose pressure is still
// to be typed is that reading: tapped twice, the time of the second tap counts.
func (s *Place) readHold() {
	hold := &s.Job.Repair.Hold
	at := s.now().Sub(s.Job.Repair.HoldStart).Minutes()
	n := len(*hold)
	if n == 0 || (*hold)[n-1].Pressure != "" {
		if n == mostHold {
			return
		}
		*hold = append(*hold, job.HoldPoint{})
		n++
	}
	(*hold)[n-1].Time = unit.Minute.Plain(6 * math.Round(10*at))
	s.Edited()
	s.SyncInputs()
	s.Then(func() { browser.Reveal(holdID("pressure", n-1)) })
}

func (s *Place) stopHold() {
	s.Job.Repair.HoldStart = time.Time{}
	if hold := s.Job.Repair.Hold; len(hold) > 0 && hold[len(hold)-1].Pressure == "" {
		s.Job.Repair.Hold = hold[:len(hold)-1] // tapped, and nothing was read
	}
	s.Edited()
	s.SyncInputs()
}

func (s *Place) clearHold() {
	s.cleared, s.Job.Repair.Hold = s.Job.Repair.Hold, nil
	s.Edited()
	s.SyncInputs()
}

func (s *Place) restoreHold() {
	s.Job.Repair.Hold, s.cleared = s.cleared, nil
	s.Edited()
	s.SyncInputs()
}

func holdID(what string, i int) string { return "hold-" + what + "-" + strconv.Itoa(i) }

// mostHold is how many points can be typed; a test has a few, the file allows 200.
const mostHold = 60

// holdTable is the points of the hold test. There is always an empty line at the
// end, so that the next point needs no button.
func (c *stepCard) holdTable() app.UI {
	s, w := c.s, c.s.Words
	_, problems := s.Job.HoldReadings()
	var rows []app.UI
	for i := range min(len(s.Job.Repair.Hold)+1, mostHold) {
		var h job.HoldPoint
		if i < len(s.Job.Repair.Hold) {
			h = s.Job.Repair.Hold[i]
		}
		var said []present.Problem
		for _, p := range problems[i] {
			if p.Level == present.Asked || p.Level == present.Refused {
				said = append(said, p)
			}
		}
		cell := func(field present.FieldID, what, text string, put func(*job.HoldPoint, string)) app.UI {
			own := slices.DeleteFunc(slices.Clone(said), func(p present.Problem) bool { return p.Field != field })
			return page.Cell(holdID(what, i), text, w.T("job.hold."+what+"_of", "n", i+1), holdID("row", i)+"-note", own, func(text string) {
				c.putHold(i, func(h *job.HoldPoint) { put(h, text) })
			})
		}
		rows = append(rows, app.Tr().Body(
			cell(present.HoldTime, "time", h.Time, func(h *job.HoldPoint, t string) { h.Time = t }),
			cell(present.HoldPressure, "pressure", h.Pressure, func(h *job.HoldPoint, t string) { h.Pressure = t }),
		),
			// Always there, so that no line of inputs moves when it has something to say.
			app.Tr().Hidden(len(said) == 0).Body(app.Td().ColSpan(2).Body(
				s.MessagesOf(holdID("row", i)+"-note", said, func(_, text string) {
					c.putHold(i, func(h *job.HoldPoint) { h.Pressure = text })
					s.SyncInputs()
				}))))
	}
	return app.Table().ID("hold").Class("hold").Body(
		app.Caption().Class("sr").Text(w.T("job.hold.title")),
		app.THead().Body(app.Tr().Body(
			app.Th().Scope("col").Text(w.T("job.hold.time", "unit", s.UnitName(unit.Duration))),
			app.Th().Scope("col").Text(w.T("job.hold.pressure", "unit", s.UnitName(unit.AbsolutePressure))))),
		app.TBody().Body(rows...),
	)
}

// putHold changes a point; empty ones at the end are dropped again.
func (c *stepCard) putHold(i int, change func(*job.HoldPoint)) {
	hold := &c.s.Job.Repair.Hold
	for len(*hold) <= i {
		*hold = append(*hold, job.HoldPoint{})
	}
	change(&(*hold)[i])
	for n := len(*hold); n > 0 && (*hold)[n-1] == (job.HoldPoint{}); n-- {
		*hold = (*hold)[:n-1]
	}
	c.s.Edited()
}

// holdVerdicts are those of the picture.
var holdVerdicts = map[service.HoldVerdict]chart.HoldVerdict{
	service.HoldTight: chart.HoldTight, service.HoldLeak: chart.HoldLeak, service.HoldMoisture: chart.HoldMoisture,
	service.HoldBoth: chart.HoldLeak, service.HoldCannotTell: chart.HoldUnclear,
}

func (c *stepCard) sayHold(r service.HoldReport) []app.UI {
	s, w, v := c.s, c.s.Words, c.s.Voice()
	says := "job.hold." + string(r.Verdict) + ".says"
	if r.Reason != "" {
		says = "job.hold.reason." + r.Reason
	}
	out := []app.UI{
		hero("hold-hero", w.T("job.hold."+string(r.Verdict)+".short"), ""),
		app.P().ID("hold-says").Text(w.Text(says, nil)),
	}
	if goingOn[r.Reason] {
		key := "job.hold.until"
		if r.Until == 0 {
			key = "job.hold.until_never"
		}
		out = append(out, app.P().ID("hold-until").Text(w.T(key, "time", v.Quantity(wholeMinutes(r.Until), unit.Duration))))
	}
	out = append(out, c.holdFigure(r))
	perMinute := service.Estimate{Value: 60 * r.Climb.Value, Lo: 60 * r.Climb.Lo, Hi: 60 * r.Climb.Hi} // Pa/s shown per minute
	climb := w.T("job.hold.climb_most", "rate", v.Quantity(perMinute.Hi, unit.AbsolutePressure))
	if r.Climb.Value > 0 {
		climb = w.T("job.hold.climb", "rate", s.estimate(perMinute, unit.AbsolutePressure))
	}
	lines := []app.UI{c.holdCheck(r.Criteria[0]), s.computed("climb", climb)}
	if r.Plateau != nil {
		lines = append(lines, s.computed("plateau", w.T("job.hold.plateau", "pressure", s.estimate(*r.Plateau, unit.AbsolutePressure),
			"water", v.Quantity(r.Water, unit.AbsolutePressure))))
	}
	if r.Leak != nil && r.Leak.Refrigerant != nil && r.Verdict != service.HoldMoisture {
		lines = append(lines, s.computed("leak_rate", w.T(leakKey(r, sums.Of(s.Job, s.Case()).Label()),
			"range", v.Range(r.Leak.Refrigerant.Lo, r.Leak.Refrigerant.Hi, unit.MassRate),
			"most", v.Quantity(r.Leak.Refrigerant.Hi, unit.MassRate))))
	}
	var others []app.UI
	for _, k := range r.Criteria[1:] {
		others = append(others, c.holdCheck(k))
	}
	return append(out, checks("hold-checks", lines...),
		app.Details().ID("hold-others").Body(app.Summary().Class("small").Text(w.T("job.hold.criteria")),
			app.P().Class("hint").Text(w.T("job.hold.criteria_hint")), checks("criteria", others...)),
		s.minded(r.Warnings))
}

// holdCheck is how a published or customary rule judges the test. The first of them is
// the line the test is to pass; the others stand folded below.
func (c *stepCard) holdCheck(k service.CriterionCheck) app.UI {
	s, v := c.s, c.s.Voice()
	how := map[string]string{"passes": "yes", "fails": "no"}[k.Outcome]
	if how == "" {
		how = "open"
	}
	what := s.Words.T("job.rule."+k.Criterion.Code, "span", s.span(k.Criterion.Rule, unit.AbsolutePressure),
		"time", v.Quantity(k.Criterion.Within, unit.Duration))
	return s.check(how, s.Words.T("job.hold.outcome."+k.Outcome, "what", what,
		"measured", v.Quantity(k.Measured, unit.AbsolutePressure)), k.Criterion.Rule)
}

// goingOn are the reasons for which it helps to watch longer.
var goingOn = map[string]bool{"too_few_points": true, "faint_rise": true, "too_short": true}

// wholeMinutes rounds a time up, s.
func wholeMinutes(t float64) float64 { return 60 * math.Ceil(t/60) }

// usualLabel stands for a label that is not known, kg (judgement: a small car's).
const usualLabel = 0.5

// leakKey chooses the words for the size of a leak. A rate beyond the whole charge a
// year is no rate any more: it is said in words, or that the test is blind to it.
func leakKey(r service.HoldReport, label float64) string {
	if label == 0 {
		label = usualLabel
	}
	key := "job.hold.leak_most"
	if r.Climb.Value > 0 {
		key = "job.hold.leak_rate"
	}
	if r.Leak.Refrigerant.Hi > label {
		key += "_large"
	}
	return key
}

// holdFigure draws the points and the curve through them.
func (c *stepCard) holdFigure(r service.HoldReport) app.UI {
	s := c.s
	points, _ := s.Job.HoldReadings()
	t := chart.HoldTest{Verdict: holdVerdicts[r.Verdict]}
	most := 0.0 // a line through a vacuum that was lost would leave the air behind
	for _, p := range points {
		most = max(most, p.Pressure)
		t.Points = append(t.Points, chart.HoldPoint{Minutes: p.Time / 60, Pressure: max(p.Pressure, leastDrawn)})
	}
	const steps = 48
	first, last := points[0].Time, points[len(points)-1].Time
	for i := range steps + 1 {
		at := first + (last-first)*float64(i)/steps
		t.Fit = append(t.Fit, chart.HoldPoint{Minutes: at / 60, Pressure: max(min(r.Curve(at).Value, most), leastDrawn)})
	}
	for _, k := range r.Criteria {
		if k.Criterion.Ceiling {
			t.Limits = append(t.Limits, chart.HoldLine{Name: s.Words.T("job.hold.line." + k.Criterion.Code), Pressure: k.Criterion.Hi})
		}
	}
	return s.Drawn(chart.Hold(t, s.ChartOptions("hold-figure")))
}

// leastDrawn is the least pressure that is drawn in Pa: no pump leaves nothing.
const leastDrawn = 0.1
