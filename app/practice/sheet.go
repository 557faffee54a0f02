package practice

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
)

// teacherSheet holds the answers of a set, as they are drawn one after the other.
type teacherSheet struct {
	set    practice.Set
	cases  []*practice.Puzzle
	done   bool
	failed present.Message
}

// openSheet draws the cases whose numbers are typed, for whoever said that he wants the
// answers.
func (p *view) openSheet(app.Context, app.Event) {
	set, _, ok := p.typedSet()
	if !ok {
		p.class.say(p.s.Words.T("practice.class.bad", "most", practice.MaxSet))
		return
	}
	sheet := &teacherSheet{set: set}
	p.teacher = sheet
	p.show(theTeacher)
	p.answers.Ask(p.ctx, func(_ app.Context, err error) { sheet.failed = p.s.Voice().Error(err) },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			for i, seed := range set.Seeds {
				puzzle, err := practice.Draw(m, seed, set.Level)
				if err != nil {
					return err
				}
				if !deliver(func(app.Context) { sheet.cases, sheet.done = append(sheet.cases, puzzle), i == len(set.Seeds)-1 }) {
					return nil
				}
			}
			return nil
		})
}

// sheetCard is the teacher's sheet: one line a case, so that a set fits a page.
func (p *view) sheetCard() app.UI {
	w, sheet := p.s.Words, p.teacher
	var rows []app.UI
	for _, puzzle := range sheet.cases {
		read := func(q car.Quantity) app.UI {
			return app.Td().Class("n").Text(p.s.Voice().Reading(q, puzzle.Case.Readings[q]))
		}
		rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(puzzle.Seed), read(car.Low), read(car.High), app.Td().Text(p.truthText(puzzle.Truth))))
	}
	state := ""
	switch {
	case sheet.failed.What != "":
		state = sheet.failed.Sentences()
	case !sheet.done:
		state = w.T("practice.sheet.drawing", "n", len(sheet.cases), "all", len(sheet.set.Seeds))
	}
	return app.Section().ID("teacher").Class("card stack hand-in").Aria("labelledby", "teacher-title").DataSet("done", page.Pressed(sheet.done)).Body(
		app.H2().ID("teacher-title").TabIndex(-1).Text(w.T("practice.sheet.title")),
		app.P().Text(p.setText(sheet.set)),
		app.P().Class("soft small").Text(p.madeText(sheet.set, page.ShellField("release"), page.ShellField("version"))),
		app.P().Role("status").Hidden(state == "").Text(state),
		app.Table().Class("answers").Body(
			app.Caption().Class("sr").Text(w.T("practice.sheet.title")),
			app.THead().Body(app.Tr().Body(
				app.Th().Scope("col").Text(w.T("practice.result.case")),
				app.Th().Scope("col").Class("n").Text(w.T("practice.sheet.low")), app.Th().Scope("col").Class("n").Text(w.T("practice.sheet.high")),
				app.Th().Scope("col").Text(w.T("practice.sheet.answer")))),
			app.TBody().Body(rows...)),
		app.Div().Class("row").Body(
			app.Button().ID("teacher-print").Type("button").Class("btn main").Disabled(!sheet.done).Text(w.T("practice.print")).
				Hidden(!browser.CanPrint()).OnClick(browser.Print),
			p.backButton("practice.sheet.back"),
		),
	)
}
