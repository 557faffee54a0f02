package eos

import (
	"fmt"
	"runtime"
	"testing"
	"time"
)

// call is one kind of property call with its budget in full evaluations: the
// reference library needs the same number for the first two and the third, and
// 21 for the fourth (issue "main job", budgets).
type call struct {
	name   string
	budget float64
	run    func(f *Fluid, i int) float64
}

var calls = []call{
	{"full evaluation", 1, func(f *Fluid, i int) float64 { return f.At(300+float64(i), 20).H }},
	{"saturation by T", 0.24, func(f *Fluid, i int) float64 { s, _ := f.FastSatT(260 + float64(i)); return s.P }},
	{"saturation by p", 0.24, func(f *Fluid, i int) float64 { s, _ := f.FastSatP(3e5 + 3e4*float64(i)); return s.T }},
	{"(p,T) vapour", 3.4, func(f *Fluid, i int) float64 { s, _ := f.PT(1e6, 330+float64(i)); return s.H }},
	{"(p,h) vapour", 10, func(f *Fluid, i int) float64 { s, _ := f.PH(1e6, 430e3+1e3*float64(i)); return s.T }},
	{"(p,h) two-phase", 10, func(f *Fluid, i int) float64 { s, _ := f.PH(5e5, 250e3+1e3*float64(i)); return s.T }},
	{"(p,h) liquid", 10, func(f *Fluid, i int) float64 { s, _ := f.PH(2e6, 190e3+1e3*float64(i)); return s.T }},
	{"(p,s) vapour", 22, func(f *Fluid, i int) float64 { s, _ := f.PS(1e6, 1750+2*float64(i)); return s.T }},
}

var sink float64

// BenchmarkCalls reports each call also in full evaluations.
func BenchmarkCalls(b *testing.B) {
	for _, id := range IDs() {
		f := load(b, id)
		full := 0.0
		for _, c := range calls {
			b.Run(id+"/"+c.name, func(b *testing.B) {
				b.ReportAllocs()
				for i := range b.N {
					sink += c.run(f, i&31)
				}
				ns := float64(b.Elapsed().Nanoseconds()) / float64(b.N)
				if c.budget == 1 {
					full = ns
				} else if full > 0 {
					b.ReportMetric(ns/full, "full")
				}
			})
		}
		b.Run(id+"/saturation by T, exact", func(b *testing.B) {
			for i := range b.N {
				s, _ := f.SatT(260 + float64(i&31))
				sink += s.P
			}
		})
	}
}

// TestSpeed holds the budgets. The quickest of many short rounds is little
// disturbed by what else the machine does.
func TestSpeed(t *testing.T) {
	if runtime.GOARCH == "wasm" {
		t.Skip("the budget is for native code; timers of a browser are coarse")
	}
	for _, id := range IDs() {
		f := load(t, id)
		best := map[string]time.Duration{}
		for range 60 {
			for _, c := range calls {
				start := time.Now()
				for i := range 64 {
					sink += c.run(f, i&31)
				}
				if d := time.Since(start); best[c.name] == 0 || d < best[c.name] {
					best[c.name] = d
				}
			}
		}
		full := best[calls[0].name]
		report := ""
		for _, c := range calls {
			ratio := float64(best[c.name]) / float64(full)
			report += fmt.Sprintf("\n%8.2f of %5.2f  %s", ratio, c.budget, c.name)
			// Half as much again, so that a noisy machine does not fail a build.
			if ratio > 1.5*c.budget {
				t.Errorf("%s: %s takes %.2f full evaluations, budget %.2f", id, c.name, ratio, c.budget)
			}
		}
		t.Logf("%s: full evaluation %v%s", id, full/64, report)
	}
}
