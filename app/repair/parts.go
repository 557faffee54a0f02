package repair

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
	"twoneedles/app/repair/sums"
	"twoneedles/refrig"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// The parts every step is made of: a sum with its hero number, checks with their
// source, what to mind.

// source says where a number comes from: a link to the bibliography, or its
// standing where there is nothing to cite.
func (s *Place) source(basis service.Basis, ref string) app.UI {
	w := s.Words
	if ref == "" {
		return app.Span().Class("src").Text(w.T("job.basis." + string(basis)))
	}
	return app.A().Class("src").Href(page.Href("/sources") + "#ref-" + ref).Text(w.T("job.ref." + ref))
}

// Marks of a check; the words beside them say the same.
var checkMarks = map[string]string{"yes": "✓", "no": "✕", "open": "○", "fact": "·"}

// check is one line: how it stands, in words, with its source.
func (s *Place) check(how, text string, r service.Rule) app.UI {
	return app.Li().DataSet("check", r.Code).DataSet("stands", how).Body(
		app.Span().Class("mark").Aria("hidden", true).Text(checkMarks[how]),
		app.Span().Body(app.Text(text+" "), s.source(r.Basis, r.Ref)),
	)
}

func checks(id string, items ...app.UI) app.UI {
	if len(items) == 0 {
		return nil
	}
	return app.Ul().ID(id).Class("checks").Body(items...)
}

// note is a line without a number of its own.
func (s *Place) note(code, text string, basis service.Basis, ref string) app.UI {
	return s.check("fact", text, service.Rule{Code: code, Basis: basis, Ref: ref})
}

// computed is a note of what follows from an equation.
func (s *Place) computed(code, text string) app.UI { return s.note(code, text, service.Computed, "") }

// rule is a rule with its number or numbers.
func (s *Place) rule(r service.Rule, k unit.Kind) app.UI {
	return s.check("fact", s.Words.T("job.rule."+r.Code, "span", s.span(r, k)), r)
}

// hero is the number of a sum, with what it is.
func hero(id, number, what string) app.UI {
	return app.P().ID(id).Class("hero").Body(app.Strong().Text(number), app.Span().Text(what))
}

// result shows a sum: what is still missing for it, why it failed, or what it says.
func result[T any](s *Place, id string, x sums.Result[T], say func(T) []app.UI) app.UI {
	w := s.Words
	var body []app.UI
	switch {
	case len(x.Need) > 0:
		needs := make([]string, len(x.Need))
		for i, n := range x.Need {
			needs[i] = w.T("job.need." + n)
		}
		body = []app.UI{app.P().Class("soft").Text(w.T("job.needs", "list", s.Words.List(needs)))}
	case x.Err != nil:
		body = page.Told(s.Voice().Error(x.Err))
	default:
		body = say(x.Is)
	}
	// Only the number is live: all the lines below it would drown it.
	body[0] = app.Div().Aria("live", "polite").Body(body[0])
	return app.Div().ID(id).Class("sum tight").Body(body...)
}

// minded are warnings of a sum as lines.
func (s *Place) minded(list []refrig.Warning) app.UI {
	if len(list) == 0 {
		return nil
	}
	items := make([]app.UI, len(list))
	for i, warning := range list {
		m := s.Voice().Warning(warning)
		items[i] = app.Li().DataSet("warning", warning.Code).Body(app.Strong().Text(m.What+" "), app.Text(m.Why+" "+m.Next))
	}
	return app.Ul().Class("minded").Body(items...)
}

// estimate says best value and limits: "78 % (74–83 %)".
func (s *Place) estimate(e service.Estimate, k unit.Kind) string {
	v := s.Voice()
	if e.Lo == e.Hi {
		return v.Quantity(e.Value, k)
	}
	return s.Words.T("job.estimate", "value", v.Quantity(e.Value, k), "range", v.Range(e.Lo, e.Hi, k))
}

// span says a rule's number or numbers.
func (s *Place) span(r service.Rule, k unit.Kind) string {
	if r.Lo == r.Hi {
		return s.Voice().Quantity(r.Lo, k)
	}
	return s.Voice().Range(r.Lo, r.Hi, k)
}

// fold hides what is looked up now and then.
func fold(id, title string, body ...app.UI) app.UI {
	return app.Details().ID(id).Class("fold").Body(app.Summary().Text(title), app.Div().Class("tight").Body(body...))
}
