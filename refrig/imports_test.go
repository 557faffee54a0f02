package refrig_test

import (
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"

	"twoneedles/refrig/reftest"
)

const (
	goApp   = "github.com/maxence-charriere/go-app/v10/pkg/app"
	goChart = "github.com/wcharczuk/go-chart/v2"
)

// rule is something that must not be reached, even through others, and why.
type rule struct {
	from string // this package and those below it
	to   string // must not reach this or anything below it
	why  string
}

var never = append(amongPlaces(), []rule{
	{"twoneedles/refrig", goApp, "the model runs without a screen"},
	{"twoneedles/refrig", goChart, "the model draws nothing"},
	{"twoneedles/refrig", "net/http", "the model asks no other machine"},
	{"twoneedles/refrig", "twoneedles/chart", "the model draws nothing"},
	{"twoneedles/refrig", "twoneedles/app", "the model knows no screen"},
	{"twoneedles/refrig/eos", "twoneedles/refrig/fast", "tables are made from equations, not the other way round"},
	{"twoneedles/refrig/eos", "twoneedles/refrig/cycle", "properties know no car"},
	{"twoneedles/refrig/fast", "twoneedles/refrig/cycle", "properties know no car"},
	{"twoneedles/refrig/fast", "twoneedles/refrig/eos", "the solver's tables must not drag the equations in"},
	{"twoneedles/refrig/air", "twoneedles/refrig/cycle", "air knows no car"},
	{"twoneedles/refrig/cycle", "twoneedles/refrig/diagnose", "physics knows no verdict"},
	{"twoneedles/refrig/sim", "twoneedles/refrig/diagnose", "what a car shows does not depend on who judges it"},
	{"twoneedles/refrig/service", "twoneedles/refrig/diagnose", "the sums of a repair know no verdict"},
	{"twoneedles/refrig/catalogue", "twoneedles/refrig/sim", "pages for people need no simulated car"},
	{"twoneedles/chart", goApp, "figures are drawn without a screen"},
	{"twoneedles/chart", "twoneedles/app", "figures know no page"},
	{"twoneedles/app/job", goApp, "what survives the page is restored without it"},
	{"twoneedles/app/present", goApp, "words need no screen"},
	{"twoneedles/app/claim", goApp, "what is claimed needs no screen"},
}...)

// amongPlaces are the rules of the places: none knows another.
func amongPlaces() (all []rule) {
	places := []string{"readings", "repair", "jobs", "practice", "explore", "learn", "lookup"}
	for _, from := range places {
		all = append(all, rule{"twoneedles/app/page", "twoneedles/app/" + from, "what the places share knows none of them"})
		for _, to := range places {
			if to != from {
				all = append(all, rule{"twoneedles/app/" + from, "twoneedles/app/" + to, "places meet in app/page"})
			}
		}
	}
	return all
}

// only lists what may be imported directly by some packages alone.
var only = []struct {
	what string
	by   []string // prefixes
	why  string
}{
	{goChart, []string{"twoneedles/chart/svg"}, "one package knows the traps of the drawing library"},
	{goApp, []string{"twoneedles/app"}, "the screen lives in app and the places below it"},
	{"syscall/js", nil, "go-app wraps the browser, and its wrapper runs in tests"},
	{"testing", []string{"twoneedles/refrig/reftest", "twoneedles/chart/svg/svgtest", "twoneedles/app/internal/pagetest", "twoneedles/app/internal/pseudo", "twoneedles/app/browsertest"}, "test help stays out of the page"},
}

type pkg struct{ imports, deps []string }

// list asks the go command for the packages of the module as they are built for
// goos and goarch, without their tests.
func list(t *testing.T, goos, goarch string) map[string]pkg {
	t.Helper()
	cmd := exec.Command("go", "list", "-e", "-f", `{{.ImportPath}}|{{join .Imports " "}}|{{join .Deps " "}}`, "./...")
	cmd.Dir = reftest.Root(t)
	cmd.Env = append(os.Environ(), "GOOS="+goos, "GOARCH="+goarch, "GOFLAGS=")
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	m := map[string]pkg{}
	for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n") {
		f := strings.Split(line, "|")
		if len(f) != 3 {
			t.Fatalf("go list printed %q", line)
		}
		m[f[0]] = pkg{strings.Fields(f[1]), strings.Fields(f[2])}
	}
	return m
}

func under(path, prefix string) bool { return path == prefix || strings.HasPrefix(path, prefix+"/") }

// TestImports holds the direction of dependency: refrig, then chart, then app.
func TestImports(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("no go command in the browser's runtime; the native run does it")
	}
	for _, env := range [][2]string{{runtime.GOOS, runtime.GOARCH}, {"js", "wasm"}} {
		pkgs := list(t, env[0], env[1])
		if len(pkgs) < 5 {
			t.Fatalf("only %d packages listed for %v", len(pkgs), env)
		}
		for path, p := range pkgs {
			for _, rule := range never {
				if !under(path, rule.from) {
					continue
				}
				for _, d := range p.deps {
					if under(d, rule.to) {
						t.Errorf("%s reaches %s, but %s", path, d, rule.why)
					}
				}
			}
			for _, rule := range only {
				for _, d := range p.imports {
					if !under(d, rule.what) {
						continue
					}
					allowed := false
					for _, by := range rule.by {
						allowed = allowed || under(path, by)
					}
					if !allowed {
						t.Errorf("%s imports %s, but %s", path, d, rule.why)
					}
				}
			}
		}
	}
}
