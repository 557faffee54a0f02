package cycle_test

import (
	"slices"
	"testing"
	"time"

	"twoneedles/refrig/cycle"
)

// BenchmarkSolve solves 1000 random cars × weather × faults in turn and reports,
// beside the mean that the benchmark gives, the median and the 90th percentile,
// which are what a person waiting feels.
//
//	go test -bench Solve ./refrig/cycle
//	GOOS=js GOARCH=wasm go test -bench Solve -exec="$(go env GOROOT)/lib/wasm/go_js_wasm_exec" ./refrig/cycle
func BenchmarkSolve(b *testing.B) {
	type job struct {
		p *cycle.Plant
		f cycle.Fault
		c cycle.Conditions
	}
	var jobs []job
	for seed := range uint64(1000) {
		p, f, c, err := randomCase(seed)
		if err != nil {
			b.Fatal(err)
		}
		jobs = append(jobs, job{p, f, c})
	}
	took := make([]time.Duration, 0, b.N)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		j := jobs[i%len(jobs)]
		i++
		t := time.Now()
		_, _ = cycle.Solve(j.p, j.f, j.c) // the few that fail cost the most and count too
		took = append(took, time.Since(t))
	}
	slices.Sort(took)
	b.ReportMetric(float64(took[len(took)/2].Nanoseconds())/1e3, "median-µs")
	b.ReportMetric(float64(took[len(took)*9/10].Nanoseconds())/1e3, "p90-µs")
}
