package readings

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// picturePanel shows the pressure plane, on which the reading can be moved, and
// below it, folded, both needles across the weather and the loop.
type picturePanel struct {
	app.Compo
	Lang                  string
	Answer, Plan, Weather int // revisions of what it shows

	s *Place
	// plane is drawn again only when what it shows has changed.
	plane    chart.Figure
	planeErr error
	drawn    int           // the answer it was drawn for
	last     chart.Reading // what it showed before
}

func (p *picturePanel) Render() app.UI {
	w := p.s.Words
	return app.Section().ID("picture").Class("card picture").Aria("label", w.T("readings.picture")).Body(
		app.Figure().ID("plane-figure").Body(p.planeParts()...),
		p.weatherPart(),
		p.loopPart(),
	)
}

func (p *picturePanel) planeParts() []app.UI {
	w, a := p.s.Words, p.s.Answer()
	if a.State != page.Answered {
		key := "readings.plane.waiting"
		if a.State == page.Resting {
			key = "readings.plane.rest"
		}
		return []app.UI{app.Div().Class("empty").Body(
			app.Raw(emptyPlane), app.P().Class("soft").Text(w.T(key)))}
	}
	if p.drawn != a.Rev {
		o := p.s.ChartOptions("plane")
		o.From = p.last
		p.last = page.ChartReading(a.Of)
		p.plane, p.planeErr = chart.Plane(a.Plane, p.last, page.Leaders(a.Report), o)
		p.drawn = a.Rev
		p.s.Then(func() { browser.SetGlide("plane-frame", p.plane.Moved) })
	}
	if p.planeErr != nil {
		return []app.UI{p.s.Failed(p.planeErr)}
	}
	frame := app.Div().ID("plane-frame").Class("plane").TabIndex(0).Role("group").
		Aria("label", w.T("readings.plane.use")).Aria("describedby", "plane-summary").
		OnClick(p.tapped).OnKeyDown(p.keyed).Body(app.Raw(p.plane.SVG))
	// The text follows with the next measurement, once the picture is on screen.
	text := page.Memo(p.s.Lang(), p.Plan, func() app.UI { return p.s.FigureText(p.plane) })
	return []app.UI{frame, text}
}

// emptyPlane keeps the room of the picture and says by its form what will come.
const emptyPlane = `<svg class="ghost" viewBox="0 0 360 340" aria-hidden="true"><g fill="none" stroke="currentColor" opacity=".35">` +
	`<path d="M48 34v258h298" stroke-width="1.5"/><ellipse cx="196" cy="160" rx="70" ry="52" transform="rotate(-24 196 160)" stroke-dasharray="4 5"/>` +
	`<ellipse cx="196" cy="160" rx="36" ry="26" transform="rotate(-24 196 160)" stroke-dasharray="4 5"/></g></svg>`

// tapped puts the reading where the picture was tapped.
func (p *picturePanel) tapped(ctx app.Context, e app.Event) {
	svg := ctx.JSSrc().Call("querySelector", "svg")
	if !svg.Truthy() {
		return
	}
	box := svg.Call("getBoundingClientRect")
	x := (e.Get("clientX").Float() - box.Get("left").Float()) / box.Get("width").Float()
	y := (e.Get("clientY").Float() - box.Get("top").Float()) / box.Get("height").Float()
	a := p.s.Answer()
	low, high, ok := chart.PlaneAt(a.Plane, page.ChartReading(a.Of), page.Leaders(a.Report), p.s.ChartOptions("plane"), x, y)
	if ok {
		p.s.moveTo(low, high)
	}
}

// keyed moves the reading by the arrow keys: one step of the unit, five with
// Shift.
func (p *picturePanel) keyed(ctx app.Context, e app.Event) {
	way, ok := map[string][2]float64{"ArrowLeft": {-1, 0}, "ArrowRight": {1, 0}, "ArrowDown": {0, -1}, "ArrowUp": {0, 1}}[e.Get("key").String()]
	if !ok || e.Get("altKey").Bool() || e.Get("ctrlKey").Bool() || e.Get("metaKey").Bool() {
		return
	}
	e.PreventDefault()
	step := planeSteps[p.s.Job.Units.Pressure]
	if e.Get("shiftKey").Bool() {
		step[0], step[1] = 5*step[0], 5*step[1]
	}
	// The case at hand, not the answered one: keys come faster than answers.
	r := p.s.Case().Readings
	p.s.moveTo(r[car.Low].Value+way[0]*step[0], r[car.High].Value+way[1]*step[1])
}

// planeSteps are one step of each axis in Pa: what a gauge in that unit can
// just be read to (judgement).
var planeSteps = map[unit.Unit][2]float64{
	unit.PSI: {unit.PaPerPSI, 5 * unit.PaPerPSI},
	unit.KPa: {5e3, 25e3},
	unit.Bar: {5e3, 25e3},
}

// moveTo types a reading for the user. A swing becomes steady, because a point
// was given; its ends are kept.
func (s *Place) moveTo(low, high float64) {
	low, high = max(low, 0), max(high, 0) // a vacuum is typed, not tapped
	for q, pa := range map[car.Quantity]float64{car.Low: low, car.High: high} {
		r := s.Job.Before.Readings[q]
		s.Job.Before.SetReading(q, job.Reading{Text: s.typedText(pa, unit.GaugePressure), Lo: r.Lo, Hi: r.Hi})
	}
	s.Tried()
	s.SyncInputs()
}

// typedText writes a value to the step of the job's unit, as a user would type it.
func (s *Place) typedText(si float64, k unit.Kind) string {
	u := s.Job.Units.For(k)
	return u.Text(u.FromSI(si))
}
