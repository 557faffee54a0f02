package practice

import (
	"encoding/json"
	"math"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
	"twoneedles/refrig/car"
	"twoneedles/refrig/practice"
)

// result is what a class set came to, as it is kept on the device until the next one and
// handed in where the student chooses.
type result struct {
	Set     practice.Set   `json:"set"`     // its edition is the one the cases were drawn under
	Link    string         `json:"link"`    // the edition its link named
	Answers map[int]answer `json:"answers"` // by place in the set
	Name    string         `json:"name"`    // as the student typed it
	Done    time.Time      `json:"done"`
	Release string         `json:"release"`
	Build   string         `json:"build"`
}

// answer is what was said of one case, what it was, and what that was worth.
type answer struct {
	Said    car.ConditionID `json:"said"` // "" for "cannot tell yet"
	Sure    float64         `json:"sure"` // 0…1
	Was     car.ConditionID `json:"was"`
	Right   bool            `json:"right"`
	Points  float64         `json:"points"`
	Minutes float64         `json:"minutes"`
}

// answerOf is a mark as it is kept.
func answerOf(k practice.Mark) answer {
	return answer{k.Answer.Condition, k.Answer.Confidence, k.Want, k.Correct(), k.Points, k.Minutes}
}

// sane tells an answer that was kept from one that somebody wrote.
func (a answer) sane() bool {
	said := a.Said == "" && a.Sure == 0 || car.Index(a.Said) >= 0 && a.Sure > 0 && a.Sure <= 1
	return said && car.Index(a.Was) >= 0 && math.Abs(a.Points) <= 500 && a.Minutes >= 0 && a.Minutes < 1e4
}

// saneAnswers drops what is no answer to one of n cases.
func saneAnswers(in map[int]answer, n int) map[int]answer {
	out := map[int]answer{}
	for i, a := range in {
		if i >= 0 && i < n && a.sane() {
			out[i] = a
		}
	}
	return out
}

// maxName is the longest name kept, in characters; judgement.
const maxName = 80

// restoreResult reads a result that was kept, nil if it is none.
func restoreResult(text string) *result {
	var r result
	if json.Unmarshal([]byte(text), &r) != nil {
		return nil
	}
	set, ok := practice.ParseSet(r.Set.Link())
	if !ok || len(set.Seeds) != len(r.Set.Seeds) {
		return nil
	}
	r.Set, r.Answers = set, saneAnswers(r.Answers, len(set.Seeds))
	r.Name, r.Release, r.Build = cut(r.Name), cut(r.Release), cut(r.Build)
	return &r
}

func cut(name string) string {
	if runes := []rune(name); len(runes) > maxName {
		return string(runes[:maxName])
	}
	return name
}

// finish makes the result of the class set at hand, once its last case is answered.
func (p *view) finish() {
	d := p.drill
	p.result = &result{
		Set:  practice.Set{Level: d.Level, Seeds: d.Cases, Edition: practice.Edition()},
		Link: d.Edition, Answers: d.Answers, Done: time.Now(),
		Release: page.ShellField("release"), Build: page.ShellField("version"),
	}
	p.keepResult()
}

func (p *view) keepResult() { page.KeepJSON(p.store, keyResult, p.result) }

// sum adds points and minutes as they are shown, and counts what was solved.
func (r *result) sum() (points, minutes float64, right int) {
	for _, a := range r.Answers {
		points += math.Round(a.Points)
		minutes += math.Round(a.Minutes)
		if a.Right {
			right++
		}
	}
	return points, minutes, right
}

// said is the student's answer in words.
func (p *view) saidText(a answer) string {
	if a.Said == "" {
		return p.s.Words.T("practice.cannot_tell")
	}
	return p.s.Words.T("practice.result.said", "condition", p.s.Words.ConditionName(a.Said), "chance", p.s.Words.Chance(a.Sure))
}

// made says which program the cases are of, so that two sheets can be held together.
func (p *view) madeText(set practice.Set, release, build string) string {
	return p.s.Words.T("practice.result.made", "release", release, "build", build, "edition", set.Edition)
}

func (p *view) setText(set practice.Set) string {
	return p.s.Words.T("practice.result.set", "number", set.Number(), "level", p.s.Words.T("practice.level."+levelName(set.Level)+".name"), "n", len(set.Seeds))
}

func (p *view) sumText(r *result) string {
	points, minutes, right := r.sum()
	return p.s.Words.T("practice.result.sum", "points", p.points(points), "minutes", p.minutes(minutes), "right", right, "n", len(r.Set.Seeds))
}

// foreignText says that a set was made with other cases than these, "" if it does not say so.
func (p *view) foreignText(edition string) string {
	if !(practice.Set{Edition: edition}).Foreign() {
		return ""
	}
	return p.s.Words.T("practice.class.foreign", "theirs", edition, "ours", practice.Edition())
}

