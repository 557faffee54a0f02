package repair

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/app/repair/sums"
	"twoneedles/chart"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// sheet is one sheet for the person who drives the car: what was found and how
// sure that is, what was done, how it was proved, what nobody can promise. Words are
// whole sentences in tell.json, held to the reading age of a fourteen-year-old.
type sheet struct {
	app.Compo
	Lang, In                       string // the page's language, and the sheet's
	Job, Answer, Plan, After, Told int    // revisions of what it shows

	s *Place
}

// Customer draws the customer's sheet.
func (s *Place) Customer() app.Composer {
	return &sheet{Lang: s.Lang(), In: s.SheetWords().Lang(), Job: s.JobRev(), Answer: s.Answer().Rev, Plan: s.Answer().PlanRev, After: s.After().Rev, Told: s.toldRev, s: s}
}

func (p *sheet) Render() app.UI {
	s := p.s
	work := strings.TrimSpace(s.Job.Repair.Work)
	class := "sheet card"
	if r := s.Job.Repair; len([]rune(work))+longItem*(len(r.Parts)+len(r.LeaksFound)) > longWork {
		class += " long" // smaller type keeps it on one sheet
	}
	return app.Div().Class("tell").Body(
		p.tools(),
		s.In(s.SheetWords(), func() app.UI {
			w := s.Words
			return app.Article().ID("sheet").Class(class).Lang(w.Lang()).Dir(w.T("language.dir")).Body(
				p.letterhead(),
				app.H1().ID("title").TabIndex(-1).Text(w.T("tell.title")),
				p.part("found", p.found()...),
				p.part("sure", p.sure()...),
				p.picture(),
				p.part("did", p.did(work)...),
				p.part("proved", p.proved()...),
				p.part("next", para(w.T("tell.next."+p.next()))),
				p.part("promise", p.promise()...),
			)
		}),
		app.If(s.Guest(), func() app.UI {
			return app.P().Class("small tell-tools").Body(app.Button().ID("tell-open").Type("button").Class("btn").Text(s.Words.T("tell.open")).
				OnClick(func(ctx app.Context, _ app.Event) {
					s.TakeGuest()
					ctx.Navigate(page.Href("/"))
				}))
		}),
	)
}

// tools are what the shop does with the sheet. Whoever was sent it has only the sheet.
func (p *sheet) tools() app.UI {
	s, w := p.s, p.s.Words
	if s.Guest() {
		return app.Div().Class("tell-tools").Hidden(true)
	}
	return app.Div().Class("tell-tools tight").Body(
		app.Div().Class("row").Body(
			app.Button().ID("tell-print").Type("button").Class("btn main").Text(w.T("tell.print")).
				Hidden(!browser.CanPrint()).OnClick(browser.Print),
			app.Button().ID("tell-share").Type("button").Class("btn").Text(w.T("tell.share")).
				OnClick(func(ctx app.Context, _ app.Event) {
					browser.Share(ctx, w.T("tell.title"), s.LinkSheet(), func(_ app.Context, how browser.Shared) {
						p.s.told = how
						p.s.toldRev++
					})
				}),
			app.A().Class("btn").Href(page.Href("/job")).Text(w.T("tell.to_job")),
		),
		page.LanguageMenu("tell-language", w.T("tell.language"), cmp.Or(s.Job.TellIn, s.Lang()), s.TellIn),
		app.P().ID("tell-said").Role("status").Class("small").Text(func() string {
			if s.toldRev == 0 {
				return ""
			}
			return w.T(sharedWords[s.told])
		}()),
	)
}

// sharedWords say what became of a link.
var sharedWords = map[browser.Shared]string{
	browser.SharedAway: "job.record.sent", browser.SharedCopied: "job.record.copied", browser.SharedNot: "job.record.not_copied",
	browser.SharedEnded: "job.record.not_sent",
}

// A sheet with more text than longWork is set smaller; work is cut at mostWork with
// a word that it was, because an imported job may hold more than the field takes
// ([maxWork]). In characters; a part or a place has about longItem.
const (
	longWork = 320
	longItem = 30
	mostWork = maxWork
)

