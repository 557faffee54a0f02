package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// The boot script tells what the service worker did: see static/boot.js. The
// page only says it, and switches to a newer version after a yes.

// ShellField reads one text of window.twoneedles, "" where there is none.
func ShellField(name string) string {
	shell := app.Window().Get("twoneedles")
	if !shell.Truthy() {
		return ""
	}
	v := shell.Get(name)
	if !v.Truthy() {
		return ""
	}
	return v.String()
}

// notice is one line above the page. Kind chooses its buttons.
type notice struct {
	kind string // "update", "unsaved", "everything", "cleared", "" for a plain line
	text string
}

// Say puts a line above the page in place of the one that is there; "" takes it away.
func (s *Page) Say(text string) { s.say(notice{text: text}) }

func (s *Page) say(n notice) {
	s.notice = n
	s.noticeRev++
}

// NoticeRev grows when what the shell tells has changed.
func (s *Page) NoticeRev() int { return s.noticeRev }

// listenShell reads the state of the shell now and whenever it changes.
func (s *Page) listenShell() {
	s.Listen("twoneedles:update", s.UpdateWaits)
	s.Listen("twoneedles:offline", func() { s.noticeRev++ })
	s.Listen("twoneedles:install", func() { s.noticeRev++ })
	s.UpdateWaits()
}

// UpdateWaits offers the newer version, if one waits.
func (s *Page) UpdateWaits() {
	if ShellField("update") != "" {
		s.say(notice{kind: "update", text: s.Words.T("shell.banner.update")})
	}
}

// foot says what holds on every place, and whether the page works without a
// signal: there, because a line that appears above the work would move it.
type foot struct {
	app.Compo
	Lang string
	Rev  int // of the notices

	s *Page
}

// Foot is below every place.
func (s *Page) Foot() app.UI { return &foot{Lang: s.Lang(), Rev: s.noticeRev, s: s} }

func (f *foot) Render() app.UI {
	w := f.s.Words
	key := "shell.offline." + ShellField("offline")
	return app.Footer().Class("page foot tight").Body(
		app.P().Text(w.T("shell.foot")+" "),
		f.s.LanguageMenu(),
		app.P().ID("offline").Text(func() string {
			if !w.Has(key) {
				return ""
			}
			return w.T(key)
		}()),
		app.If(!f.s.guest, func() app.UI {
			return app.Div().Class("keys-way").Body(
				app.Button().ID("keys-open").Type("button").Class("way").Text(w.T("shell.keys.open")).OnClick(func(app.Context, app.Event) { f.s.showKeys() }),
				&keyList{Lang: f.s.Lang(), Off: !f.s.lettersAct(), s: f.s})
		}),
		// Last: what comes by itself must not take the place of what a hand is on.
		app.If(f.s.offersInstall(), func() app.UI {
			return app.Div().ID("install").Class("row").Body(
				app.Span().Text(w.T("shell.install.what")),
				app.Button().ID("install-yes").Type("button").Class("btn").Text(w.T("shell.install.yes")).
					OnClick(func(app.Context, app.Event) { app.Window().Get("twoneedles").Call("showInstall") }),
				app.Button().ID("install-no").Type("button").Class("btn quiet").Text(w.T("shell.install.no")).
					OnClick(func(app.Context, app.Event) { f.s.refuseInstall() }))
		}),
	)
}

// installKey is where it is kept that somebody does not want the page among the apps.
const installKey = "twoneedles.install"

// offersInstall tells whether the browser would put the page among the device's apps, and
// nobody has said no: it is offered at the foot, where it is in nobody's way, and never
// again after a no.
func (s *Page) offersInstall() bool {
	_, refused, _ := s.device.Get(installKey)
	return !s.guest && !refused && ShellField("install") != ""
}

func (s *Page) refuseInstall() {
	_ = s.device.Set(installKey, "no") // a full store asks again at the next visit
	s.noticeRev++
}

// banner shows the notice, over the page and not above it: nothing
// moves while a hand is on it.
type banner struct {
	app.Compo
	Lang string
	Rev  int

	s *Page
}

// Banner is the notice above every place, if there is one.
func (s *Page) Banner() app.UI { return &banner{Lang: s.Lang(), Rev: s.noticeRev, s: s} }

func (b *banner) Render() app.UI {
	w, n := b.s.Words, b.s.notice
	button := func(id, key string, do func()) app.UI {
		return app.Button().ID(id).Type("button").Class("btn").Text(w.T(key)).OnClick(func(app.Context, app.Event) { do() })
	}
	return app.Div().ID("banner").Role("status").Body(
		app.If(n.text != "", func() app.UI {
			return app.Div().Class("banner").Body(
				app.P().Text(n.text),
				app.If(n.kind == "update", func() app.UI { return button("update", "shell.banner.update_now", b.update) }),
				app.If(n.kind == "unsaved", func() app.UI {
					return button("banner-export", "job.record.export", func() { b.s.Export(true) })
				}),
				app.If(n.kind == "cleared", func() app.UI { return button("banner-keep", "shell.banner.keep_again", b.s.keepAgain) }),
				app.If(n.kind == "cleared" || n.kind == "everything", func() app.UI {
					return button("banner-backup", "jobs.backup", b.s.Backup)
				}),
				button("dismiss", map[bool]string{true: "shell.banner.later", false: "shell.banner.ok"}[n.kind == "update"], func() { b.s.Say("") }),
			)
		}),
	)
}

func (b *banner) update() {
	b.s.Save()
	app.Window().Get("twoneedles").Call("applyUpdate")
}
