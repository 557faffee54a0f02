//go:build !js

package browsertest

import (
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/profiler"
	"github.com/chromedp/chromedp"
)

// slow is the processor of a cheap phone, by common practice in measuring pages:
// four times slower than this one.
const slow = 4

// atBothSpeeds measures at the processor's own speed and as on a cheap phone, slowness
// times slower, which f asks of its page.
func atBothSpeeds(b *testing.B, f func(b *testing.B, slowness float64)) {
	for _, slowness := range []float64{1, slow} {
		b.Run(fmt.Sprintf("cpu÷%g", slowness), func(b *testing.B) {
			f(b, slowness)
			b.ReportMetric(0, "ns/op") // the loop's own time says nothing
		})
	}
}

// BenchmarkWarmStart starts the page from the store, without network.
func BenchmarkWarmStart(b *testing.B) {
	atBothSpeeds(b, func(b *testing.B, slowness float64) {
		server := Serve(b, Site(b), "/")
		page := Launch(b).Open(server.URL)
		page.WaitRunning()
		page.WaitOffline()
		server.Stop()
		page.SetSlowness(slowness)
		page.profiled(b)
		var paint, fields, running []time.Duration
		for b.Loop() {
			start := page.MeasureStart(server.URL)
			paint, fields, running = append(paint, start.Paint), append(fields, start.Fields), append(running, start.Running)
		}
		report(b, "paint", paint)
		report(b, "fields", fields)
		report(b, "running", running)
	})
}

// BenchmarkKeystroke types readings; with a slow processor this is the budget of
// 60 ms from keystroke to changed answer and picture.
func BenchmarkKeystroke(b *testing.B) {
	atBothSpeeds(b, func(b *testing.B, slowness float64) {
		server := Serve(b, Site(b), "/")
		page := Launch(b).Open(server.URL)
		page.SetScreen(Phone)
		page.WaitRunning()
		page.read("30", "200", "90")
		reportKeys(b, page, slowness)
	})
}

// BenchmarkEmptyPage types into a page made with go-app that has nothing but a field
// and a line which repeats it: the floor of what a keystroke can cost here.
func BenchmarkEmptyPage(b *testing.B) {
	dir := b.TempDir()
	around := exec.Command("go", "run", "./empty", dir)
	program := exec.Command("go", "build", "-ldflags=-s -w", "-o", filepath.Join(dir, "web", "app.wasm"), "./empty")
	program.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	for _, build := range []*exec.Cmd{around, program} {
		if said, err := build.CombinedOutput(); err != nil {
			b.Fatalf("%v: %v\n%s", build.Args, err, said)
		}
	}
	atBothSpeeds(b, func(b *testing.B, slowness float64) {
		page := Launch(b).Open(Serve(b, dir, "/").URL)
		page.SetScreen(Phone)
		page.WaitText("#answer", "ready")
		page.ExpectTrouble() // it has no icons
		reportKeys(b, page, slowness)
	})
}

// profiled lets the browser look what its processor does from here to the end of a
// benchmark: $PROFILE/<benchmark>.cpuprofile, which the tools of Chromium open, and in the
// log what each package did itself. Of a benchmark that loads pages it is the last page's.
func (p *Page) profiled(b *testing.B) {
	dir := os.Getenv("PROFILE")
	if dir == "" || Engine() != "chromium" {
		return
	}
	p.call("beginning the profile", func(ctx context.Context) error {
		if _, err := chromedp.Call(ctx, profiler.Enable, cdp.Empty{}); err != nil {
			return err
		}
		_, err := chromedp.Call(ctx, profiler.Start, cdp.Empty{})
		return err
	})
	b.Cleanup(func() {
		p.call("ending the profile", func(ctx context.Context) error {
			got, err := chromedp.Call(ctx, profiler.Stop, cdp.Empty{})
			if err != nil {
				return err
			}
			b.Log(byPackage(got.Profile))
			text, err := json.Marshal(got.Profile)
			if err != nil {
				return err
			}
			return os.WriteFile(filepath.Join(dir, strings.ReplaceAll(b.Name(), "/", "-")+".cpuprofile"), text, 0o666)
		})
	})
}

