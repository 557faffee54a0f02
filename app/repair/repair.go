package repair

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// work is the repair after the answer: one card per step in the order of the
// work. A step that is not at hand is one line: what it is and how it stands.
type work struct {
	app.Compo
	Lang                          string
	Job, Answer, Plan, After, Rev int // revisions of what it shows

	s *Place
}

// jobSteps are the steps on the page. Those of job.Steps can be ticked off; the
// check at rest is a measurement, the record has no end. Words are job.step.<code>.
var jobSteps = []string{"resting", stepWatch, "find", "recover", "repair", "retest", "evacuate", "charge", "prove", stepRecord}

const stepRecord = "record"

func (p *work) Render() app.UI {
	s := p.s
	steps := s.steps()
	cards := make([]app.UI, len(steps))
	for i, code := range steps {
		cards[i] = &stepCard{Lang: s.Lang(), Job: p.Job, Answer: p.Answer, Plan: p.Plan, After: p.After, Rev: p.Rev, Code: code, Number: i + 1, s: s}
	}
	return app.Div().Class("work").Body(
		app.Div().Class("work-head").Body(p.head(), p.rail()),
		app.Div().Class("steps").Body(cards...),
	)
}

// head says which job this is and what the answer was.
func (p *work) head() app.UI {
	s, w := p.s, p.s.Words
	return app.Section().Class("card tight").Body(
		app.H1().ID("title").TabIndex(-1).Text(w.T("shell.place.job")),
		app.Label().Class("sr").For("job-title").Text(w.T("job.title")),
		s.line("job-title", &s.Job.Title, job.MaxTitle, w.T("job.title_empty")),
		app.P().ID("job-answer").Class("small").Body(app.Text(s.jobAnswer())),
		app.A().Class("way").Href(page.Href("/")).Text(w.T("job.to_readings")),
		s.unsavedNote(),
		p.refused(),
		s.choose("system", "system", car.Systems(), &s.Job.Car.System),
		p.units(),
	)
}

// refused says why a car is not judged, with what it can do to a hand.
func (p *work) refused() app.UI {
	err := p.s.Job.Refused()
	if err == nil {
		return nil
	}
	return app.Div().ID("refused").Class("msg tight").Role("alert").Body(page.Told(p.s.Voice().Error(err))...)
}

// steps are those of this job: of a system that no work is led on, the record only.
func (s *Place) steps() []string {
	if s.Job.Shut() {
		return []string{stepRecord}
	}
	return jobSteps
}

// jobAnswer is the technician's sentence of the Readings place.
func (s *Place) jobAnswer() string {
	if s.Said().Technician == "" {
		return s.Words.T("job.no_answer")
	}
	return s.Said().InFull(s.Words)
}

// unsavedNote stays as long as the device keeps nothing: what to do is beside it.
func (s *Place) unsavedNote() app.UI {
	if !s.Unsaved() {
		return nil
	}
	w := s.Words
	return app.Div().ID("unsaved").Class("msg tight").Role("status").Body(
		app.P().Body(app.Strong().Text(w.T("job.unsaved"))),
		app.P().Text(w.T("job.unsaved_why")),
		page.Button("unsaved-export", "btn", w.T("job.record.export"), func() { s.Export(true) }),
	)
}

// rail lists the steps beside the cards on a wide screen.
func (p *work) rail() app.UI {
	s, w := p.s, p.s.Words
	steps := s.steps()
	items := make([]app.UI, len(steps))
	for i, code := range steps {
		items[i] = app.Li().Body(app.Button().ID("rail-"+code).Type("button").Class("railed", doneClass(s.isDone(code))).
			Body(app.Span().Class("no").Aria("hidden", true).Text(stepMark(i+1, s.isDone(code))), app.Span().Text(w.T("job.step."+code+".name"))).
			OnClick(func(app.Context, app.Event) { s.show(code) }, app.EventScope(code)))
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
func (p *work) units() app.UI {
	s, w := p.s, p.s.Words
	seg := func(kind unit.Kind, name string) app.UI {
		name = w.T("job.unit." + name)
		return app.Div().Class("field").Body(
			app.Span().Class("label").Text(name), s.UnitSwitch(kind, "job-unit-", name))
	}
	return app.Details().ID("job-units").Body(
		app.Summary().Class("small").Text(w.T("job.units")),
		app.Div().Class("tight unit-list").Body(
			seg(unit.Mass, "mass"), seg(unit.Volume, "volume"), seg(unit.AbsolutePressure, "vacuum"),
			seg(unit.GaugePressure, "pressure"), seg(unit.Temperature, "temperature"), seg(unit.Length, "length"),
		),
	)
}

// stepCard is one step: a heading that opens it, then inputs, sum, check, caution.
type stepCard struct {
	app.Compo
	Lang                          string
	Job, Answer, Plan, After, Rev int // revisions of what it shows
	Code                          string
	Number                        int

	s *Place
}

func (c *stepCard) Render() app.UI {
	s, w := c.s, c.s.Words
	open, isDone := s.isOpen(c.Code), s.isDone(c.Code)
	heading := app.H2().Body(app.Button().ID("step-"+c.Code).Type("button").Class("opens").
		Aria("expanded", page.Pressed(open)).Aria("controls", "body-"+c.Code).OnClick(c.toggled).Body(
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

func (c *stepCard) toggled(app.Context, app.Event) {
	c.s.open[c.Code] = !c.s.isOpen(c.Code)
	c.s.SyncInputs()
}

// body is what a step consists of. Cautions stand before the inputs: they are for
// the hand that is about to measure.
func (c *stepCard) body() []app.UI {
	steps := map[string]func() []app.UI{
		"resting": c.resting, stepWatch: c.watch, "find": c.find, "recover": c.recover, "repair": c.repair, "retest": c.retest,
		"evacuate": c.evacuate, "charge": c.charge, "prove": c.prove, stepRecord: c.record,
	}
	if c.Code == stepRecord {
		return steps[c.Code]()
	}
	return append(append([]app.UI{c.mind()}, steps[c.Code]()...), c.finish())
}

// shownCautions is how many cautions stand open: a list that is longer is not read
// (judgement).
const shownCautions = 4

// mind shows the cautions that are new at this step, the gravest first; the others, those
// of the steps before it on this page among them, are one tap away.
func (c *stepCard) mind() app.UI {
	s := c.s
	fresh, old := present.NewCautions(present.StepResting, present.Step(c.Code), s.Case().Car)
	if c.Code == stepWatch { // the engine runs, as it does for the readings
		fresh, old = present.Cautions(present.StepRead, s.Case().Car), nil
	}
	first := fresh[:min(len(fresh), shownCautions)]
	rest := append(slices.Clone(fresh[len(first):]), old...)
	return app.Div().Class("mind").Body(
		s.Cautions("cautions-"+c.Code, first),
		app.If(len(rest) > 0, func() app.UI {
			return app.Details().Body(app.Summary().Class("small").Text(s.Words.T("job.more_cautions", "n", len(rest))),
				s.Cautions("cautions-rest-"+c.Code, rest))
		}),
	)
}

func (c *stepCard) finish() app.UI {
	s, w := c.s, c.s.Words
	atRest := c.Code == "resting" && s.isDone(c.Code)
	if !slices.Contains(job.Steps, c.Code) && !atRest {
		return nil
	}
	text, class := "job.done", "btn main"
	if s.isDone(c.Code) && !atRest {
		text, class = "job.not_done", "btn"
	}
	return app.Div().Class("row").Body(page.Button("done-"+c.Code, class, w.T(text), func() { s.tick(c.Code) }))
}
