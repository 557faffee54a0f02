package app

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/fake"
	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// bench is the whole page without a browser: go-app's test engine, which draws
// and dispatches but has no DOM, no events and no OnMount.
type bench struct {
	*testing.T
	loop   app.TestEngine
	s      *session
	root   *root
	engine *fake.Engine
}

func newBench(t *testing.T, device job.Storage) *bench {
	t.Helper()
	engine, err := fake.New()
	if err != nil {
		t.Fatal(err)
	}
	b := &bench{T: t, engine: engine, loop: app.NewTestEngine()}
	b.s = newSession(func() (Engine, error) { return b.engine, nil }, device)
	b.s.compute.rest, b.s.keeper.delay, b.s.aloud.rest = 0, 0, 0
	b.root = &root{Place: "readings", s: b.s}
	if err := b.loop.Load(b.root); err != nil {
		t.Fatal(err)
	}
	b.loop.ConsumeAll()
	return b
}

// do runs f as an event and lets everything follow that it starts.
func (b *bench) do(f func(app.Context)) *bench {
	b.s.ctx.Dispatch(f)
	b.loop.ConsumeAll()
	return b
}

func (b *bench) enter(id, text string) *bench {
	in := input{id: present.FieldID(id)}
	if name, end, ok := strings.Cut(id, "-"); ok {
		in = input{present.FieldID(name), end}
	}
	return b.do(func(ctx app.Context) {
		b.s.putText(in, text)
		b.s.edited(ctx)
	})
}

// three types the three numbers that are asked first.
func (b *bench) three(low, high, ambient string) *bench {
	b.do(func(ctx app.Context) { b.s.replace(ctx, job.New(b.s.job.Created, unit.US())) })
	return b.enter("low", low).enter("high", high).enter("ambient", ambient)
}

func (b *bench) html() string { return app.HTMLString(b.root) }

var tags = regexp.MustCompile(`<[^>]*>`)

// text is what can be read in the element with the id.
func (b *bench) text(id string) string {
	html := b.html()
	i := strings.Index(html, fmt.Sprintf("id=%q", id))
	if i < 0 {
		return ""
	}
	start := strings.LastIndex(html[:i], "<")
	tag := regexp.MustCompile(`^<(\w+)`).FindStringSubmatch(html[start:])[1]
	depth, end := 0, start
	for _, m := range regexp.MustCompile(`</?`+tag+`[\s>]`).FindAllStringIndex(html[start:], -1) {
		if html[start+m[0]+1] == '/' {
			depth--
		} else {
			depth++
		}
		if depth == 0 {
			end = start + m[0]
			break
		}
	}
	return strings.Join(strings.Fields(tags.ReplaceAllString(html[start:end], " ")), " ")
}

func (b *bench) has(id, want string) {
	b.Helper()
	if got := b.text(id); !strings.Contains(got, want) {
		b.Errorf("#%s says %q, want it to say %q", id, got, want)
	}
}

// controls are inputs and menus; what was typed may hold any sign.
var controls = regexp.MustCompile(`<(?:input|select)(?:\s+[\w-]+(?:="(?:[^"\\]|\\.)*")?)*\s*>`)

// sound holds what must be true of any page at any time.
func (b *bench) sound(what string) {
	b.Helper()
	html := b.html()
	if i := strings.Index(html, "⟨"); i >= 0 {
		b.Errorf("%s: a word is missing: %s", what, html[i:min(i+80, len(html))])
	}
	if strings.Contains(html, " style=") {
		b.Errorf("%s: an inline style, which the content security policy blocks", what)
	}
	if strings.Contains(html, "NaN") || strings.Contains(html, "Inf") {
		b.Errorf("%s: a number that is none", what)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(html, -1) {
		if seen[m[1]] {
			b.Errorf("%s: id %q twice", what, m[1])
		}
		seen[m[1]] = true
	}
	for _, m := range controls.FindAllString(html, -1) {
		id := regexp.MustCompile(` id="([^"]+)"`).FindStringSubmatch(m)
		if id == nil || !strings.Contains(m, "aria-label") && !strings.Contains(html, fmt.Sprintf("for=%q", id[1])) {
			b.Errorf("%s: a control without a label: %s", what, m)
		}
	}
	for _, m := range regexp.MustCompile(`aria-(?:describedby|labelledby)="([^"]+)"`).FindAllStringSubmatch(html, -1) {
		for _, id := range strings.Fields(m[1]) {
			if !seen[id] {
				b.Errorf("%s: aria names %q, which is not there", what, id)
			}
		}
	}
}

func TestFirstVisitShowsAnAnsweredExample(t *testing.T) {
	b := newBench(t, job.Memory{})
	if b.s.job.Example == "" || b.s.answer.state != answered {
		t.Fatalf("example %q, state %d", b.s.job.Example, b.s.answer.state)
	}
	b.has("about", "invented car")
	for _, id := range []string{"customer-sentence", "technician-sentence", "ranking", "why", "next-ask", "plane-frame", "low-band"} {
		if b.text(id) == "" {
			t.Errorf("#%s is empty", id)
		}
	}
	b.sound("first visit")
}

// Every state of every place is whole: words, ids, labels, no style.
func TestEveryStateIsSound(t *testing.T) {
	b := newBench(t, job.Memory{})
	for _, j := range job.Examples(b.s.job.Created) {
		b.do(func(ctx app.Context) { b.s.replace(ctx, j) }).sound(j.Example)
	}
	for what, three := range map[string][3]string{
		"empty": {"", "", ""}, "one": {"30", "", ""}, "letters": {"abc", "200", "90"}, "huge": {"9e99", "200", "90"},
		"vacuum": {"in 12", "200", "90"}, "pegged": {"30", ">500", "90"}, "swapped": {"200", "30", "90"},
		"Celsius as Fahrenheit": {"30", "200", "32"}, "bar as psi": {"2.1", "15", "90"}, "swing": {"22-45", "160-200", "80"},
		"below vacuum": {"in 40", "200", "90"}, "markup": {"<b>", "\"'", "&amp;"},
	} {
		b.three(three[0], three[1], three[2]).sound(what)
	}
	b.three("30", "200", "90").do(func(ctx app.Context) {
		b.s.weather.open = true
		b.s.recompute(ctx)
	}).sound("weather")
	if b.text("weather-frame") == "" {
		t.Error("no picture across the weather")
	}
	for _, p := range places {
		b.root = &root{Place: p.id, s: b.s}
		if err := b.loop.Load(b.root); err != nil {
			t.Fatal(err)
		}
		b.loop.ConsumeAll()
		b.sound(p.id)
		if b.text("title") == "" || b.text("nav-"+p.id) == "" {
			t.Errorf("%s: no title or no entry in the navigation", p.id)
		}
	}
}

func TestMissingNumbersAreNamed(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "", "90")
	b.has("answer", "The high side is missing.")
	if strings.Contains(b.text("answer"), "low side is missing") {
		t.Error("the low side is there")
	}
	b.enter("high", "210").has("customer-sentence", ".")
}

