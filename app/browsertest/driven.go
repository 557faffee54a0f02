//go:build !js

package browsertest

import (
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"os/exec"
	"strings"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"twoneedles/app/browsertest/webdriver"
)

// driven is a browser that is spoken to in WebDriver.
type driven struct {
	session *webdriver.Session
	first   string // the window that it came with
	inFront string // the window that hears commands
}

// newDriven gives waits in the page as long as Go waits for them.
func newDriven(session *webdriver.Session) (*driven, error) {
	d := &driven{session: session}
	return d, session.Together(func(say webdriver.Say) error {
		ms := Patience.Milliseconds()
		if _, err := say(webdriver.Timeouts, webdriver.Params{"script": ms, "pageLoad": ms}, Patience); err != nil {
			return err
		}
		answer, err := say(webdriver.Window, nil, Patience)
		if err != nil {
			return err
		}
		return json.Unmarshal(answer, &d.first)
	})
}

// in brings a window to the front and speaks to it.
func (d *driven) in(window string, f func(webdriver.Say) error) error {
	return d.session.Together(func(say webdriver.Say) error {
		if d.inFront != window {
			if _, err := say(webdriver.SwitchTo, webdriver.Params{"handle": window}, Patience); err != nil {
				return err
			}
			d.inFront = window
		}
		return f(say)
	})
}

// open opens a tab beside those there are.
func (d *driven) open() (*drivenTab, error) {
	var opened struct {
		Handle string `json:"handle"`
	}
	err := d.in(d.first, func(say webdriver.Say) error { // the last tab may be closed
		answer, err := say(webdriver.NewWindow, webdriver.Params{"type": "tab"}, Patience)
		if err != nil {
			return err
		}
		return json.Unmarshal(answer, &opened)
	})
	return &drivenTab{driven: d, handle: opened.Handle}, err
}

// drivenTab is what the engines that are driven have in common.
type drivenTab struct {
	*driven
	handle string
}

func (d *drivenTab) tell(c webdriver.Command, params webdriver.Params) (answer json.RawMessage, err error) {
	err = d.in(d.handle, func(say webdriver.Say) (err error) {
		answer, err = say(c, params, Patience+time.Second) // the browser's own limit comes first
		return err
	})
	return answer, err
}

func (d *drivenTab) close() {
	_, _ = d.tell(webdriver.Close, nil)
	d.inFront = ""
}

func (d *drivenTab) navigate(url string) error {
	_, err := d.tell(webdriver.Navigate, webdriver.Params{"url": url})
	return err
}

// reload lets the page do it, as the button of a browser does. Marionette's own way goes past
// the service worker; WebKit's can return while the page of before still answers.
func (d *drivenTab) reload() error {
	if _, err := d.eval(`void (window.left = true, setTimeout(() => location.reload()))`); err != nil {
		return err
	}
	return waitFor("the page to load again", func() bool {
		there, err := d.eval(`!window.left && document.readyState === "complete"`)
		return err == nil && string(there) == "true"
	})
}

// evalScript hands back text: the drivers disagree on how to write down values.
const evalScript = `const done = arguments[arguments.length - 1];
(async () => (%s
))().then(value => done({value: JSON.stringify(value)}), error => done({error: String(error) + " " + (error?.stack || "")}))`

func (d *drivenTab) eval(expression string) ([]byte, error) {
	answer, err := d.tell(webdriver.Script, webdriver.Params{"script": fmt.Sprintf(evalScript, expression), "args": []any{}})
	if err != nil {
		return nil, err
	}
	var got struct{ Value, Error string }
	if err := json.Unmarshal(answer, &got); err != nil {
		return nil, fmt.Errorf("%w in %.200s", err, answer)
	}
	if got.Error != "" {
		return nil, errors.New(got.Error)
	}
	return []byte(got.Value), nil
}

func (d *drivenTab) click(at [2]float64) error {
	_, err := d.tell(webdriver.Actions, webdriver.Params{"actions": []any{webdriver.Params{
		"type": "pointer", "id": "mouse", "parameters": webdriver.Params{"pointerType": "mouse"},
		"actions": []any{
			webdriver.Params{"type": "pointerMove", "duration": 0, "x": int(at[0]), "y": int(at[1])},
			webdriver.Params{"type": "pointerDown", "button": 0},
			webdriver.Params{"type": "pointerUp", "button": 0},
		},
	}}})
	return err
}

// clickAway asks for no answer: the page may be gone before it. The new page is it.
func (d *drivenTab) clickAway(at [2]float64) error {
	_ = d.click(at)
	return nil
}

// WebDriver has numbers of its own for keys that write nothing.
var drivenKeys = strings.NewReplacer(kb.Backspace, "\ue003", kb.Tab, "\ue004", kb.Enter, "\ue007", kb.Escape, "\ue00c", kb.Delete, "\ue017",
	kb.End, "\ue010", kb.Home, "\ue011", kb.ArrowLeft, "\ue012", kb.ArrowUp, "\ue013", kb.ArrowRight, "\ue014", kb.ArrowDown, "\ue015")

func (d *drivenTab) keys(keys string, shift bool) error {
	const shiftKey = "\ue008"
	key := func(what, key string) webdriver.Params { return webdriver.Params{"type": what, "value": key} }
	var steps []any
	if shift {
		steps = append(steps, key("keyDown", shiftKey))
	}
	for _, r := range drivenKeys.Replace(keys) {
		steps = append(steps, key("keyDown", string(r)), key("keyUp", string(r)))
	}
	if shift {
		steps = append(steps, key("keyUp", shiftKey))
	}
	_, err := d.tell(webdriver.Actions, webdriver.Params{"actions": []any{webdriver.Params{"type": "key", "id": "keyboard", "actions": steps}}})
	return err
}

func (d *drivenTab) picture(c webdriver.Command, params webdriver.Params) ([]byte, error) {
	answer, err := d.tell(c, params)
	if err != nil {
		return nil, err
	}
	var text string
	if err := json.Unmarshal(answer, &text); err != nil {
		return nil, err
	}
	return base64.StdEncoding.DecodeString(text)
}

// pages prints; sizes come in inches and leave in centimetres.
func (d *drivenTab) pages(paper chromedp.PaperSize) ([]byte, error) {
	return d.picture(webdriver.Print, webdriver.Params{
		"page":       webdriver.Params{"width": paper.Width * 2.54, "height": paper.Height * 2.54},
		"background": true, "shrinkToFit": false,
		"margin": webdriver.Params{"top": 0, "bottom": 0, "left": 0, "right": 0},
	})
}

// ended waits for a browser to end by itself, and ends it after a while.
func ended(command *exec.Cmd) error {
	done := make(chan error, 1)
	go func() { done <- command.Wait() }()
	select {
	case <-done: // how it calls its own end is its own affair
		return nil
	case <-time.After(Patience):
		command.Process.Kill()
		<-done
		return fmt.Errorf("%s did not end", command.Path)
	}
}

// waitFor tries until f has what it looks for.
func waitFor(what string, f func() bool) error {
	for end := time.Now().Add(Patience); !f(); time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			return fmt.Errorf("waited %v for %s", Patience, what)
		}
	}
	return nil
}
