package app

import (
	"slices"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// cautionSign marks a caution by its form.
const cautionSign = `<svg viewBox="0 0 20 20" aria-hidden="true"><path d="M10 2.5 18.5 17.5h-17z" fill="none" stroke="currentColor" stroke-width="2" stroke-linejoin="round"/><path d="M10 8v4.500M10 14.700v.6" stroke="currentColor" stroke-width="2" stroke-linecap="round"/></svg>`

// cautions lists what to mind, where the hand is. Without codes it is nothing.
func (s *session) cautions(id string, codes []string) app.UI {
	if len(codes) == 0 {
		return nil
	}
	items := make([]app.UI, len(codes))
	for i, c := range codes {
		items[i] = app.Li().DataSet("caution", c).Body(app.Raw(cautionSign), app.Span().Text(s.words.Caution(c)))
	}
	return app.Ul().ID(id).Class("cautions").Aria("label", s.words.T("readings.cautions")).Body(items...)
}

// sameMatter is the caution of the step that a measurement's own says already, of
// the place where the hand is.
var sameMatter = map[string]string{"fans_belts": "fans_and_belts", "goggles": "goggles_and_gloves"}

// hazards are the cautions shown open with a measurement: its own hazard, and
// what always holds with a hand near a running engine or a coupled hose. The
// others of the step are folded below.
func (s *session) hazards(n diagnose.Next) []string {
	step := present.StepRead
	if n.Quantity == car.Recovered {
		step = present.StepRecover
	}
	all := present.Cautions(step, s.current.Car)
	var codes []string
	if n.Hazard != "" && s.words.Has("caution."+n.Hazard) {
		codes = append(codes, n.Hazard)
	}
	for _, c := range all {
		if len(codes) < 3 && !slices.Contains(codes, c) && c != sameMatter[n.Hazard] {
			codes = append(codes, c)
		}
	}
	return codes
}

// beforeCoupling are all cautions of reading gauges on this car.
func (p *keepPanel) beforeCoupling() app.UI {
	s, w := p.s, p.s.words
	return app.Details().ID("before-coupling").Class("settings").Body(
		app.Summary().Text(w.T("readings.before_coupling")),
		s.cautions("cautions-all", present.Cautions(present.StepRead, p.Car)),
	)
}