// resultText is the result as a text to send.
func (p *view) resultText() string {
	w, r := p.s.Words, p.result
	lines := []string{w.T("practice.result.title"), w.T("practice.result.by", "name", strings.TrimSpace(r.Name)), p.setText(r.Set), w.Day(r.Done.Local()), ""}
	for i, seed := range r.Set.Seeds {
		a, ok := r.Answers[i]
		if !ok {
			lines = append(lines, w.T("practice.result.none", "n", seed))
			continue
		}
		lines = append(lines, w.T("practice.result.line", "n", seed, "said", p.saidText(a), "was", p.s.Words.InText(a.Was),
			"points", p.points(a.Points), "minutes", p.minutes(a.Minutes)))
	}
	lines = append(lines, "", p.sumText(r), p.madeText(r.Set, r.Release, r.Build))
	if foreign := p.foreignText(r.Link); foreign != "" {
		lines = append(lines, foreign)
	}
	return strings.Join(lines, "\n")
}

// resultCard is the sheet a student hands in.
func (p *view) resultCard() app.UI {
	w, r := p.s.Words, p.result
	var rows []app.UI
	for i, seed := range r.Set.Seeds {
		a, ok := r.Answers[i]
		said, points, minutes := app.Td().Text(w.T("number.missing")), "", ""
		if ok {
			said = app.Td().Body(app.Div().Text(p.saidText(a)), app.Div().Class("soft small").Text(w.T("practice.result.was", "condition", p.s.Words.InText(a.Was))))
			points, minutes = p.points(a.Points), p.minutes(a.Minutes)
		}
		rows = append(rows, app.Tr().Body(app.Th().Scope("row").Text(seed), said, app.Td().Class("n").Text(points), app.Td().Class("n").Text(minutes)))
	}
	foreign := p.foreignText(r.Link)
	return app.Section().ID("result").Class("card stack hand-in").Aria("labelledby", "result-title").Body(
		app.H2().ID("result-title").TabIndex(-1).Text(w.T("practice.result.title")),
		app.P().Text(p.setText(r.Set)), app.P().Class("soft small").Text(w.Day(r.Done.Local())),
		app.Div().Class("field").Body(
			app.Label().For("result-name").Text(w.T("practice.result.name")),
			app.Div().Class("entry").Body(app.Input().ID("result-name").Type("text").AutoComplete(false).MaxLength(maxName).Value(r.Name).
				OnInput(page.Typing(func(text string) { p.result.Name = cut(text); p.keepResult() }))),
			app.P().Class("hint small soft").Text(w.T("practice.result.name_about")),
		),
		app.Table().Class("answers").Body(
			app.Caption().Class("sr").Text(w.T("practice.result.title")),
			app.THead().Body(app.Tr().Body(
				app.Th().Scope("col").Text(w.T("practice.result.case")), app.Th().Scope("col").Text(w.T("practice.result.answer")),
				app.Th().Scope("col").Class("n").Text(w.T("practice.result.points")), app.Th().Scope("col").Class("n").Text(w.T("practice.result.minutes")))),
			app.TBody().Body(rows...)),
		app.P().ID("result-sum").Class("truth").Text(p.sumText(r)),
		app.P().ID("result-made").Class("soft small").Text(p.madeText(r.Set, r.Release, r.Build)),
		app.P().Class("msg").Hidden(foreign == "").Text(foreign),
		app.Div().Class("row").Body(
			app.Button().ID("result-share").Type("button").Class("btn main").Text(w.T("practice.result.share")).OnClick(p.shareResult),
			app.Button().ID("result-print").Type("button").Class("btn").Text(w.T("practice.print")).
				Hidden(!browser.CanPrint()).OnClick(browser.Print),
			p.backButton("practice.result.on"),
		),
		app.P().ID("result-said").Role("status").Class("small").Text(p.handedOn),
		app.Textarea().ID("result-text").ReadOnly(true).Rows(8).Aria("label", w.T("practice.result.title")).Hidden(!p.byHand).Text(p.resultText()),
	)
}

// shareResult hands the result on as a text; one that could not be is shown.
func (p *view) shareResult(ctx app.Context, _ app.Event) {
	w := p.s.Words
	browser.ShareText(ctx, w.T("practice.result.title"), p.resultText(), func(ctx app.Context, how browser.Shared) {
		p.byHand = how == browser.SharedNot
		p.handedOn = w.T(map[browser.Shared]string{browser.SharedAway: "practice.result.sent", browser.SharedCopied: "practice.result.copied",
			browser.SharedNot: "practice.result.by_hand", browser.SharedEnded: "practice.result.not_sent"}[how])
	})
}

// backButton leads from a sheet to the case at hand.
func (p *view) backButton(word string) app.UI {
	return page.Button("sheet-back", "btn quiet", p.s.Words.T(word), func() { p.show(theCase) })
}
