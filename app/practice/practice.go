package practice

import (
	"encoding/json"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/practice"
)

// Keys of what Practice keeps on the device.
const (
	keyProgress = "twoneedles.practice"
	keyDrill    = "twoneedles.practice.now"
	keyResult   = "twoneedles.practice.result"
)

// view sets a car with a hidden condition: its two needles, its weather
// and what the driver says. Everything else is bought with minutes; then an
// answer is given with a confidence and marked.
type view struct {
	app.Compo
	Lang string
	Job  int // revision of the job, whose units are shown

	s        *page.Page
	ctx      app.Context // of the page: a button may be gone when its work is done
	store    job.Storage
	progress *practice.Progress
	ask      *ask.Questions
	drill    drill

	turn    int             // number of the case, of all that were drawn
	desk    *practice.Desk  // nil while a car is being drawn
	failure present.Message // why there is no car
	said    string          // what was done last, for a screen reader
	begun   answerGiven     // the answer as it was kept, when the case came
	review  *review         // nil until the answer is marked
	class   classLink
	pages   page.Unfolder // catalogue pages below the mark

	screen   screen
	result   *result // of the last class set that was finished, nil if there is none
	handedOn string  // what became of it
	byHand   bool    // it could not be handed on: it stands there to be copied
	teacher  *teacherSheet
	answers  *ask.Questions // for the teacher's sheet: a case may be drawn meanwhile
}

// screen is what the place shows.
type screen int

const (
	theCase screen = iota
	theResult
	theTeacher
)

// drill is the list of cases being worked through, as it is kept on the device.
type drill struct {
	Level  practice.Level `json:"level"`
	Cases  []int          `json:"cases"`
	At     int            `json:"at"` // the case at hand
	Class  bool           `json:"class"`
	Bought []car.Quantity `json:"bought"`
	Given  answerGiven    `json:"given"`

	// Of a class set: the edition its link named, and the answers so far by place.
	Edition string         `json:"edition"`
	Answers map[int]answer `json:"answers"`
}

// View draws the place.
func View(s *page.Page) app.Composer {
	return &view{Lang: s.Lang(), Job: s.JobRev(), s: s, ask: s.Questions(), answers: s.Questions(), pages: page.Unfolder{On: s}, drill: drill{Level: practice.Textbook}} // drawn once before OnMount
}

// OnMount takes up the work where it was left.
func (p *view) OnMount(ctx app.Context) {
	p.ctx, p.store = ctx, p.s.Device()
	text, _, _ := p.store.Get(keyProgress)
	p.progress = practice.Restore(text)
	text, _, _ = p.store.Get(keyResult)
	p.result = restoreResult(text)
	p.class.reset()
	if p.openLink(ctx) {
		return
	}
	text, _, _ = p.store.Get(keyDrill)
	if p.drill.restore(text) {
		p.draw()
		return
	}
	p.fresh(practice.Textbook)
}

// OnNav opens a link that was followed while the page was open.
func (p *view) OnNav(ctx app.Context) {
	if p.store != nil {
		p.openLink(ctx)
	}
}

// openLink takes a class's cases out of the address, as a shared job is taken.
func (p *view) openLink(ctx app.Context) bool {
	u := ctx.Page().URL()
	set, ok := practice.ParseSet(u.Fragment)
	if !ok {
		return false
	}
	u.Fragment = ""
	ctx.Page().ReplaceURL(u)
	p.drill = drill{Level: set.Level, Cases: set.Seeds, Class: true, Edition: set.Edition}
	p.screen = theCase
	p.draw()
	return true
}

// restore reads a drill that was kept and reports whether it is one.
func (d *drill) restore(text string) bool {
	var in drill
	if json.Unmarshal([]byte(text), &in) != nil || in.At < 0 || in.At >= len(in.Cases) {
		return false
	}
	set, ok := practice.ParseSet(practice.Set{Level: in.Level, Seeds: in.Cases, Edition: in.Edition}.Link()) // the same checks as a link
	if !ok || len(set.Seeds) != len(in.Cases) {
		return false
	}
	in.Level, in.Edition, in.Answers = set.Level, set.Edition, saneAnswers(in.Answers, len(in.Cases))
	*d = in
	return true
}

// last reports whether the case at hand is the last of the list.
func (d *drill) last() bool { return d.At+1 >= len(d.Cases) }

// show changes what the place shows.
func (p *view) show(s screen) {
	p.screen, p.handedOn, p.byHand = s, "", false
	title := map[screen]string{theCase: "case-title", theResult: "result-title", theTeacher: "teacher-title"}[s]
	p.ctx.Defer(func(app.Context) { browser.ShowTop(title) })
}