// letterhead is whose sheet this is. The shop's name is the user's own text and is
// typed where it will stand.
func (p *sheet) letterhead() app.UI {
	s, w := p.s, p.s.Words
	date := s.Job.Updated
	if date.IsZero() {
		date = time.Now()
	}
	// What names the car and who worked on it, as far as somebody typed it; a sheet that
	// was sent holds of these what the link was given.
	var names []app.UI
	for _, name := range [][2]string{{"plate", s.Job.Plate}, {"odometer", s.Job.Odometer}, {"technician", s.Job.Technician}} {
		if text := strings.TrimSpace(name[1]); text != "" {
			names = append(names, app.Span().ID("tell-"+name[0]).Text(w.T("tell.about."+name[0], "text", text)))
		}
	}
	about := app.P().Class("about").Body(app.Span().ID("tell-car").Text(s.Job.Title), app.Range(names).Slice(func(i int) app.UI { return names[i] }),
		app.Time().DateTime(date.Local().Format(time.DateOnly)).Text(w.Day(date.Local())))
	if s.Guest() {
		return app.Div().Class("letterhead").Body(app.P().Class("shop").Hidden(s.Job.Shop == "").Text(s.Job.Shop), about)
	}
	return app.Div().Class("letterhead").Body(
		app.Label().Class("sr").For("shop").Text(w.T("job.shop.name")),
		app.Input().ID("shop").Class("shop").Type("text").AutoComplete(false).MaxLength(job.MaxTitle).
			Placeholder(w.T("tell.shop")).Value(s.Job.Shop).OnInput(s.typing(&s.Job.Shop)),
		app.P().Class("shop paper").Text(s.Job.Shop), // an input on paper would cut a long name
		about,
	)
}

func (p *sheet) part(id string, body ...app.UI) app.UI {
	return app.Section().ID("tell-" + id).Class("part").Body(
		append([]app.UI{app.H2().Text(p.s.Words.T("tell." + id + ".title"))}, body...)...)
}

func para(text string) app.UI { return app.P().Text(text) }

// cause is the condition the sheet speaks of: the one the technician settled on, or
// else the likeliest. A sound car that the scale found short or overfull is not settled,
// and one that leaks is not the likeliest.
func (s *Place) cause() (id car.ConditionID, settled bool) {
	if c := car.ConditionID(s.Job.Repair.Cause); c != "" && !(c == car.Healthy && s.weighedWrong()) {
		return c, true
	}
	if said := s.Said(); len(said.Candidates) > 0 && said.Verdict != diagnose.Doubtful &&
		!(said.Candidates[0].ID == car.Healthy && len(s.Job.Repair.LeaksFound) > 0) {
		return said.Candidates[0].ID, false
	}
	return "", false
}

// weighedWrong tells whether the charge that was weighed is off the label, however wrong
// the machine weighs.
func (s *Place) weighedWrong() bool {
	w := s.Answer().Report.Weighed
	return w != nil && (w.Hi < w.Label*(1-w.Tolerance) || w.Lo > w.Label*(1+w.Tolerance))
}

func (p *sheet) found() []app.UI {
	s, w := p.s, p.s.Words
	id, settled := s.cause()
	leaks := len(s.Job.Repair.LeaksFound) > 0
	likeliest := ""
	if said := s.Said(); len(said.Candidates) > 0 {
		likeliest = string(said.Candidates[0].ID)
	}
	var out []app.UI
	switch own := "tell.found." + string(id); { // what is no fault of the car's own
	case leaks && (id == car.Healthy || !settled && likeliest == string(car.Healthy)): // the place says it
	case !settled && s.Said().Customer != "":
		out = append(out, para(s.Said().Customer))
	case !settled && leaks:
	case !settled && s.worked():
		out = append(out, para(w.T("tell.found.not_before")))
	case !settled:
		out = append(out, para(w.T("tell.found.nothing_read")))
	case w.Has(own):
		out = append(out, para(w.T(own)))
	default:
		out = append(out, para(w.T("tell.found.cause", "cause", s.Words.Plain(id))))
	}
	if found := s.Job.Repair.LeaksFound; leaks {
		places := make([]string, len(found))
		for i, f := range found {
			places[i] = w.T("tell.place." + f)
		}
		out = append(out, para(w.T("tell.found.leak", "n", len(places), "places", s.Words.List(places))))
	}
	return out
}

