//go:build !js

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// teach puts n confirmed jobs on the device: copies of the one at hand, found to hold air
// and read again after the repair with the same numbers.
func teach(page *Page, n int) {
	page.Run(fmt.Sprintf(`twoneedles.store.all().then(({keys, texts}) => {
		const [line, job] = texts[keys.findIndex(key => key.startsWith("twoneedles.job."))].split("\n"), items = [];
		for (let i = 0; i < %d; i++) {
			const fields = line.split("\t"), is = JSON.parse(job);
			fields[10] = "air"; fields[12] = "1";
			is.after = {...is.before, sound: true};
			is.repair = {cause: "air", foundAt: new Date(Date.parse(is.created) - 1000 * i).toISOString()};
			items.push({key: "twoneedles.job.taught" + i, text: fields.join("\t") + "\n" + JSON.stringify(is), base: "", tab: "bench", seq: i + 1});
		}
		return twoneedles.store.change(items);
	})`, n))
}

// Forty confirmed jobs change the answer and say so below it, and that the job was answered
// without them; a tap leaves them out, for good and in the other window too; in the record
// they are forgotten and taken back.
func TestLearnt(t *testing.T) {
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	page := browser.Open(server.URL)
	page.WaitRunning()
	page.Type("#low", "30")
	page.Type("#high", "210")
	page.Type("#ambient", "86")
	page.WaitKept("the job", `"210"`)
	teach(page, 40)
	page.Reload()
	page.WaitRunning()
	page.WaitText("#learnt", "Learnt from 40 jobs here: ")
	page.WaitText("#learnt", "last answered without that")
	other := browser.Open(server.URL)
	other.WaitText("#learnt", "Learnt from 40 jobs here: ")
	page.waitAnswer()
	with := page.Text("#ranking")
	page.Click("#learnt-switch")
	page.WaitText("#learnt", "is left out")
	other.WaitText("#learnt", "is left out")
	page.waitAnswer()
	if without := page.Text("#ranking"); without == with {
		t.Errorf("with or without, the ranking is %q", with)
	}
	page.Reload()
	page.WaitRunning()
	page.WaitText("#learnt", "is left out")
	page.Click("#learnt-switch")
	page.WaitText("#learnt", "Learnt from 40 jobs here: ")
	page.Click("#to-jobs")
	page.WaitPlace("jobs")
	page.Click("#record summary")
	page.WaitText("#record-learnt-says", "Learnt from 40 jobs here: ")
	other.WaitText("#learnt", "Learnt from 40 jobs here: ")
	page.settle() // what was counted comes in pieces, above the button
	page.Click("#record-forget")
	page.WaitText("#record-learnt-says", "0 jobs here could teach")
	other.Wait("nothing to be learnt in the other window", `!document.querySelector("#learnt")`)
	page.Click("#record-forget")
	page.WaitText("#record-learnt-says", "Learnt from 40 jobs here: ")
}

// BenchmarkLearn opens a page that keeps 5,000 jobs which teach: how long the longest task
// lasts while it reads them, and how long until it knows.
func BenchmarkLearn(b *testing.B) {
	server := Serve(b, Site(b), "/")
	page := Launch(b).Open(server.URL)
	page.WaitRunning()
	page.WaitOffline()
	page.Type("#low", "30")
	page.Type("#high", "210")
	page.Type("#ambient", "86")
	page.WaitKept("the job", `"210"`)
	teach(page, 5000)
	var learnt, longest []time.Duration
	for b.Loop() {
		page.Run(`localStorage.removeItem("twoneedles.learnt")`)
		page.Reload()
		page.WaitRunning()
		page.Run(`window.longest = 0; new PerformanceObserver(l => l.getEntries().forEach(e => window.longest = Math.max(window.longest, e.duration))).observe({type: "longtask"})`)
		from := time.Now()
		page.WaitText("#learnt", "Learnt from 1000 jobs here: ")
		learnt = append(learnt, time.Since(from))
		longest = append(longest, time.Duration(Eval[float64](page, "window.longest")*1e6))
	}
	report(b, "learnt", learnt)
	report(b, "longest-task", longest)
	b.ReportMetric(0, "ns/op")
}
