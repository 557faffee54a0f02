//go:build !js

package browsertest

import (
	"encoding/json"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"twoneedles/app/browsertest/webdriver"
)

// firefox is found in $FIREFOX or in the PATH. It needs no screen and no driver.
type firefox struct{}

type firefoxRunning struct {
	*driven
	command *exec.Cmd
}

func (firefox) start(t testing.TB, profile string, wall *wall) (running, error) {
	t.Helper()
	way, err := url.Parse(wall.URL)
	if err != nil {
		return nil, err
	}
	// Addresses of this machine are never proxied: what arrives at the wall was meant
	// for another host.
	// A bar for scrolling lies over the page, as on every phone.
	preferences := fmt.Sprintf(`user_pref("marionette.port", 0);
user_pref("network.proxy.type", 1);
user_pref("network.proxy.http", %[1]q);
user_pref("network.proxy.http_port", %[2]s);
user_pref("network.proxy.ssl", %[1]q);
user_pref("network.proxy.ssl_port", %[2]s);
user_pref("ui.useOverlayScrollbars", 1);
user_pref("browser.aboutwelcome.enabled", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("browser.sessionstore.resume_from_crash", false);
`, way.Hostname(), way.Port())
	if err := os.WriteFile(filepath.Join(profile, "user.js"), []byte(preferences), 0o666); err != nil {
		return nil, err
	}
	portFile := filepath.Join(profile, "MarionetteActivePort")
	if err := os.Remove(portFile); err != nil && !os.IsNotExist(err) {
		return nil, err
	}
	command := exec.Command(installed(t, "FIREFOX", "firefox-esr", "firefox"),
		"--headless", "--marionette", "--remote-allow-system-access", "--no-remote", "--profile", profile, "about:blank")
	command.SysProcAttr = notWithoutUs()
	if err := command.Start(); err != nil {
		return nil, err
	}
	f := &firefoxRunning{command: command}
	var port []byte
	err = waitFor("Firefox's port", func() bool {
		port, _ = os.ReadFile(portFile)
		return len(port) > 0
	})
	if err == nil {
		var session *webdriver.Session
		if session, err = webdriver.Attach("127.0.0.1:"+strings.TrimSpace(string(port)), Patience); err == nil {
			f.driven, err = newDriven(session)
		}
	}
	if err != nil {
		command.Process.Kill()
		command.Wait()
		return nil, err
	}
	return f, nil
}

func (f *firefoxRunning) close() error {
	err := f.session.Together(func(say webdriver.Say) error {
		_, err := say(webdriver.Quit, webdriver.Params{"flags": []string{"eForceQuit"}}, Patience)
		return err
	})
	f.session.Close()
	if err != nil {
		f.command.Process.Kill()
	}
	if late := ended(f.command); err == nil {
		err = late
	}
	return err
}

func (f *firefoxRunning) kill() error {
	f.session.Close()
	defer f.command.Wait()
	return f.command.Process.Kill()
}

func (f *firefoxRunning) open() (tab, error) {
	opened, err := f.driven.open()
	return &firefoxTab{opened}, err
}

type firefoxTab struct{ *drivenTab }

// inside runs a script in Firefox's own interface; page is the tab's browsing context,
// frame the element that shows it.
func (f *firefoxTab) inside(script string, args ...any) (answer json.RawMessage, err error) {
	err = f.in(f.handle, func(say webdriver.Say) error {
		answer, err = webdriver.Inside(say, `const done = arguments[arguments.length - 1], given = arguments;
			const frame = gBrowser.selectedBrowser, page = frame.browsingContext;
			(async () => { `+script+` })().then(done, error => done(String(error)))`, Patience, args...)
		return err
	})
	return answer, err
}

// screen sizes the frame: a window is at least 500 pixels wide.
func (f *firefoxTab) screen(s Screen) error {
	_, err := f.inside(`
		for (const [side, size] of [["width", given[0]], ["height", given[1]]])
			for (const limit of ["", "min-", "max-"]) frame.style.setProperty(limit + side, size + "px");
		page.touchEventsOverride = given[2] ? "enabled" : "none";`, s.Width, s.Height, s.Touch)
	if err != nil {
		return err
	}
	return waitFor(fmt.Sprintf("a screen of %d × %d", s.Width, s.Height), func() bool {
		size, err := f.eval("innerWidth + ' ' + innerHeight")
		return err == nil && string(size) == fmt.Sprintf(`"%d %d"`, s.Width, s.Height)
	})
}

func (f *firefoxTab) dark(dark bool) error {
	_, err := f.inside(`page.prefersColorSchemeOverride = given[0] ? "dark" : "light"`, dark)
	return err
}

func (f *firefoxTab) medium(medium string) error {
	_, err := f.inside(`page.mediumOverride = given[0]`, medium)
	return err
}

func (f *firefoxTab) screenshot(whole bool) ([]byte, error) {
	return f.picture(webdriver.Screenshot, webdriver.Params{"full": whole})
}

func (f *firefoxTab) pdf(paper chromedp.PaperSize) ([]byte, error) { return f.pages(paper) }

// heard asks both of Firefox's notebooks: of errors, and of what scripts wrote to the
// console. Both serve all tabs.
func (f *firefoxTab) heard() []string {
	answer, err := f.inside(`
		const heard = [];
		for (const m of Services.console.getMessageArray()) {
			if (!(m instanceof Ci.nsIScriptError) || m.isFromChromeContext) continue;
			if (m.flags & (Ci.nsIScriptError.warningFlag | Ci.nsIScriptError.infoFlag)) continue;
			heard.push(m.category + ": " + m.errorMessage + " " + m.sourceName + ":" + m.lineNumber);
		}
		Services.console.reset();
		const written = Cc["@mozilla.org/consoleAPI-storage;1"].getService(Ci.nsIConsoleAPIStorage);
		for (const e of written.getEvents()) {
			if (e.level === "error" && /^http/.test(e.filename)) heard.push("console.error: " + e.arguments.map(String).join(" "));
		}
		written.clearEvents();
		return heard;`)
	var heard []string
	if err == nil {
		err = json.Unmarshal(answer, &heard)
	}
	if err != nil && f.session != nil {
		return nil // the tab is closed, or Firefox has ended
	}
	return heard
}
