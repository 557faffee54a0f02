// Package webdriver speaks with a browser in the words of W3C WebDriver, over either
// of the two ways it is carried: HTTP, as WebKit's driver takes it ([Connect]), or
// Marionette, Firefox's own socket, which needs no driver between ([Attach]). It knows
// the dozen commands that this project uses and nothing of a page.
package webdriver

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"strconv"
	"strings"
	"sync"
	"time"
)

// Command is a thing to ask for, under its name on either way. Marionette's names
// stand in Firefox's source, remote/marionette/driver.sys.mjs.
type Command struct{ method, path, marionette string }

var (
	Timeouts   = Command{"POST", "/timeouts", "WebDriver:SetTimeouts"}
	Navigate   = Command{"POST", "/url", "WebDriver:Navigate"}
	Script     = Command{"POST", "/execute/async", "WebDriver:ExecuteAsyncScript"}
	Actions    = Command{"POST", "/actions", "WebDriver:PerformActions"}
	Resize     = Command{"POST", "/window/rect", "WebDriver:SetWindowRect"}
	Screenshot = Command{"GET", "/screenshot", "WebDriver:TakeScreenshot"}
	Print      = Command{"POST", "/print", "WebDriver:Print"}
	Window     = Command{"GET", "/window", "WebDriver:GetWindowHandle"}
	Windows    = Command{"GET", "/window/handles", "WebDriver:GetWindowHandles"}
	NewWindow  = Command{"POST", "/window/new", "WebDriver:NewWindow"}
	SwitchTo   = Command{"POST", "/window", "WebDriver:SwitchToWindow"}
	Close      = Command{"DELETE", "/window", "WebDriver:CloseWindow"}
	Quit       = Command{"DELETE", "", "Marionette:Quit"}

	newSession = Command{"POST", "/session", "WebDriver:NewSession"}
	context    = Command{marionette: "Marionette:SetContext"}
)

// Params are a command's parameters.
type Params map[string]any

// Error is what the browser answers instead of a result.
type Error struct {
	Code    string `json:"error"`
	Message string `json:"message"`
}

func (e *Error) Error() string { return e.Code + ": " + e.Message }

// ErrLate says that no answer came within a command's time.
var ErrLate = errors.New("webdriver: no answer in time")

// Session is one browser. Its methods may be called from several goroutines; commands
// that belong together are sent by [Session.Together].
type Session struct {
	Name, Version string // as the browser gives them

	mu   sync.Mutex
	wire wire
}

// wire carries one command and its answer.
type wire interface {
	carry(c Command, params Params, within time.Duration) (json.RawMessage, error)
	close()
}

// Connect starts a session with the driver that listens at the address, within the time.
func Connect(address string, capabilities Params, within time.Duration) (*Session, error) {
	w := &overHTTP{url: "http://" + address}
	s, err := start(w, capabilities, within)
	return s, err
}

// Attach starts a session with the Firefox whose Marionette listens at the address.
func Attach(address string, within time.Duration) (*Session, error) {
	conn, err := net.DialTimeout("tcp", address, within)
	if err != nil {
		return nil, err
	}
	w := &marionette{conn: conn, in: bufio.NewReader(conn)}
	conn.SetDeadline(time.Now().Add(within))
	if _, err := w.read(); err != nil { // its greeting
		conn.Close()
		return nil, err
	}
	return start(w, nil, within)
}

func start(w wire, capabilities Params, within time.Duration) (*Session, error) {
	if capabilities == nil {
		capabilities = Params{}
	}
	answer, err := w.carry(newSession, Params{"capabilities": Params{"alwaysMatch": capabilities}}, within)
	if err != nil {
		w.close()
		return nil, err
	}
	var got struct {
		ID           string `json:"sessionId"`
		Capabilities struct {
			Name    string `json:"browserName"`
			Version string `json:"browserVersion"`
		} `json:"capabilities"`
	}
	if err := json.Unmarshal(answer, &got); err != nil {
		w.close()
		return nil, err
	}
	if h, ok := w.(*overHTTP); ok {
		h.url += "/session/" + got.ID
	}
	return &Session{Name: got.Capabilities.Name, Version: got.Capabilities.Version, wire: w}, nil
}

// Close gives up the connection; [Quit] ends the browser.
func (s *Session) Close() { s.wire.close() }

