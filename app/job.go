package app

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/unit"
)

// jobPage is the repair after the answer: one card per step in the order of the
// work. A step that is not at hand is one line: what it is and how it stands.
type jobPage struct {
	app.Compo
	Rev int

	s *session
}

func newJob(s *session) app.Composer { return &jobPage{Rev: s.rev, s: s} }

// jobSteps are the steps on the page. Those of job.Steps can be ticked off; the
// check at rest is a measurement, the record has no end. Words are job.step.<code>.
var jobSteps = []string{"resting", "find", "recover", "repair", "evacuate", "charge", "prove", stepRecord}

const stepRecord = "record"

func (p *jobPage) Render() app.UI {
	s := p.s
	cards := make([]app.UI, len(jobSteps))
	for i, code := range jobSteps {
		cards[i] = &stepCard{Rev: s.rev, Code: code, Number: i + 1, s: s}
	}
	return app.Div().Class("work").Body(
		app.Div().Class("work-head").Body(p.head(), p.rail()),
		app.Div().Class("steps").Body(cards...),
	)
}

// head says which job this is and what the answer was.
func (p *jobPage) head() app.UI {
	s, w := p.s, p.s.words
	return app.Section().Class("card tight").Body(
		app.H1().ID("title").TabIndex(-1).Text(w.T("shell.place.job")),
		app.Label().Class("sr").For("job-title").Text(w.T("job.title")),
		s.line("job-title", &s.job.Title, maxTitle, w.T("job.title_empty")),
		app.P().ID("job-answer").Class("small").Body(app.Text(s.jobAnswer())),
		app.P().Class("small").Body(app.A().Href(href("/")).Text(w.T("job.to_readings"))),
		s.unsavedNote(),
		p.units(),
	)
}

// maxTitle is the longest title or name of a shop; job.Restore cuts at the same.
const maxTitle = 120

// jobAnswer is the technician's sentence of the Readings place.
func (s *session) jobAnswer() string {
	if s.answer.state != answered {
		return s.words.T("job.no_answer")
	}
	return s.forTechnician(s.answer.report)
}

// unsavedNote stays as long as the device keeps nothing: what to do is beside it.
func (s *session) unsavedNote() app.UI {
	if s.keeper.failed == "" {
		return nil
	}
	w := s.words
	return app.Div().ID("unsaved").Class("msg tight").Role("status").Body(
		app.P().Body(app.Strong().Text(w.T("job.unsaved"))),
		app.P().Text(w.T("job.unsaved_why")),
		app.Button().ID("unsaved-export").Type("button").Class("btn").Text(w.T("job.record.export")).
			OnClick(func(ctx app.Context, _ app.Event) { s.exportCurrent(ctx) }),
	)
}

// rail lists the steps beside the cards on a wide screen.
func (p *jobPage) rail() app.UI {
	s, w := p.s, p.s.words
	items := make([]app.UI, len(jobSteps))
	for i, code := range jobSteps {
		items[i] = app.Li().Body(app.Button().ID("rail-"+code).Type("button").Class("railed", doneClass(s.isDone(code))).
			Body(app.Span().Class("no").Aria("hidden", true).Text(stepMark(i+1, s.isDone(code))), app.Span().Text(w.T("job.step."+code+".name"))).
			OnClick(func(ctx app.Context, _ app.Event) {
				s.isOpen(code)
				s.desk.open[code] = true
				s.rev++
				ctx.Defer(func(app.Context) { bringUp("step-" + code) })
			}, app.EventScope(code)))
	}
	return app.Nav().Class("card rail").Aria("label", w.T("job.steps")).Body(app.Ol().Body(items...))
}

func doneClass(done bool) string {
	if done {
		return "done"
	}
	return ""
}

func stepMark(n int, done bool) string {
	if done {
		return "✓"
	}
	return strconv.Itoa(n)
}

