package explore

import (
	"encoding/json"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
	"twoneedles/refrig/unit"
)

// keyExplore is where the dials are kept on the device.
const keyExplore = "twoneedles.explore"

// view is a typical car with dials: weather, engine and faults are
// turned, and both needles, the point on the pressure plane, the cycle and the
// vent follow.
type view struct {
	app.Compo
	Lang string
	Job  int // revision of the job, whose units are shown

	s     *page.Page
	ctx   app.Context
	store job.Storage
	rig   practice.Rig
	asks  *ask.Questions

	set    practice.Settings
	asked  app.Value // the browser's number of the frame on its way, or nil
	late   bool      // the car was turned since the last one
	gone   bool      // the page has left the screen
	tick   app.Func  // asks for the work of a frame
	state  cycle.Result
	solved bool            // there is a state to show
	failed present.Message // why the last setting has none; the pictures are then of an older one
	trail  [][2]float64
	plane  diagnose.Plane
	domes  domes
	shown  shownFigures
	spoken shownFigures // shown when the dials last rested: its tables stand below the pictures
	said   string       // the state in words, once the dials rest
	rest   int          // number of the last change, to know when they rest
	open   map[practice.Question]bool
	told   map[practice.Question][]armAnswer
	pin    *practice.State // what the state on screen is held against, or nil
}

// shownFigures are the pictures of the last state.
type shownFigures struct {
	gauges, plane, ph chart.Figure
	units             unit.Units
}

// View draws the place.
func View(s *page.Page) app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), s: s, asks: s.Questions(), set: practice.NewSettings()}
}

// OnMount takes the dials up where they were left.
func (p *view) OnMount(ctx app.Context) {
	p.ctx, p.store = ctx, p.s.Device()
	p.open, p.told = map[practice.Question]bool{}, map[practice.Question][]armAnswer{}
	var kept practice.Settings
	if text, ok, _ := p.store.Get(keyExplore); ok {
		// What cannot be read leaves the zero value, of which Sane makes a sound car.
		_ = json.Unmarshal([]byte(text), &kept)
	}
	p.set = kept.Sane()
	p.restorePin()
	p.tick = app.FuncOf(func(app.Value, []app.Value) any {
		ctx.Dispatch(p.ticked)
		return nil
	})
	p.frame()
}

// OnDismount gives the browser's callback back, and the frame that would call it.
func (p *view) OnDismount() {
	p.gone = true
	if p.asked != nil {
		app.Window().Call("cancelAnimationFrame", p.asked)
	}
	if p.tick != nil { // nil where the page was drawn but never mounted
		p.tick.Release()
	}
}

// turn sets the car, keeps it and shows it. Dials send more events than the screen has
// frames: of those that come before the next frame only the last is solved.
func (p *view) turn(ctx app.Context, s practice.Settings) {
	p.set = s
	page.KeepJSON(p.store, keyExplore, s)
	switch {
	case p.gone: // an event may arrive after the page has left
	case p.asked == nil:
		p.frame()
		return
	default:
		p.late = true
	}
	ctx.PreventUpdate()
}

// ticked is the next frame.
func (p *view) ticked(ctx app.Context) {
	p.asked = nil
	if !p.late || p.gone {
		ctx.PreventUpdate()
		return
	}
	p.frame()
}

// frame solves the car as it is set and draws it. Where there is no solution the
// last picture stays, and the page says so.
func (p *view) frame() {
	p.late = false
	p.asked = app.Window().Call("requestAnimationFrame", p.tick)
	err := p.asks.Now(func(m *diagnose.Model) error {
		r, err := p.rig.Solve(p.set)
		if err != nil {
			return err
		}
		if plane, err := m.Plane(p.set.Case(), nil); err == nil {
			p.plane = plane // else the last one stays: there are cars it knows no region of
		}
		return p.show(r, p.solved)
	})
	p.failed = present.Message{}
	if err != nil {
		p.failed = p.s.Voice().Error(err)
	}
	p.settle()
}