// keep writes a drill to the device.
func (p *view) keep(d drill) { page.KeepJSON(p.store, keyDrill, d) }

// freshDrill is a new case of a level, what was confused more often.
func (p *view) freshDrill(l practice.Level) drill {
	return drill{Level: l, Cases: []int{p.progress.Next(l, uint64(time.Now().UnixNano()))}}
}

// fresh sets a new case of a level.
func (p *view) fresh(l practice.Level) {
	p.drill = p.freshDrill(l)
	p.draw()
}

// next goes to the next case of the list, or sets a new one; after the last of a class
// set the result is shown before it.
func (p *view) next() {
	if p.drill.last() && p.drill.Class {
		p.show(theResult)
	}
	p.drill = p.afterThis()
	p.draw()
}

// draw makes the car of the drill ready, buys what had been bought and gives the answer as
// far as it was given.
func (p *view) draw() {
	p.turn++
	p.desk, p.review, p.begun, p.failure = nil, nil, answerGiven{}, present.Message{}
	p.pages.Open = nil
	p.keep(p.drill)
	p.ask.Cancel() // the car before may be on its way
	p.s.Then(p.askForCar)
}

// askForCar makes the car. It is asked for once the page is drawn without one: in the card
// of the case before, menu and steps would keep what was chosen there.
func (p *view) askForCar() {
	seed, level := p.drill.Cases[p.drill.At], p.drill.Level
	p.ask.Ask(p.ctx, func(_ app.Context, err error) { p.failure = p.s.Voice().Error(err) },
		func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
			puzzle, err := practice.Draw(m, seed, level)
			if err != nil {
				return err
			}
			deliver(func(app.Context) {
				p.desk = practice.NewDesk(puzzle)
				for _, q := range p.drill.Bought {
					p.desk.Buy(q)
				}
				p.drill.Given = p.drill.Given.of(puzzle)
				p.begun = p.drill.Given
				p.said = p.s.Words.T("practice.ready", "n", seed)
			})
			return nil
		})
}

func (p *view) Render() app.UI {
	w := p.s.Words
	head := app.Header().Class("drill-head").Body(
		app.H1().ID("title").TabIndex(-1).Text(w.T("practice.title")),
		p.levels(),
		app.P().ID("practice-said").Class("sr").Role("status").Text(p.said),
	)
	switch {
	case p.screen == theResult && p.result != nil:
		return app.Div().Class("drill").Body(head, p.resultCard())
	case p.screen == theTeacher && p.teacher != nil:
		return app.Div().Class("drill").Body(head, p.sheetCard())
	case p.desk == nil:
		return app.Div().Class("drill").Body(head, p.noCar())
	}
	right, after := []app.UI{p.measureCard(), p.answerCard(), p.progressCard()}, []app.UI(nil)
	if p.review != nil { // the mark stands beside what it is about
		right, after = []app.UI{p.reviewCard()}, []app.UI{p.measureCard(), p.progressCard()}
	}
	return app.Div().Class("drill").Body(head, app.Div().Class("left").Body(p.caseCard()), app.Div().Class("right").Body(right...), app.Div().Class("after").Body(after...))
}

// noCar stands in for a case: it is on its way, or could not be made.
func (p *view) noCar() app.UI {
	w := p.s.Words
	if p.failure.What == "" {
		return app.Section().ID("drawing").Class("card empty").Body(app.P().Class("soft").Text(w.T("practice.drawing")))
	}
	return app.Section().ID("drawing").Class("card empty").Body(
		append(page.Told(p.failure), app.Button().Type("button").Class("btn main").Text(w.T("practice.another")).
			OnClick(func(app.Context, app.Event) { p.fresh(p.drill.Level) }))...)
}

// levels chooses how hard the next case is; choosing sets one.
func (p *view) levels() app.UI {
	w := p.s.Words
	var buttons []app.UI
	for _, l := range practice.Levels {
		buttons = append(buttons, page.Button("level-"+levelName(l), "", w.T("practice.level."+levelName(l)+".name"), func() {
			p.screen = theCase
			p.fresh(l)
		}).Attr("aria-pressed", page.Pressed(l == p.drill.Level)))
	}
	return app.Div().Class("drill-level").Body(
		app.Div().Class("seg").Role("group").Aria("label", w.T("practice.levels")).Body(buttons...),
		app.P().Class("soft small").Text(w.T("practice.level."+levelName(p.drill.Level)+".about")),
	)
}

// levelName is the part of a key that names a level.
func levelName(l practice.Level) string {
	return map[practice.Level]string{practice.Textbook: "textbook", practice.Everyday: "everyday", practice.Ambiguous: "ambiguous"}[l]
}