func TestBadInputStaysAndIsExplainedBesideTheField(t *testing.T) {
	b := newBench(t, job.Memory{}).three("abc", "210", "90")
	if got := b.s.text(input{id: "low"}); got != "abc" {
		t.Errorf("the text became %q", got)
	}
	b.has("low-note", "cannot be read as a number")
	b.has("answer", "cannot be used yet")
	if !strings.Contains(b.html(), " aria-invalid") {
		t.Error("no input is marked invalid")
	}
	// A bad optional reading costs only itself.
	b.three("30", "210", "90").do(func(app.Context) { b.s.more, b.s.rev = true, b.s.rev+1 }).enter("vent", "warm")
	b.has("vent-note", "cannot be read")
	if b.s.answer.state != answered {
		t.Error("no answer without the vent")
	}
}

func TestSuggestionIsOneTap(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "32")
	b.has("ambient-note", "32 °C")
	p := b.s.spoken("ambient")[0]
	b.do(func(ctx app.Context) { b.s.take(ctx, input{id: "ambient"}, p.Suggest[0].Code, p.Suggest[0].Text) })
	if c := b.s.current.Weather.Ambient; c < 305 || c > 305.3 {
		t.Errorf("ambient %g K, want 32 °C", c)
	}
	if got := b.text("ambient-note"); got != "" {
		t.Errorf("still asked: %q", got)
	}
	b.three("210", "30", "90").has("low-note", "swap")
	b.do(func(ctx app.Context) { b.s.take(ctx, input{id: "low"}, present.SwapSides, "") })
	if b.s.text(input{id: "low"}) != "30" {
		t.Error("the sides were not swapped")
	}
}

func TestModelFailureKeepsInputsAndPasses(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	b.engine.Panic = true
	b.enter("low", "31").sound("panic")
	if b.s.answer.state != failed || b.s.text(input{id: "low"}) != "31" {
		t.Fatalf("state %d, low %q", b.s.answer.state, b.s.text(input{id: "low"}))
	}
	b.engine.Panic, b.engine.Fail = false, &refrig.RangeError{Quantity: "evaporating temperature", Value: 400, Min: 200, Max: 370, Unit: "K"}
	b.enter("low", "32").has("answer", "evaporating temperature")
	b.engine.Fail = errors.New("anything")
	b.enter("low", "33").sound("unknown failure")
	b.engine.Fail = nil
	if b.enter("low", "34"); b.s.answer.state != answered {
		t.Error("the answer did not come back")
	}
}

func TestDoubtfulReadingIsAskedAboutFirst(t *testing.T) {
	b := newBench(t, job.Memory{}).three("210", "40", "90")
	if b.s.answer.report.Verdict != diagnose.Doubtful {
		t.Fatal("a low side above the high side is not doubted")
	}
	b.has("verdict", "in doubt")
	b.has("customer-sentence", "instruments")
}

// A screen reader hears one sentence of the answer, and nothing else on the page
// speaks by itself but notices.
func TestAnswerIsReadOutOnce(t *testing.T) {
	b := newBench(t, job.Memory{}).three("30", "210", "90")
	b.has("answer-live", b.text("technician-sentence"))

	if n := strings.Count(b.html(), "aria-live"); n != 1 {
		t.Errorf("%d live regions", n)
	}
	b.enter("low", "abc").has("answer-live", "cannot be used")
}
