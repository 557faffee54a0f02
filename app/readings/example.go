package readings

import (
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
)

// exampleLine says whose readings these are, and leads to others.
type exampleLine struct {
	app.Compo
	Lang string
	Of   exampleShown

	s    *Place
	open bool // the list of invented cars
}

// exampleShown is what the line shows, for go-app to compare.
type exampleShown struct {
	Title, Example     string
	Blank, Undo, Owned bool
	Engine, Offline    string
}

func (s *Place) exampleShown() exampleShown {
	return exampleShown{s.Job.Title, s.Job.Example, s.Job.Blank(), s.CanUndo(), s.TookOver(), s.Job.Before.Engine, page.ShellField("offline")}
}

func (p *exampleLine) Render() app.UI {
	s, w := p.s, p.s.Words
	about, own := s.about()
	// Beside numbers of one's own the way back has the room of the examples, which are
	// one tap further, in an empty job.
	back := s.CanUndo() && !s.Job.Blank() && s.Job.Example == ""
	offline := "start.once" // until it is known, so that nothing moves then
	if p.Of.Offline != "" {
		offline = "shell.offline." + p.Of.Offline
	}
	label := "readings.example.others"
	if p.open {
		label = "readings.example.hide"
	}
	quiet := func(id, key string, tapped func()) app.HTMLButton {
		return page.Button(id, "btn quiet", w.T(key), tapped)
	}
	return app.Div().Class("tight").Body(
		app.Div().Class("example", map[bool]string{true: "blank"}[s.Job.Blank()]).Body(
			app.P().ID("about").Role("status").Hidden(own).Text(about),
			app.If(s.Job.Blank(), func() app.UI { return app.P().ID("first-offline").Class("small").Text(w.T(offline)) }),
			s.engine("engine-"),
			app.If(s.Job.Blank(), func() app.UI {
				return quiet("example", "readings.example.first", func() { s.Lend(s.FirstExample()) })
			}),
			app.If(!back, func() app.UI {
				return quiet("examples", label, func() { p.open = !p.open }).Aria("expanded", page.Pressed(p.open))
			}),
			app.If(!s.Job.Blank(), func() app.UI { return quiet("start-empty", "readings.example.start", p.startEmpty) }),
			app.If(s.CanUndo(), func() app.UI { return quiet("undo", "readings.example.undo", s.Undo) }),
		),
		app.If(p.open && !back, p.list),
	)
}

// about says whose readings these are; nothing where they are simply one's own.
func (s *Place) about() (text string, own bool) {
	switch {
	case s.Job.Blank():
		return s.Words.T("readings.example.what"), false
	case s.Job.Example != "":
		return s.Words.T("readings.example.shown", "title", s.Job.Title), false
	case s.TookOver():
		return s.Words.T("readings.example.owned"), false
	}
	return s.Job.Title, s.Job.Title == ""
}

func (p *exampleLine) list() app.UI {
	s := p.s
	var cars []app.UI
	for _, j := range job.Examples(time.Now()) {
		cars = append(cars, app.Button().Type("button").Class("chip").DataSet("example", j.Example).
			Attr("aria-pressed", page.Pressed(j.Example == s.Job.Example)).
			Body(app.Span().Text(strings.TrimPrefix(s.TitleOfExample(j), s.Words.T("readings.example.prefix"))), app.Small().Text(s.Glance(j))).
			OnClick(func(app.Context, app.Event) {
				p.open = false
				s.Lend(s.Example(j.Example)) // a new one: the one tapped before may be at work
			}, app.EventScope(j.Example)))
	}
	return app.Div().Class("cars").Role("group").Aria("label", s.Words.T("readings.example.list")).Body(cars...)
}

// startEmpty begins an empty job. The one that was at hand stays on the device, if it
// was anybody's.
func (p *exampleLine) startEmpty() {
	p.s.NewJob()
	p.s.Then(func() { browser.Focus("low") })
}