// Say sends one command and waits for its answer.
type Say func(c Command, params Params, within time.Duration) (json.RawMessage, error)

// Together lets nobody else speak until f returns.
func (s *Session) Together(f func(Say) error) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	return f(s.wire.carry)
}

// Inside runs a script in Firefox's own interface, where the test may ask what a page
// may not. Firefox must have been started with --remote-allow-system-access.
func Inside(say Say, script string, within time.Duration, args ...any) (json.RawMessage, error) {
	if _, err := say(context, Params{"value": "chrome"}, within); err != nil {
		return nil, err
	}
	if args == nil {
		args = []any{}
	}
	answer, err := say(Script, Params{"script": script, "args": args}, within)
	if _, back := say(context, Params{"value": "content"}, within); err == nil {
		err = back
	}
	return answer, err
}

// overHTTP is the way of the standard.
type overHTTP struct{ url string }

func (h *overHTTP) close() {}

func (h *overHTTP) carry(c Command, params Params, within time.Duration) (json.RawMessage, error) {
	var body io.Reader
	if c.method == "POST" {
		if params == nil {
			params = Params{}
		}
		text, err := json.Marshal(params)
		if err != nil {
			return nil, err
		}
		body = bytes.NewReader(text)
	}
	request, err := http.NewRequest(c.method, h.url+c.path, body)
	if err != nil {
		return nil, err
	}
	response, err := (&http.Client{Timeout: within}).Do(request)
	if err != nil {
		var timed net.Error
		if errors.As(err, &timed) && timed.Timeout() {
			err = ErrLate
		}
		return nil, err
	}
	defer response.Body.Close()
	var answer struct {
		Value json.RawMessage `json:"value"`
	}
	if err := json.NewDecoder(response.Body).Decode(&answer); err != nil {
		return nil, fmt.Errorf("webdriver: %s: %w", response.Status, err)
	}
	if response.StatusCode != http.StatusOK {
		return nil, refused(answer.Value)
	}
	return answer.Value, nil
}

// marionette is Firefox's way: length, colon, and a list of four in JSON. A question is
// [0, number, name, parameters], its answer [1, number, error, result].
type marionette struct {
	conn   net.Conn
	in     *bufio.Reader
	number int
}

func (m *marionette) close() { m.conn.Close() }

func (m *marionette) carry(c Command, params Params, within time.Duration) (json.RawMessage, error) {
	if params == nil {
		params = Params{}
	}
	m.number++
	text, err := json.Marshal([]any{0, m.number, c.marionette, params})
	if err != nil {
		return nil, err
	}
	m.conn.SetDeadline(time.Now().Add(within))
	if _, err := fmt.Fprintf(m.conn, "%d:%s", len(text), text); err != nil {
		return nil, err
	}
	for { // the answer to a question that was given up may still come
		text, err := m.read()
		if err != nil {
			var timed net.Error
			if errors.As(err, &timed) && timed.Timeout() {
				err = ErrLate
			}
			return nil, err
		}
		var parts [4]json.RawMessage
		if err := json.Unmarshal(text, &parts); err != nil {
			return nil, fmt.Errorf("marionette: %w in %.200s", err, text)
		}
		trouble, result := parts[2], parts[3]
		switch {
		case string(parts[1]) != strconv.Itoa(m.number):
			continue
		case string(trouble) != "null":
			return nil, refused(trouble)
		}
		var wrapped struct {
			Value json.RawMessage `json:"value"`
		}
		if json.Unmarshal(result, &wrapped) == nil && wrapped.Value != nil {
			return wrapped.Value, nil
		}
		return result, nil
	}
}

func (m *marionette) read() ([]byte, error) {
	length, err := m.in.ReadString(':')
	if err != nil {
		return nil, err
	}
	n, err := strconv.Atoi(strings.TrimSuffix(length, ":"))
	if err != nil || n < 0 || n > 256<<20 {
		return nil, fmt.Errorf("marionette: a message of %q bytes", length)
	}
	text := make([]byte, n)
	_, err = io.ReadFull(m.in, text)
	return text, err
}

func refused(text json.RawMessage) error {
	e := &Error{}
	if err := json.Unmarshal(text, e); err != nil || e.Code == "" {
		return fmt.Errorf("webdriver: %.200s", text)
	}
	return e
}