// show draws the pictures of a state; while a dial is turned, those that are on the screen,
// which on a phone are the needles alone.
func (p *view) show(r cycle.Result, turning bool) error {
	seen := func(id string) bool { return !turning || browser.OnScreen(id) }
	fluid, err := p.rig.Fluid(p.set)
	if err != nil {
		return err
	}
	trail := follow(p.trail, [2]float64{r.Low, r.High})
	f := p.shown
	reading := exploreReading(&r)
	if f.gauges, err = chart.Gauges(reading, car.Interval{}, car.Interval{}, p.s.ChartOptions("explore-needles")); err != nil {
		return err
	}
	if seen(planeFigure) {
		if f.plane, err = chart.Trail(p.plane, reading, p.pinnedReading(), trail, nil, p.s.ChartOptions("explore-plane")); err != nil {
			return err
		}
	}
	o := p.s.ChartOptions("explore-ph")
	if seen(cycleFigure) {
		if f.ph, err = chart.PH(p.domes.cycle(fluid, &r, o.Units), o); err != nil {
			return err
		}
	}
	f.units = o.Units
	if !p.solved || p.spoken.units != f.units {
		p.spoken = f
	}
	p.state, p.solved, p.trail, p.shown = r, true, trail, f
	return nil
}

// trailLength is how many places the trail holds: about what a slow turn of one
// dial makes. judgement
const trailLength = 60

// follow adds a place to the trail, unless it is where the point stands.
func follow(trail [][2]float64, at [2]float64) [][2]float64 {
	const same = 1e3 // Pa, below what a gauge shows
	if n := len(trail); n > 0 {
		dl, dh := trail[n-1][0]-at[0], trail[n-1][1]-at[1]
		if dl*dl+dh*dh/25 < same*same { // the high side is read five times coarser
			return trail
		}
	}
	if len(trail) >= trailLength {
		trail = trail[len(trail)-trailLength+1:]
	}
	return append(append([][2]float64(nil), trail...), at)
}

// exploreReading is what the gauges show; a clutch that cycles makes them swing.
func exploreReading(r *cycle.Result) chart.Reading {
	needle := func(mean float64, swing [2]float64) chart.Needle {
		if r.Cycling && swing[1] > swing[0] {
			return chart.Swinging(swing[0], swing[1], 0)
		}
		return chart.Steady(mean, 0)
	}
	return chart.Reading{Low: needle(r.Low, r.LowSwing), High: needle(r.High, r.HighSwing)}
}

func (p *view) Render() app.UI {
	w := p.s.Words
	if p.solved && p.shown.units != p.s.ChartOptions("explore-ph").Units { // units were switched
		if p.show(p.state, false) != nil {
			p.solved = false
		}
	}
	return app.Div().Class("rig").Body(
		app.H1().ID("title").TabIndex(-1).Class("sr").Text(w.T("explore.title")),
		app.P().ID("explore-said").Class("sr").Role("status").Text(p.said),
		// The needles stay in sight for as long as the dials are.
		app.Div().Class("rig-turn").Body(
			app.Section().Class("card rig-now").Aria("label", w.T("explore.now")).Body(p.now()...),
			p.dials(),
		),
		app.Section().Class("card rig-plane").Aria("label", w.T("explore.plane")).Body(p.figure(planeFigure, p.shown.plane, p.spoken.plane)),
		app.Section().Class("card rig-cycle").Aria("label", w.T("explore.cycle")).Body(p.figure(cycleFigure, p.shown.ph, p.spoken.ph)),
		p.beside(),
		p.questions(),
	)
}

const planeFigure, cycleFigure = "rig-plane-figure", "rig-cycle-figure"

// figure is a picture with its text. The text is that of the last rest: sixty
// rows for each frame would cost more than the state itself, and nobody reads
// a table that runs.
func (p *view) figure(id string, f, text chart.Figure) app.UI {
	if !p.solved {
		return app.Figure().ID(id).Body(app.P().Class("soft").Text(p.s.Words.T("explore.none")))
	}
	return app.Figure().ID(id).Body(app.Raw(f.SVG), p.s.FigureText(text))
}
