//go:build !js

package browsertest

import (
	"bufio"
	_ "embed"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"twoneedles/app/browsertest/webdriver"
)

// webkit is WebKitGTK: Safari's engine on Debian. The browser around it is webkit.py,
// because Debian's own forgets everything when a driver ends it. It is driven by
// WebKitWebDriver and drawn on Xvfb, a screen that nobody sees.
type webkit struct{}

//go:embed webkit.py
var webkitPage []byte

type webkitRunning struct {
	*driven
	driver  *exec.Cmd
	profile string

	mu      sync.Mutex
	trouble []string
	marks   int // asked for, see heard
	seen    int
}

// xvfb is started once for a run of tests, and ends with it.
var xvfb struct {
	once    sync.Once
	command *exec.Cmd
	display string
	err     error
}

func (webkit) start(t testing.TB, profile string, wall *wall) (running, error) {
	t.Helper()
	xvfb.once.Do(func() { startXvfb(installed(t, "XVFB", "Xvfb")) })
	if xvfb.err != nil {
		return nil, xvfb.err
	}
	program := filepath.Join(profile, "webkit.py")
	if err := os.WriteFile(program, webkitPage, 0o777); err != nil {
		return nil, err
	}
	free, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		return nil, err
	}
	address := free.Addr().String()
	free.Close()
	_, port, _ := net.SplitHostPort(address)
	w := &webkitRunning{profile: profile, driver: exec.Command(installed(t, "WEBKITDRIVER", "WebKitWebDriver"), "--port="+port)}
	w.driver.Env = append(os.Environ(), "DISPLAY="+xvfb.display, "GDK_BACKEND=x11", "NO_AT_BRIDGE=1")
	w.driver.SysProcAttr = notWithoutUs()
	output, err := w.driver.StdoutPipe()
	if err != nil {
		return nil, err
	}
	w.driver.Stderr = w.driver.Stdout // where WebKit writes the console
	if err := w.driver.Start(); err != nil {
		return nil, err
	}
	go w.listen(output)
	var session *webdriver.Session
	err = waitFor("WebKitWebDriver", func() bool {
		conn, err := net.Dial("tcp", address)
		if err == nil {
			conn.Close()
		}
		return err == nil
	})
	if err == nil {
		session, err = webdriver.Connect(address, webdriver.Params{
			"webkitgtk:browserOptions": webdriver.Params{"binary": program, "args": []string{profile, wall.URL}},
		}, Patience)
	}
	if err == nil {
		w.driven, err = newDriven(session)
	}
	if err != nil {
		w.driver.Process.Kill()
		w.driver.Wait()
		return nil, err
	}
	return w, nil
}

func startXvfb(path string) {
	read, write, err := os.Pipe()
	if err != nil {
		xvfb.err = err
		return
	}
	defer read.Close()
	xvfb.command = exec.Command(path, "-displayfd", "3", "-screen", "0", "1600x12000x24", "-nolisten", "tcp")
	xvfb.command.SysProcAttr = notWithoutUs()
	xvfb.command.ExtraFiles = []*os.File{write}
	xvfb.err = xvfb.command.Start()
	write.Close()
	if xvfb.err != nil {
		return
	}
	number, err := bufio.NewReader(read).ReadString('\n')
	xvfb.display, xvfb.err = ":"+strings.TrimSpace(number), err
}

// close closes the windows, upon which webkit.py ends by itself, and then the driver.
func (w *webkitRunning) close() error {
	defer ended(w.driver)
	defer w.driver.Process.Kill()
	return w.session.Together(func(say webdriver.Say) error {
		_, err := say(webdriver.Quit, nil, Patience)
		return err
	})
}

func (w *webkitRunning) kill() error {
	defer w.driver.Wait()
	defer w.driver.Process.Kill()
	return w.signal(syscall.SIGKILL)
}

// signal goes to webkit.py, past its driver.
func (w *webkitRunning) signal(s syscall.Signal) error {
	note, err := os.ReadFile(filepath.Join(w.profile, "pid"))
	if err != nil {
		return err
	}
	pid, err := strconv.Atoi(string(note))
	if err != nil {
		return err
	}
	return syscall.Kill(pid, s)
}

