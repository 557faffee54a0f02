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

// Notice is one line above the page. Kind chooses its buttons.
type Notice struct {
	Kind string // "update", "unsaved", "everything", "cleared", "" for a plain line
	Text string
}

// Notice is the line that is there, without text if there is none.
func (s *Page) Notice() Notice { return s.notice }

// Say puts a line above the page in place of the one that is there; "" takes it away.
func (s *Page) Say(text string) { s.say(Notice{Text: text}) }

func (s *Page) say(n Notice) {
	s.notice = n
	s.noticeRev++
}

// NoticeRev grows with every notice.
func (s *Page) NoticeRev() int { return s.noticeRev }

// UpdateWaits offers the newer version, if one waits.
func (s *Page) UpdateWaits() {
	if ShellField("update") != "" {
		s.say(Notice{Kind: "update", Text: s.Words.T("shell.banner.update")})
	}
}
