package app

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/page"
)

// jobBar names the job at hand, leads to the list of jobs, and steps back and forth.
type jobBar struct {
	app.Compo
	Lang          string
	Title         string
	Back, Forward bool
	Here          bool // the list of jobs is shown

	in *rooms
}

func (b *jobBar) Render() app.UI {
	w := b.in.page.Words
	step := func(id, sign string, can bool, do func()) app.UI {
		return page.Button(id, "icon", sign, do).Aria("label", w.T("jobs.bar."+id)).Title(w.T("jobs.bar." + id)).Disabled(!can)
	}
	to := app.A().ID("to-jobs").Href(page.Href("/jobs")).Aria("label", w.T("jobs.bar.to", "title", b.Title)).Text(b.Title)
	if b.Here {
		to.Attr("aria-current", "page")
	}
	return app.Div().Class("job-bar").Body(
		to,
		app.If(b.Back || b.Forward, func() app.UI { return step("step-back", "\u21b6", b.Back, b.in.page.StepBack) }),
		app.If(b.Back || b.Forward, func() app.UI { return step("step-forward", "\u21b7", b.Forward, b.in.page.StepForward) }),
	)
}

// jobName is the name of the job at hand, or what stands in for one.
func (in *rooms) jobName() string {
	name := in.page.Job.Entry().Name()
	switch {
	case name != "":
		return name
	case in.page.Job.Blank():
		return in.page.Words.T("jobs.bar.none")
	}
	return in.page.Words.T("jobs.bar.unnamed")
}

// foot says what holds on every place, and whether the page works without a
// signal: there, because a line that appears above the work would move it.
type foot struct {
	app.Compo
	Lang        string
	Notice, Rev int

	in *rooms
}

func (f *foot) Render() app.UI {
	w := f.in.page.Words
	key := "shell.offline." + page.ShellField("offline")
	return app.Footer().Class("page foot tight").Body(
		app.P().Text(w.T("shell.foot")+" "),
		page.LanguageMenu("language", w.T("shell.language.choose"), w.Lang(), f.in.page.Speak),
		app.P().ID("offline").Text(func() string {
			if !w.Has(key) {
				return ""
			}
			return w.T(key)
		}()),
		app.If(!f.in.page.Guest(), func() app.UI {
			return app.Div().Class("keys-way").Body(
				page.Button("keys-open", "way", w.T("shell.keys.open"), showKeys),
				&keyList{Lang: w.Lang(), Off: !f.in.lettersAct(), in: f.in})
		}),
		// Last: what comes by itself must not take the place of what a hand is on.
		app.If(f.in.offersInstall(), func() app.UI {
			return app.Div().ID("install").Class("row").Body(
				app.Span().Text(w.T("shell.install.what")),
				page.Button("install-yes", "btn", w.T("shell.install.yes"), func() { app.Window().Get("twoneedles").Call("showInstall") }),
				page.Button("install-no", "btn quiet", w.T("shell.install.no"), f.in.refuseInstall))
		}),
	)
}

// installKey is where it is kept that somebody does not want the page among the apps.
const installKey = "twoneedles.install"

// offersInstall tells whether the browser would put the page among the device's apps, and
// nobody has said no: it is offered at the foot, where it is in nobody's way, and never
// again after a no.
func (in *rooms) offersInstall() bool {
	_, refused, _ := in.page.Device().Get(installKey)
	return !in.page.Guest() && !refused && page.ShellField("install") != ""
}

func (in *rooms) refuseInstall() {
	_ = in.page.Device().Set(installKey, "no") // a full store asks again at the next visit
	in.rev++
}

// banner shows the notice, over the page and not above it: nothing
// moves while a hand is on it.
type banner struct {
	app.Compo
	Lang string
	Rev  int

	in *rooms
}

func (b *banner) Render() app.UI {
	w, n := b.in.page.Words, b.in.page.Notice()
	button := func(id, key string, do func()) app.UI {
		return page.Button(id, "btn", w.T(key), do)
	}
	return app.Div().ID("banner").Role("status").Body(
		app.If(n.Text != "", func() app.UI {
			return app.Div().Class("banner").Body(
				app.P().Text(n.Text),
				app.If(n.Kind == "update", func() app.UI { return button("update", "shell.banner.update_now", b.update) }),
				app.If(n.Kind == "unsaved", func() app.UI {
					return button("banner-export", "job.record.export", func() { b.in.page.Export(true) })
				}),
				app.If(n.Kind == "cleared", func() app.UI { return button("banner-keep", "shell.banner.keep_again", b.in.page.KeepAgain) }),
				app.If(n.Kind == "cleared" || n.Kind == "everything", func() app.UI {
					return button("banner-backup", "jobs.backup", b.in.page.Backup)
				}),
				button("dismiss", map[bool]string{true: "shell.banner.later", false: "shell.banner.ok"}[n.Kind == "update"], func() { b.in.page.Say("") }),
			)
		}),
	)
}

func (b *banner) update() {
	b.in.page.Save()
	app.Window().Get("twoneedles").Call("applyUpdate")
}
