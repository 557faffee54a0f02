package learn

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/chart/loop"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// view is the place.
type view struct {
	app.Compo
	Lang string
	Job  int // revision of the job, whose car and weather the pictures are of
	// Only is set at the address of the sources: what would come above them later
	// would push away the one that a citation led to.
	Only bool

	s       *page.Page
	ask     *ask.Questions
	asked   int      // the job whose patterns are here or on their way
	of      car.Case // what they are of
	day     string   // whether its weather is the job's or one that stands for it
	figure  chart.Figure
	loop    chart.Figure // of sound cars of the kind
	failure string
}

// View draws the place.
func View(s *page.Page) app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), s: s, ask: s.Questions()}
}

func (v *view) OnMount(ctx app.Context)  { v.follow(ctx) }
func (v *view) OnUpdate(ctx app.Context) { v.follow(ctx) }

// Sources draws what stands at the address of the sources.
func Sources(s *page.Page) app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), Only: true, s: s, ask: s.Questions()}
}

// OnPreRender is for tests, where go-app never mounts.
func (v *view) OnPreRender(ctx app.Context) { v.follow(ctx) }

// follow asks for the patterns of the car at hand, once a revision of the job.
func (v *view) follow(ctx app.Context) {
	if v.Only || v.asked == v.s.JobRev() {
		return
	}
	v.asked = v.s.JobRev()
	c := v.s.Case()
	day := "this_day"
	if c.Weather.Ambient == 0 {
		c.Weather.Ambient, day = warmDay, "warm_day"
	}
	v.ask.Ask(ctx, func(_ app.Context, err error) { v.failure = v.s.Voice().Error(err).What },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			ps, err := m.Patterns(c)
			if err != nil {
				return err
			}
			sound := c
			sound.Readings = nil
			points, err := m.Loop(sound)
			if err != nil {
				return err
			}
			deliver(func(app.Context) { v.draw(c, day, ps, points) })
			return nil
		})
}

// warmDay is the weather of a job without one, K: a day on which air conditioning is
// looked at (judgement).
const warmDay = 303.15

func (v *view) draw(c car.Case, day string, ps []diagnose.Pattern, points []diagnose.LoopPoint) {
	here := diagnose.Group("")
	if a := v.s.Answer(); a.State == page.Answered {
		here = a.Report.Group
	}
	f, err := chart.Patterns(ps, here, v.s.ChartOptions("patterns"))
	if err != nil {
		v.failure = v.s.Voice().Error(err).What
		return
	}
	around, err := loop.Draw(loop.Of{Car: c.Car, Points: points}, v.s.ChartOptions("sound-loop"))
	if err != nil {
		v.failure = v.s.Voice().Error(err).What
		return
	}
	v.of, v.day, v.figure, v.loop, v.failure = c, day, f, around, ""
}

func (v *view) Render() app.UI {
	w := v.s.Words
	if v.Only {
		return app.Div().Class("stack prose").Body(
			app.H1().ID("title").TabIndex(-1).Text(w.T("shell.place.sources")),
			&sources{Lang: v.s.Lang(), s: v.s})
	}
	return app.Div().Class("stack prose").Body(
		app.Header().Class("tight").Body(
			app.H1().ID("title").TabIndex(-1).Text(w.T("learn.title")),
			app.P().Class("lead").Text(w.T("learn.lead")),
		),
		v.patterns(),
		v.soundLoop(),
		&conditionList{Lang: v.s.Lang(), s: v.s},
		&know{Lang: v.s.Lang(), s: v.s, ask: v.s.Questions()},
		&sources{Lang: v.s.Lang(), s: v.s},
	)
}

func (v *view) patterns() app.UI {
	w := v.s.Words
	parts := []app.UI{app.H2().Text(w.T("learn.patterns.title"))}
	parts = append(parts, drawn(v.failure, v.figure, w.T("learn.patterns.waiting"), func() []app.UI {
		return []app.UI{
			app.P().Text(w.T("learn.patterns.about", "of", v.whose(), "car", v.car(), "ambient", v.s.Voice().Quantity(v.of.Weather.Ambient, unit.Temperature))),
			app.Figure().ID("patterns-figure").Body(app.Raw(v.figure.SVG)),
			v.s.FigureText(v.figure),
			app.P().Class("small soft").Text(w.T("learn.patterns.limits"))}
	})...)
	return app.Section().ID("patterns-card").Class("card tight").Body(parts...)
}

// soundLoop is where what is read, and what sound cars show there.
func (v *view) soundLoop() app.UI {
	w := v.s.Words
	parts := append([]app.UI{app.H2().Text(w.T("learn.loop.title"))}, drawn(v.failure, v.loop, w.T("learn.loop.waiting"), func() []app.UI {
		return []app.UI{
			app.P().Text(w.T("learn.loop.about", "of", v.whose(), "car", v.car(), "ambient", v.s.Voice().Quantity(v.of.Weather.Ambient, unit.Temperature))),
			app.Figure().ID("sound-loop-figure").Body(app.Raw(v.loop.SVG)),
			v.s.FigureText(v.loop)}
	})...)
	return app.Section().ID("loop-card").Class("card tight").Body(parts...)
}

// drawn is a picture with what belongs to it, or why it is not there, or not yet.
func drawn(failure string, f chart.Figure, waiting string, with func() []app.UI) []app.UI {
	switch {
	case failure != "":
		return []app.UI{app.P().Class("msg").Text(failure)}
	case f.SVG == "":
		return []app.UI{app.P().Class("soft").Text(waiting)}
	}
	return with()
}

// whose says of which car and day the pictures are: nobody's are not called this car's.
func (v *view) whose() string {
	whose := "this_car"
	if v.of.Car == (car.Spec{}) {
		whose = "any_car"
	}
	return v.s.Words.T("learn.patterns." + whose + "." + v.day)
}

// car names what the members depend on most: the gas and the metering device.
func (v *view) car() string {
	w := v.s.Words
	gas, device := v.of.Car.Refrigerant, v.of.Car.Metering
	if gas == "" {
		gas = car.R134a
	}
	text := w.T("readings.choice.refrigerant." + gas)
	if device != car.MeteringUnknown {
		text = w.T("learn.patterns.car", "refrigerant", text, "metering", w.T("readings.choice.metering."+device.Code()))
	}
	return text
}
