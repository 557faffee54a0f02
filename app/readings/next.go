package readings

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// nextPanel says which measurement would tell most, how it is made, what each
// result would mean, and what to mind while making it.
type nextPanel struct {
	app.Compo
	Plan int // revision of what it shows

	s    *Place
	open car.Quantity // the other measurement that is unfolded
}

func (p *nextPanel) Render() app.UI {
	s, w := p.s, p.s.Words
	if s.Answer().State != page.Answered {
		// An element without content keeps its place, so that go-app does not
		// move its neighbours.
		return app.Section().ID("next").Hidden(true)
	}
	body := []app.UI{app.H2().ID("next-title").Text(w.T("readings.next.title"))}
	if next := s.Answer().Report.Next; len(next) == 0 {
		text := "readings.next.none"
		if !s.Answer().Planned {
			text = "readings.busy"
		}
		body = append(body, app.P().Text(w.T(text)))
	} else {
		body = append(body, p.first(next[0])...)
		if len(next) > 1 {
			body = append(body, p.others(next[1:]))
		}
	}
	return app.Section().ID("next").Class("card next tight").Aria("labelledby", "next-title").Body(body...)
}

func (p *nextPanel) first(n diagnose.Next) []app.UI {
	s, w := p.s, p.s.Words
	return []app.UI{
		app.P().ID("next-ask").Class("ask").DataSet("quantity", string(n.Quantity)).Text(s.QuantityName(n.Quantity)),
		app.P().Text(w.T("quantity." + string(n.Quantity) + ".how")),
		app.P().Class("soft small").Text(w.T("readings.next.because", "minutes", s.Voice().Quantity(n.Minutes*60, unit.Duration))),
		s.Cautions("cautions", s.hazards(n)),
		app.Div().Class("row").Body(p.enter(n.Quantity, "enter", "btn main")),
		p.outcomes(n, "outcomes"),
	}
}

// outcomes says what each result would mean. Where every result leaves the same
// condition in the lead, that is what there is to say.
func (p *nextPanel) outcomes(n diagnose.Next, id string) app.UI {
	s, w := p.s, p.s.Words
	if len(n.Outcomes) == 0 {
		return nil
	}
	if leader := n.Outcomes[0].Leader; oneLeader(n.Outcomes) {
		if leader != s.Answer().Report.Ranking[0].ID {
			return nil // every result cannot speak for another: the model is at its edge
		}
		return app.P().ID(id).Text(w.T("readings.next.same", "condition", s.InText(leader)))
	}
	items := make([]app.UI, len(n.Outcomes))
	for i, o := range n.Outcomes {
		items[i] = app.Li().Body(
			app.Span().Class("when").Text(s.outcomeRange(n.Quantity, o)),
			app.Span().Class("then").Text(w.T("readings.next.means", "condition", s.ConditionName(o.Leader), "chance", w.Chance(o.LeaderChance))),
		)
	}
	return app.Div().Body(
		app.H3().Class("small soft").Text(w.T("readings.next.outcomes")),
		app.Ul().ID(id).Class("outcomes").Body(items...),
	)
}

func oneLeader(outcomes []diagnose.Outcome) bool {
	for _, o := range outcomes {
		if o.Leader != outcomes[0].Leader {
			return false
		}
	}
	return true
}

// outcomeRange names the values an outcome stands for.
func (s *Place) outcomeRange(q car.Quantity, o diagnose.Outcome) string {
	w := s.Words
	kind := q.Info().Kind
	text := func(r string) string { return r }
	if q == car.Recovered {
		text = func(r string) string { return w.T("readings.next.of_label", "share", r) }
	}
	switch {
	case o.OpenLo:
		return text(w.T("readings.next.below", "hi", s.Voice().Quantity(o.Hi, kind)))
	case o.OpenHi:
		return text(w.T("readings.next.above", "lo", s.Voice().Quantity(o.Lo, kind)))
	}
	return text(s.Voice().Range(o.Lo, o.Hi, kind))
}

// others offers what tells less for the time; one at a time says how it is made,
// what its results would mean and what to mind.
func (p *nextPanel) others(rest []diagnose.Next) app.UI {
	const most = 3
	s, w := p.s, p.s.Words
	var chips []app.UI
	var unfolded app.UI
	for _, n := range rest[:min(len(rest), most)] {
		open := n.Quantity == p.open
		chips = append(chips, app.Button().ID("other-"+string(n.Quantity)).Type("button").Class("chip").
			Aria("expanded", page.Pressed(open)).Text(s.QuantityName(n.Quantity)).
			OnClick(func(app.Context, app.Event) {
				if p.open == n.Quantity {
					p.open = ""
				} else {
					p.open = n.Quantity
				}
			}, app.EventScope("other", n.Quantity)))
		if open {
			unfolded = p.other(n)
		}
	}
	return app.Div().Class("tight others").Body(
		app.P().Class("soft small").Text(w.T("readings.next.others")),
		app.Div().Class("row").Body(chips...),
		unfolded,
	)
}

func (p *nextPanel) other(n diagnose.Next) app.UI {
	s, w := p.s, p.s.Words
	return app.Div().ID("other").Class("tight").Body(
		app.P().Text(w.T("quantity."+string(n.Quantity)+".how")),
		app.P().Class("soft small").Text(w.T("readings.next.takes", "minutes", s.Voice().Quantity(n.Minutes*60, unit.Duration))),
		s.Cautions("other-cautions", s.hazards(n)),
		app.Div().Class("row").Body(p.enter(n.Quantity, "enter-"+string(n.Quantity), "btn")),
		p.outcomes(n, "other-outcomes"),
	)
}

func (p *nextPanel) enter(q car.Quantity, id, class string) app.UI {
	return app.Button().ID(id).Type("button").Class(class).Text(p.s.Words.T("readings.next.enter")).
		OnClick(func(app.Context, app.Event) { p.s.openMeasurement(q) }, app.EventScope(q))
}

// sameMatter is the caution of the step that a measurement's own says already, of
// the place where the hand is.
var sameMatter = map[string]string{"fans_belts": "fans_and_belts", "goggles": "goggles_and_gloves"}

// hazards are the cautions shown open with a measurement: its own hazard, and
// what always holds with a hand near a running engine or a coupled hose. The
// others of the step are folded below.
func (s *Place) hazards(n diagnose.Next) []string {
	step := present.StepRead
	if n.Quantity == car.Recovered {
		step = present.StepRecover
	}
	all := present.Cautions(step, s.Case().Car)
	var codes []string
	if n.Hazard != "" && s.Words.Has("caution."+n.Hazard) {
		codes = append(codes, n.Hazard)
	}
	for _, c := range all {
		if len(codes) < 3 && !slices.Contains(codes, c) && c != sameMatter[n.Hazard] {
			codes = append(codes, c)
		}
	}
	return codes
}
