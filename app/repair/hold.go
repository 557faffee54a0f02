package repair

import (
	"math"
	"reflect"
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// held is the last hold test and what it said: asking costs more than a keystroke has.
type held struct {
	in  service.HoldInput
	out sum[service.HoldReport]
}

// hold is what the points of the hold test say.
func (s *Place) hold() sum[service.HoldReport] {
	in, miss := sumsOf(s.Job, s.Case()).holdInput()
	if len(miss) > 0 {
		return sum[service.HoldReport]{Need: miss}
	}
	if !reflect.DeepEqual(in, s.held.in) {
		r, err := service.Hold(in)
		s.held = held{in, sum[service.HoldReport]{Is: r, Err: err}}
	}
	return s.held.out
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
			id := holdID(what, i)
			own := slices.DeleteFunc(slices.Clone(said), func(p present.Problem) bool { return p.Field != field })
			el := page.BareInput(id, "text", text, holdID("row", i)+"-note", own)
			return app.Td().Body(app.Div().Class("entry").Body(
				el.Aria("label", w.T("job.hold."+what+"_of", "n", i+1)).
					OnInput(func(ctx app.Context, _ app.Event) {
						c.putHold(i, func(h *job.HoldPoint) { put(h, ctx.JSSrc().Get("value").String()) })
					}, app.EventScope(id))))
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
	lines := []app.UI{c.holdCheck(r.Criteria[0]), s.note("climb", climb, service.Computed, "")}
	if r.Plateau != nil {
		lines = append(lines, s.note("plateau", w.T("job.hold.plateau", "pressure", s.estimate(*r.Plateau, unit.AbsolutePressure),
			"water", v.Quantity(r.Water, unit.AbsolutePressure)), service.Computed, ""))
	}
	if r.Leak != nil && r.Leak.Refrigerant != nil && r.Verdict != service.HoldMoisture {
		lines = append(lines, s.note("leak_rate", w.T(leakKey(r, sumsOf(s.Job, s.Case()).label()),
			"range", v.Range(r.Leak.Refrigerant.Lo, r.Leak.Refrigerant.Hi, unit.MassRate),
			"most", v.Quantity(r.Leak.Refrigerant.Hi, unit.MassRate)), service.Computed, ""))
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
	for _, p := range points {
		t.Points = append(t.Points, chart.HoldPoint{Minutes: p.Time / 60, Pressure: max(p.Pressure, leastDrawn)})
	}
	const steps = 48
	first, last := points[0].Time, points[len(points)-1].Time
	for i := range steps + 1 {
		at := first + (last-first)*float64(i)/steps
		t.Fit = append(t.Fit, chart.HoldPoint{Minutes: at / 60, Pressure: max(r.Curve(at).Value, leastDrawn)})
	}
	for _, k := range r.Criteria {
		if k.Criterion.Ceiling {
			t.Limits = append(t.Limits, chart.HoldLine{Name: s.Words.T("job.hold.line." + k.Criterion.Code), Pressure: k.Criterion.Hi})
		}
	}
	f, err := chart.Hold(t, s.ChartOptions("hold-figure"))
	if err != nil {
		return app.P().Class("msg").Text(s.Voice().Error(err).What)
	}
	return app.Figure().Body(app.Div().Class("drawn").Body(app.Raw(f.SVG)), s.FigureText(f))
}

// leastDrawn is the least pressure that is drawn in Pa: no pump leaves nothing.
const leastDrawn = 0.1