func (w *webkitRunning) open() (tab, error) {
	opened, err := w.driven.open()
	return &webkitTab{opened, w}, err
}

// webkitSays is what is no trouble: built without web app manifests, WebKitGTK says so of
// every page of ours; of one that is closed it says what it was in the middle of, and without
// network that there is no newer worker.
var webkitSays = regexp.MustCompile(`Unrecognized Content-Security-Policy directive|Cache API operation failed: Context is stopped|Cannot load \S+/sw\.js due to access control checks`)

var webkitTrouble = regexp.MustCompile(`CONSOLE( [A-Z]+)* ERROR`)

// listen reads what the pages write to the console, a line each. A request that fails
// for want of network is the subject of many tests.
func (w *webkitRunning) listen(output io.Reader) {
	lines := bufio.NewScanner(output)
	lines.Buffer(nil, 16<<20) // a line may hold a whole file
	for lines.Scan() {
		if _, mark, ok := strings.Cut(lines.Text(), webkitMark); ok {
			w.mu.Lock()
			w.seen, _ = strconv.Atoi(mark)
			w.mu.Unlock()
		}
		if kind := webkitTrouble.FindString(lines.Text()); kind != "" && !strings.Contains(kind, "NETWORK") && !webkitSays.MatchString(lines.Text()) {
			w.mu.Lock()
			w.trouble = append(w.trouble, lines.Text())
			w.mu.Unlock()
		}
	}
}

type webkitTab struct {
	*drivenTab
	browser *webkitRunning
}

func (w *webkitTab) screen(s Screen) error {
	if _, err := w.tell(webdriver.Resize, webdriver.Params{"width": s.Width, "height": s.Height}); err != nil {
		return err
	}
	return waitFor(fmt.Sprintf("a screen of %d × %d", s.Width, s.Height), func() bool {
		size, err := w.eval("innerWidth + ' ' + innerHeight")
		return err == nil && string(size) == fmt.Sprintf(`"%d %d"`, s.Width, s.Height)
	})
}

var errWebKit = errors.New("WebKitGTK has no way for a driver to ask for this")

// dark is told to webkit.py.
func (w *webkitTab) dark(dark bool) error {
	signal := syscall.SIGUSR2
	if dark {
		signal = syscall.SIGUSR1
	}
	if err := w.browser.signal(signal); err != nil {
		return err
	}
	return waitFor(fmt.Sprintf("dark to be %v", dark), func() bool {
		is, err := w.eval(`matchMedia("(prefers-color-scheme: dark)").matches`)
		return err == nil && string(is) == strconv.FormatBool(dark)
	})
}

func (w *webkitTab) medium(string) error { return errWebKit }

func (w *webkitTab) pdf(chromedp.PaperSize) ([]byte, error) { return nil, errWebKit }

// screenshot shows the window; for the whole page it is made as tall as that.
func (w *webkitTab) screenshot(whole bool) ([]byte, error) {
	if !whole {
		return w.picture(webdriver.Screenshot, nil)
	}
	sizes, err := w.eval(`[innerWidth, innerHeight, document.documentElement.scrollHeight]`)
	if err != nil {
		return nil, err
	}
	var size [3]int64
	if err := json.Unmarshal(sizes, &size); err != nil {
		return nil, err
	}
	if err := w.screen(Screen{Width: size[0], Height: size[2]}); err != nil {
		return nil, err
	}
	picture, err := w.picture(webdriver.Screenshot, nil)
	if err == nil {
		err = w.screen(Screen{Width: size[0], Height: size[1]})
	}
	return picture, err
}

const webkitMark = "the test has heard all before "

// heard writes a mark to the console and waits until it comes out: what was written
// before has come then too.
func (w *webkitTab) heard() []string {
	b := w.browser
	b.mu.Lock()
	b.marks++
	mark := b.marks
	b.mu.Unlock()
	if _, err := w.eval(fmt.Sprintf(`console.log(%q)`, webkitMark+strconv.Itoa(mark))); err == nil {
		for end := time.Now().Add(Patience / 10); time.Now().Before(end); time.Sleep(5 * time.Millisecond) {
			b.mu.Lock()
			seen := b.seen
			b.mu.Unlock()
			if seen >= mark {
				break
			}
		}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	heard := b.trouble
	b.trouble = nil
	return heard
}