// sure says how sure it is, of a thing that it names.
func (p *sheet) sure() []app.UI {
	s, w := p.s, p.s.Words
	id, settled := s.cause()
	answered := s.Answer().State == page.Answered
	said := s.Said()
	var of claim.Candidate
	for _, c := range said.Candidates {
		if c.ID == id {
			of = c
		}
	}
	var out []app.UI
	switch {
	case settled && !answered, id == "" && len(s.Job.Repair.LeaksFound) > 0:
		out = append(out, para(w.T("tell.sure.seen")))
	case id == "" || !answered:
		out = append(out, para(w.T("tell.sure.unknown")))
	case settled && of.Probability < claim.Unlikely:
		out = append(out, para(w.T("tell.sure.by_hand"))) // seen at the car, whatever the numbers said
	case settled:
		out = append(out, para(w.T("tell.sure.settled", "cause", s.Words.Plain(id), "chance", of.Chance)))
	default:
		out = append(out, para(said.Sure))
	}
	if s.Guest() && s.Job.Learnt > 0 && id != "" && answered {
		out = append(out, para(w.T("tell.sure.learnt")))
	}
	if r := sums.Of(s.Job, s.Case()).Recovery(); r.Ready() {
		out = append(out, para(w.T("tell.sure.weighed", "share", s.between(r.Is.Fraction.Lo, r.Is.Fraction.Hi, unit.Fraction))))
	}
	return out
}

// next is what is suggested now. It names no price and no time: the shop knows them.
func (p *sheet) next() string {
	s := p.s
	_, settled := s.cause()
	proof := s.proof()
	cause := car.ConditionID(s.Job.Repair.Cause)
	switch {
	case proof.Ready():
		key := strings.TrimPrefix(provedKey(proof.Is), "tell.proved.")
		if key == string(service.Proved) && s.Job.CircuitTouched() {
			return "proved_circuit"
		}
		return key
	case settled && cause == car.Healthy && len(s.Job.Repair.LeaksFound) == 0:
		return "healthy"
	case s.mended() && s.leaks():
		return "not"
	case s.mended(), settled && cause == car.Gauge:
		return "again"
	case settled, len(s.Job.Repair.LeaksFound) > 0, s.leaks():
		return "repair"
	case s.emptied():
		return "again"
	case s.Answer().State == page.Answered, s.worked():
		return "test"
	}
	return "read"
}

// mended tells whether the repair itself was made: a part is in, or the charge.
func (s *Place) mended() bool {
	_, charged := s.Job.Text[present.MassIn]
	return charged || len(s.Job.Repair.Parts) > 0 || s.isDone("repair") || s.isDone("charge")
}

// emptied tells whether the circuit was evacuated.
func (s *Place) emptied() bool {
	_, reached := s.Job.Text[present.VacuumReached]
	return reached || len(s.Job.Repair.Hold) > 0 || s.isDone("evacuate")
}

// worked tells whether anything was done to the car, or tried after it.
func (s *Place) worked() bool {
	return s.mended() || s.emptied() || s.Job.CircuitTouched() || !s.Job.After.Empty()
}

// leaks tells whether a test says that the circuit is not tight now.
func (s *Place) leaks() bool {
	h := s.hold()
	return h.Ready() && (h.Is.Verdict == service.HoldLeak || h.Is.Verdict == service.HoldBoth) ||
		sums.Of(s.Job, s.Case()).UnderGas() == sums.GasLeak
}

// picture is the one picture: before and after the repair, or before it the odds.
func (p *sheet) picture() app.UI {
	s, w := p.s, p.s.Words
	if fig := s.beforeAfter("tell-plane"); fig != nil {
		return app.Div().ID("tell-picture").Class("shown").Body(app.P().Class("caption").Text(w.T("tell.picture.before_after")), fig)
	}
	// Bars of what the numbers do not name, or of what was named otherwise at the car,
	// would say something else than the words beside them.
	if _, settled := s.cause(); settled || s.Said().Verdict != diagnose.Named {
		return app.Div().ID("tell-picture").Hidden(true)
	}
	o := s.ChartOptions("tell-odds")
	o.Words = s.plainWords
	return app.Div().ID("tell-picture").Class("shown").Body(app.P().Class("caption").Text(w.T("tell.picture.odds")),
		s.Drawn(chart.Odds(s.Answer().Report.Ranking, o)))
}

// plainWords are the words of a picture that a driver understands.
func (s *Place) plainWords(key string, pairs ...any) string {
	if id, ok := strings.CutPrefix(key, "chart.condition."); ok {
		return s.Words.T("condition." + id + ".short")
	}
	return s.Words.T(key, pairs...)
}

