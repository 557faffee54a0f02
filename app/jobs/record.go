package jobs

import (
	"cmp"
	"math"
	"slices"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/ask"
	"twoneedles/app/claim"
	"twoneedles/app/internal/browser"
	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Our record: what this shop's own confirmed jobs say of the answers. The answers are
// worked out again, from the readings of each job and without other visits of its car and
// without what the jobs teach, which could not be judged by the same jobs; no result is kept
// anywhere.

// leastRecord is from how many jobs on something is claimed: of twenty, the share of those
// that were right is known to a fifth either way.
const leastRecord = 20

// mostRecord is how many jobs are looked at, the latest: some ten milliseconds each.
const mostRecord = 300

// record is what the jobs come to.
type record struct {
	open   bool
	ask    *ask.Questions
	cases  []job.ConfirmedCase
	before int // of them, cars as they came
	jobs   []judged
	failed string // why it could not be worked out
	ready  bool
}

// judged is one confirmed job beside its answer.
type judged struct {
	called, found car.ConditionID
	chance        float64 // of called
	words         string  // for it, as it is said
	measurements  int     // made beyond both needles
	minutes       float64
	kept          float64 // kg by the label that stayed in a circuit which was not opened
}

// recordPart is the section of the list.
func (v *view) recordPart() app.UI {
	s, w := v.s, v.s.Words
	return app.Section().Class("card tight").Body(
		app.Details().ID("record").Class("tight").Open(s.record.open).Body(
			app.Summary().Text(w.T("jobs.record.title")),
			app.P().Class("hint").Text(w.T("jobs.record.how")),
			app.Div().ID("record-says").Class("tight").Aria("live", "polite").Body(v.recordSays()...),
			s.Learnt().Part(),
		).On("toggle", func(ctx app.Context, _ app.Event) {
			if open := ctx.JSSrc().Get("open").Bool(); open != s.record.open {
				s.record.open = open
				s.askRecord()
			}
		}))
}

// askRecord judges the confirmed jobs, a few at a time so that the page stays alive.
func (s *Place) askRecord() {
	r := &s.record
	*r = record{open: r.open, ask: r.ask}
	s.rev++
	if !r.open {
		return
	}
	if r.ask == nil {
		r.ask = s.Questions()
	}
	jobs := s.confirmed()
	var done []judged
	var cases []job.ConfirmedCase
	before := 0
	r.ask.Ask(s.Ctx, func(_ app.Context, err error) {
		r.failed, r.ready = s.Voice().Error(err).Sentences(), true
		s.rev++
	}, func(m *diagnose.Model, deliver func(func(app.Context)) bool) error {
		for i := range jobs {
			for _, k := range jobs[i].Confirmed() {
				if diagnose.Check(k.Of) != nil {
					continue // nothing was read that can be judged
				}
				cases = append(cases, k)
				if k.After {
					continue
				}
				before++
				if _, both := k.Of.Readings[car.Low]; !both {
					continue
				}
				a, err := m.Rank(k.Of)
				if err != nil {
					return err
				}
				done = append(done, s.judge(&jobs[i], k, a.Ranking))
			}
			const piece = 8
			if i%piece == piece-1 && !deliver(func(app.Context) {}) {
				return nil
			}
		}
		deliver(func(app.Context) {
			r.cases, r.before, r.jobs, r.ready = cases, before, done, true
			s.rev++
		})
		return nil
	})
}

// confirmed are the latest jobs whose cause was settled. One that was copied, as two windows
// or a file may, is one.
func (s *Place) confirmed() []job.Job {
	s.Save()
	list, _ := s.Entries()
	var out []job.Job
	found := map[time.Time]bool{}
	for _, e := range list {
		if e.Cause == "" || len(out) == mostRecord {
			continue
		}
		if j, err := s.Store().Look(e.ID); err == nil && len(j.Confirmed()) > 0 && !found[j.Repair.FoundAt] {
			found[j.Repair.FoundAt] = true
			out = append(out, j)
		}
	}
	return out
}

func (s *Place) judge(j *job.Job, k job.ConfirmedCase, ranking []diagnose.Ranked) judged {
	out := judged{called: ranking[0].ID, found: k.Found, chance: ranking[0].Probability, words: s.Words.Chances(claim.Probabilities(ranking))[0]}
	for q := range k.Of.Readings {
		if q != car.Low && q != car.High {
			out.measurements++
			out.minutes += q.Info().Minutes
		}
	}
	if !j.CircuitTouched() {
		out.kept = k.Of.Car.LabelCharge
	}
	return out
}

func (v *view) recordSays() []app.UI {
	s, w, r := v.s, v.s.Words, &v.s.record
	say := func(id, text string) app.UI { return app.P().ID(id).Text(text) }
	switch {
	case !r.open:
		return nil
	case !r.ready:
		return []app.UI{say("record-busy", w.T("readings.busy"))}
	case r.failed != "":
		return []app.UI{say("record-failed", r.failed)}
	}
	var out []app.UI
	if n := len(r.jobs); n < leastRecord {
		out = append(out, say("record-few", w.T("jobs.record.few", "n", n, "least", leastRecord)))
	} else {
		out = append(out, say("record-right", v.share("jobs.record.right", "", r.jobs)))
		var items []app.UI
		for _, g := range byChance(r.jobs) {
			items = append(items, app.Li().Text(v.share("jobs.record.called", g[0].words, g)))
		}
		out = append(out, app.Ul().ID("record-chances").Class("list small tight").Body(items...))
		if mixed := mixedUp(r.jobs); len(mixed) > 0 {
			var items []app.UI
			for _, m := range mixed {
				items = append(items, app.Li().Text(w.T("jobs.record.mixed", "n", m.n, "called", s.Words.ShortName(m.called), "found", s.Words.ShortName(m.found))))
			}
			out = append(out, app.H3().Text(w.T("jobs.record.mixed_title")), app.Ul().ID("record-mixed").Class("list small tight").Body(items...))
		}
		measured, minutes, shut, kept := 0, 0.0, 0, 0.0
		for _, j := range r.jobs {
			measured += j.measurements
			minutes += j.minutes
			if j.kept > 0 {
				shut++
				kept += j.kept
			}
		}
		of := float64(n)
		out = append(out, say("record-measured", w.T("jobs.record.measured", "n", s.Voice().Plain(math.Round(10*float64(measured)/of)/10),
			"time", s.Voice().Quantity(60*minutes/of, unit.Duration))))
		if shut > 0 {
			out = append(out, say("record-kept", w.T("jobs.record.kept", "n", shut, "mass", s.Voice().Quantity(kept, unit.Mass))))
		}
	}
	if len(r.cases) > 0 {
		out = append(out, app.Div().Class("row").Body(v.button("record-file", "jobs.record.file", func() {
			browser.Download(s.Ctx, browser.FileName("confirmed", "csv"), "text/csv;charset=utf-8", job.ConfirmedCSV(r.cases))
		})), app.P().Class("hint").Text(w.T("jobs.record.file_holds")))
	}
	return out
}

// share says of how many jobs the call was right, and what that leaves open.
func (v *view) share(key, chance string, jobs []judged) string {
	right := 0
	for _, j := range jobs {
		if j.called == j.found {
			right++
		}
	}
	lo, hi := wilson(right, len(jobs))
	return v.s.Words.T(key, "chance", chance, "n", len(jobs), "right", right, "lo", int(math.Round(100*lo)), "hi", int(math.Round(100*hi)))
}

// wilson is the range of a share that k of n leave open, at 90 %: Wilson's interval, which
// keeps within nought and one for any k.
func wilson(k, n int) (lo, hi float64) {
	const z = 1.645
	p, m := float64(k)/float64(n), float64(n)
	centre, half := p+z*z/(2*m), z*math.Sqrt(p*(1-p)/m+z*z/(4*m*m))
	return (centre - half) / (1 + z*z/m), (centre + half) / (1 + z*z/m)
}

// byChance groups the jobs by what was said of the leader, the surest first.
func byChance(jobs []judged) [][]judged {
	jobs = slices.Clone(jobs)
	slices.SortStableFunc(jobs, func(a, b judged) int { return cmp.Compare(b.chance, a.chance) })
	at := map[string]int{}
	var out [][]judged
	for _, j := range jobs {
		i, ok := at[j.words]
		if !ok {
			i = len(out)
			at[j.words] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], j)
	}
	return out
}

// mix is how often one condition was called and another found.
type mix struct {
	called, found car.ConditionID
	n             int
}

// mixedUp are the five commonest, the commonest first.
func mixedUp(jobs []judged) []mix {
	var out []mix
	for _, j := range jobs {
		if j.called == j.found {
			continue
		}
		i := slices.IndexFunc(out, func(m mix) bool { return m.called == j.called && m.found == j.found })
		if i < 0 {
			i = len(out)
			out = append(out, mix{called: j.called, found: j.found})
		}
		out[i].n++
	}
	slices.SortStableFunc(out, func(a, b mix) int { return cmp.Compare(b.n, a.n) })
	return out[:min(len(out), 5)]
}