// byPackage says how long each package was at work itself, the longest first.
func byPackage(p *profiler.Profile) string {
	name := map[int64]string{}
	for _, node := range p.Nodes {
		// In the program a function is github.com_maxence_…_app.Div; scripts have no dot.
		pkg, _, dotted := strings.Cut(strings.TrimPrefix(node.CallFrame.FunctionName, "github.com_"), ".")
		if !dotted && !strings.HasPrefix(pkg, "(") {
			pkg = "scripts"
		}
		name[node.ID] = pkg
	}
	took := map[string]float64{}
	for i, node := range p.Samples {
		took[name[node]] += float64(p.TimeDeltas[i]) / 1000
	}
	var out strings.Builder
	fmt.Fprintf(&out, "of %.0f ms:", (p.EndTime-p.StartTime)/1000)
	for _, pkg := range slices.SortedFunc(maps.Keys(took), func(x, y string) int { return cmp.Compare(took[y], took[x]) }) {
		if took[pkg] >= 1 {
			fmt.Fprintf(&out, "\n%8.0f ms %s", took[pkg], pkg)
		}
	}
	return out.String()
}

// reportKeys types two digits at a time into #low, on a processor so many times slower.
func reportKeys(b *testing.B, page *Page, slowness float64) {
	page.SetSlowness(slowness)
	page.profiled(b)
	var answer, all []time.Duration
	for n := 0; b.Loop(); n++ {
		page.Focus("#low")
		for _, key := range []string{string(rune('2' + n%3)), string(rune('0' + n%10))} {
			k := page.MeasureKey(key)
			if k.Answer == 0 {
				b.Fatal("a key changed nothing: there is nothing to measure")
			}
			answer, all = append(answer, k.Answer), append(all, k.All)
		}
	}
	report(b, "answer", answer)
	report(b, "all", all)
}

// reportEach runs scripts that give milliseconds, one a round, and reports them.
func reportEach(b *testing.B, page *Page, what string, script func(n int) string) {
	page.profiled(b)
	var times []time.Duration
	for n := 0; b.Loop(); n++ {
		times = append(times, millis(Eval[float64](page, script(n))))
	}
	report(b, what, times)
}

// report gives the median and the 95th percentile in milliseconds.
func report(b *testing.B, name string, times []time.Duration) {
	slices.Sort(times)
	at := func(share float64) float64 {
		return float64(times[int(share*float64(len(times)-1))]) / float64(time.Millisecond)
	}
	b.ReportMetric(at(0.5), name+"-p50-ms")
	b.ReportMetric(at(0.95), name+"-p95-ms")
}

// BenchmarkManyJobs starts a page that keeps 5,000 jobs, opens the list and searches it:
// the budget is 100 ms to list and to search.
func BenchmarkManyJobs(b *testing.B) {
	server := Serve(b, Site(b), "/")
	page := Launch(b).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	page.Type("#low", "30")
	page.WaitKept("a job", `"30"`)
	// Copies of it, each with a plate of its own.
	page.Run(`twoneedles.store.all().then(({keys, texts}) => {
		const [line, job] = texts[keys.findIndex(key => key.startsWith("twoneedles.job."))].split("\n"), items = [];
		for (let i = 0; i < 5000; i++) {
			const plate = "inv " + i, fields = line.split("\t"), notes = "call at five ".repeat(20);
			fields[2] = plate;
			fields[fields.length - 1] += plate + " " + notes;
			items.push({key: "twoneedles.job.copy" + i, text: fields.join("\t") + "\n" + JSON.stringify({...JSON.parse(job), plate, notes, after: JSON.parse(job).before}),
				base: "", tab: "bench", seq: i + 1});
		}
		return twoneedles.store.change(items);
	})`)
	// The time of a step, from its event until what it asks for is painted.
	step := func(do, until string) time.Duration {
		return millis(Eval[float64](page, `new Promise(done => {
			const from = performance.now(), paint = `+afterPaint+`;
			`+do+`;
			const look = () => paint(() => document.querySelector("#jobs-count")?.textContent.startsWith("`+until+` ") ? done(performance.now() - from) : look());
			look();
		})`))
	}
	var running, list, search []time.Duration
	for b.Loop() {
		running = append(running, page.MeasureStart(server.URL).Running)
		page.WaitOffline()
		list = append(list, step(`document.getElementById("to-jobs").click()`, "5001"))
		search = append(search, step(`const s = document.getElementById("search"); s.value = "inv 4711"; s.dispatchEvent(new Event("input", {bubbles: true}))`, "1"))
	}
	report(b, "running", running)
	report(b, "list", list)
	report(b, "search", search)
	b.ReportMetric(0, "ns/op")
}
