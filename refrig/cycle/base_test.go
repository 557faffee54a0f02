package cycle_test

import (
	"fmt"
	"os"
	"sort"
	"testing"
	"time"

	"twoneedles/refrig/cycle"
)

func TestBase(t *testing.T) {
	out, _ := os.Create(os.Getenv("BASE_OUT"))
	defer out.Close()
	n := 4000
	fail, evals := 0, []int{}
	var ts []time.Duration
	for s := 0; s < n; s++ {
		p, f, c, err := randomCase(uint64(s))
		if err != nil {
			fmt.Fprintln(out, s, "draw", err)
			continue
		}
		t0 := time.Now()
		r, err := cycle.Solve(p, f, c)
		ts = append(ts, time.Since(t0))
		if err != nil {
			fail++
			fmt.Fprintln(out, s, "fail")
			t.Log(s, p.Metering, p.Compressor, err, fmt.Sprintf("%+v", f))
			continue
		}
		evals = append(evals, r.Evals)
		fmt.Fprintln(out, s, p.Charge, r.Low, r.High, r.Vent, r.DischargeLine, r.SuctionLine, r.LiquidLine, r.Subcooling+300, r.EvapSuperheat+300, r.MassFlow, r.Cooling, r.CyclesPerMin+1, r.HighSwing[1], r.LowSwing[1])
	}
	sort.Ints(evals)
	sort.Slice(ts, func(i, j int) bool { return ts[i] < ts[j] })
	sum := 0
	for _, e := range evals {
		sum += e
	}
	t.Log("fail", fail, "of", n, "evals median", evals[len(evals)/2], "p90", evals[len(evals)*9/10], "mean", sum/len(evals), "time median", ts[len(ts)/2], "p90", ts[len(ts)*9/10])
}