// units are all choices of units; switching keeps what was meant.
func (p *jobPage) units() app.UI {
	s, w := p.s, p.s.words
	seg := func(kind unit.Kind, name string) app.UI {
		var buttons []app.UI
		for _, u := range unit.Choices(kind) {
			buttons = append(buttons, app.Button().ID("job-unit-"+string(u)).Type("button").
				Attr("aria-pressed", pressed(u == s.job.Units.For(kind))).Text(w.T("unit."+string(u))).
				OnClick(func(ctx app.Context, _ app.Event) { s.setJobUnit(ctx, kind, u) }, app.EventScope(u)))
		}
		return app.Div().Class("field").Body(
			app.Span().Class("label").Text(w.T("job.unit."+name)),
			app.Div().Class("seg").Role("group").Aria("label", w.T("job.unit."+name)).Body(buttons...))
	}
	return app.Details().ID("job-units").Body(
		app.Summary().Class("small").Text(w.T("job.units")),
		app.Div().Class("tight unit-list").Body(
			seg(unit.Mass, "mass"), seg(unit.Volume, "volume"), seg(unit.AbsolutePressure, "vacuum"),
			seg(unit.GaugePressure, "pressure"), seg(unit.Temperature, "temperature"), seg(unit.Length, "length"),
		),
	)
}

func (s *session) setJobUnit(ctx app.Context, kind unit.Kind, u unit.Unit) {
	next := s.job.Units
	switch kind {
	case unit.Mass:
		next.Mass = u
	case unit.Volume:
		next.Volume = u
	case unit.Length:
		next.Length = u
	case unit.AbsolutePressure:
		next.Vacuum = u
	default:
		s.setUnit(ctx, kind, u)
		s.syncSlots(ctx)
		return
	}
	s.job = s.job.WithUnits(next)
	s.edited(ctx)
	s.syncSlots(ctx)
}

// stepCard is one step: a heading that opens it, then inputs, sum, check, caution.
type stepCard struct {
	app.Compo
	Rev    int
	Code   string
	Number int

	s *session
}

func (c *stepCard) Render() app.UI {
	s, w := c.s, c.s.words
	open, isDone := s.isOpen(c.Code), s.isDone(c.Code)
	heading := app.H2().Body(app.Button().ID("step-"+c.Code).Type("button").Class("opens").
		Aria("expanded", pressed(open)).Aria("controls", "body-"+c.Code).OnClick(c.toggled).Body(
		app.Span().Class("no", doneClass(isDone)).Aria("hidden", true).Text(stepMark(c.Number, isDone)),
		app.Span().Class("name").Text(w.T("job.step."+c.Code+".name")),
		app.Span().ID("stands-"+c.Code).Class("stands").Text(c.stands()),
	))
	body := app.Div().ID("body-" + c.Code).Class("body").Hidden(!open)
	if open {
		body.Body(append([]app.UI{app.P().Class("lead").Text(w.T("job.step." + c.Code + ".lead"))}, c.body()...)...)
	}
	return app.Section().Class("card step", doneClass(isDone)).DataSet("step", c.Code).Body(heading, body)
}

func (c *stepCard) toggled(ctx app.Context, _ app.Event) {
	c.s.desk.open[c.Code] = !c.s.isOpen(c.Code)
	c.s.syncSlots(ctx)
}

// body is what a step consists of. Cautions stand before the inputs: they are for
// the hand that is about to measure.
func (c *stepCard) body() []app.UI {
	steps := map[string]func() []app.UI{
		"resting": c.resting, "find": c.find, "recover": c.recover, "repair": c.repair,
		"evacuate": c.evacuate, "charge": c.charge, "prove": c.prove, stepRecord: c.record,
	}
	if c.Code == stepRecord {
		return steps[c.Code]()
	}
	return append(append([]app.UI{c.mind()}, steps[c.Code]()...), c.finish())
}

// shownCautions is how many cautions stand open; the rest is one tap away.
const shownCautions = 3

func (c *stepCard) mind() app.UI {
	s := c.s
	codes := present.Cautions(present.Step(c.Code), s.current.Car)
	first := codes[:min(len(codes), shownCautions)]
	rest := codes[len(first):]
	return app.Div().Class("mind").Body(
		s.cautions("cautions-"+c.Code, first),
		app.If(len(rest) > 0, func() app.UI {
			return app.Details().Body(app.Summary().Class("small").Text(s.words.T("job.more_cautions", "n", len(rest))),
				s.cautions("cautions-rest-"+c.Code, rest))
		}),
	)
}

func (c *stepCard) finish() app.UI {
	s, w := c.s, c.s.words
	if !slices.Contains(job.Steps, c.Code) {
		return nil
	}
	text, class := "job.done", "btn main"
	if s.isDone(c.Code) {
		text, class = "job.not_done", "btn"
	}
	return app.Div().Class("row").Body(app.Button().ID("done-" + c.Code).Type("button").Class(class).Text(w.T(text)).
		OnClick(func(ctx app.Context, _ app.Event) { s.tick(ctx, c.Code) }))
}