// did is what was done: from what was ticked and typed, and in the technician's own
// words.
func (p *sheet) did(work string) []app.UI {
	s, w, v := p.s, p.s.Words, p.s.Voice()
	var items []app.UI
	add := func(text string) { items = append(items, app.Li().Text(text)) }
	x := sums.Of(s.Job, s.Case())
	// What came out was weighed, whether or not the label is known.
	if out, label := sums.Of(s.Job, s.Case()).Recovered(), sums.Of(s.Job, s.Case()).Label(); out > 0 && label == 0 {
		add(w.T("tell.did.recovered_only", "mass", v.Quantity(out, unit.Mass)))
	} else if out > 0 || x.Recovery().Ready() {
		add(w.T("tell.did.recovered", "mass", v.Quantity(out, unit.Mass), "label", v.Quantity(label, unit.Mass)))
	}
	if parts := s.Job.Repair.Parts; len(parts) > 0 {
		names := make([]string, len(parts))
		for i, part := range parts {
			names[i] = w.T("tell.part." + part)
		}
		add(w.T("tell.did.parts", "parts", s.Words.List(names)))
	}
	if found := x.UnderGas(); found != "" {
		add(w.T("tell.did.retest_" + found))
	}
	if h := s.hold(); h.Ready() && h.Is.Verdict != service.HoldCannotTell {
		add(w.T("tell.did.hold_" + string(h.Is.Verdict)))
	} else if s.emptied() {
		add(w.T("tell.did.evacuated"))
	}
	if typed, ok, _ := s.Job.Number(present.MassIn); ok {
		kg := typed.Value
		if in := x.Charged(); in.Ready() {
			kg = in.Is.InCar.Value // what stayed in the hoses the customer did not get
		}
		add(w.T("tell.did.charged", "mass", v.Quantity(kg, unit.Mass)))
	}
	if work != "" {
		if runes := []rune(work); len(runes) > mostWork {
			work = w.T("tell.did.cut", "text", strings.TrimSpace(string(runes[:mostWork])))
		}
		items = append(items, app.Li().ID("tell-work").Class("own").Text(work))
	}
	if len(items) == 0 {
		return []app.UI{para(w.T("tell.did.nothing_yet"))}
	}
	return []app.UI{app.Ul().Class("list").Body(items...)}
}

func (p *sheet) proved() []app.UI {
	s, w := p.s, p.s.Words
	proof := s.proof()
	if !proof.Ready() {
		return []app.UI{para(w.T("tell.proved.not_yet"))}
	}
	out := []app.UI{para(w.T(provedKey(proof.Is)))}
	for _, e := range s.After().Report.Evidence {
		if e.Quantity == car.Vent && e.HasExpected {
			out = append(out, para(p.vent(e)))
		}
	}
	return out
}

// provedKey is what a proof says to a driver. At the edge it makes a difference whether
// the readings are there or something is still to be done.
func provedKey(p service.Proof) string {
	if p.Outcome == service.AtTheEdge && !slices.Contains(p.Because, "readings") {
		return "tell.proved.open"
	}
	return "tell.proved." + string(p.Outcome)
}

// vent says the one number a driver can feel.
func (p *sheet) vent(e diagnose.Evidence) string {
	s, w, v := p.s, p.s.Words, p.s.Voice()
	args := map[string]any{
		"now": s.Voice().Reading(car.Vent, e.Reading), "range": v.Range(e.Expected.Lo, e.Expected.Hi, unit.Temperature),
		"outside": v.Quantity(s.After().Of.Weather.Ambient, unit.Temperature),
	}
	if before, ok := s.Case().Readings[car.Vent]; ok {
		args["before"] = s.Voice().Reading(car.Vent, before)
		return w.Text("tell.proved.vent_before", args)
	}
	return w.Text("tell.proved.vent", args)
}

// promise is what the sheet does not promise: the same for every car, and what this
// job left open.
func (p *sheet) promise() []app.UI {
	s, w := p.s, p.s.Words
	items := []app.UI{app.Li().Text(w.T("tell.promise.gauges")), app.Li().Text(w.T("tell.promise.later"))}
	found := sums.Of(s.Job, s.Case()).UnderGas()
	if h := s.hold(); h.Ready() && h.Is.Verdict == service.HoldTight || found == sums.GasTight || found == sums.GasHolds {
		items = append(items, app.Li().Text(w.T("tell.promise.small_leak")))
	}
	return []app.UI{app.Ul().Class("list").Body(items...), app.P().Class("small").Text(w.T("tell.promise.law"))}
}
