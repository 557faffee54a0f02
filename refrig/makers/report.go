package makers

import (
	"fmt"
	"math"
	"strings"

	"twoneedles/refrig/fleet"
)

// Calibration is refrig/fleet/calibration.csv.
func Calibration(r *Result) string {
	var b strings.Builder
	b.WriteString(`# Made by make calibrate from testdata/makers/makers.csv. Shift of the median of a size
# from what was judged (of its ln, or in its own unit) and factor on its spread; then
# what is left between published tables and the model: between makers and within a
# table, of ln of the absolute pressure and in K.
id,shift,spread
`)
	for _, id := range fleet.Ids {
		fmt.Fprintf(&b, "%s,%.5g,1\n", id, r.Shift[id])
	}
	for _, e := range []struct {
		id string
		fleet.Error
	}{{"low", r.Low}, {"high", r.High}, {"vent", r.Vent}} {
		fmt.Fprintf(&b, "%s,%.4f,%.4f\n", e.id, e.Between, e.Within)
	}
	return b.String()
}

// kinds names the quantities of a table.
var kinds = [3]string{"low side", "high side", "vent"}

// Coverage sums up values that the fit had not seen.
type Coverage struct {
	N                int
	In50, In90       float64 // share inside the middle 50 % and 90 % of what was predicted
	Mean, Spread     float64 // of the difference: kPa at 250 kPa gauge, % of the pressure, K
	Slope            float64 // of the difference with ambient, in units of Mean per 10 K
	SlopeError       float64
	Joint, JointIn90 float64 // cells with both needles, and the share inside the joint 90 % region
}

// Cover sums up left by quantity.
func Cover(left []Left) [3]Coverage {
	var out [3]Coverage
	for k := range out {
		c := &out[k]
		unit := [3]float64{351.3, 100, 1}[k] // of ln at 250 kPa gauge to kPa; to %; K
		var sx, sy, sxx, sxy, syy float64
		for _, l := range left {
			if l.Kind != k {
				continue
			}
			c.N++
			z := math.Abs(l.Off / l.SD)
			if z < 0.6745 {
				c.In50++
			}
			if z < 1.6449 {
				c.In90++
			}
			x, y := (l.Ambient-303.15)/10, l.Off*unit
			sx, sy, sxx, sxy, syy = sx+x, sy+y, sxx+x*x, sxy+x*y, syy+y*y
			if l.OtherSD > 0 {
				c.Joint++
				det := l.SD*l.SD*l.OtherSD*l.OtherSD - l.Covariance*l.Covariance
				d := (l.Off*l.Off*l.OtherSD*l.OtherSD - 2*l.Off*l.Other*l.Covariance + l.Other*l.Other*l.SD*l.SD) / det
				if d < -2*math.Log(0.1) {
					c.JointIn90++
				}
			}
		}
		n := float64(c.N)
		if n < 3 {
			continue
		}
		c.In50, c.In90 = c.In50/n, c.In90/n
		c.Mean = sy / n
		c.Spread = math.Sqrt(math.Max(syy/n-c.Mean*c.Mean, 0))
		vx := sxx - sx*sx/n
		c.Slope = (sxy - sx*sy/n) / vx
		c.SlopeError = math.Sqrt(math.Max(syy-sy*sy/n-c.Slope*c.Slope*vx, 0) / (n - 2) / vx)
		if c.Joint > 0 {
			c.JointIn90 /= c.Joint
		}
	}
	return out
}

// Report says in Markdown what was fitted and how the tables of makers left out
// compare.
func Report(r *Result, houses []*house) string {
	var b strings.Builder
	p := func(f string, a ...any) { fmt.Fprintf(&b, f+"\n", a...) }
	p("# The fleet beside makers' published tables")
	p("")
	p("Made by `make calibrate`; refrig/makers/doc.go says how. %d cells of %d makers, %d values.", r.Cells, len(houses), r.Values)
	p("")
	p("## Makers left out one at a time")
	p("")
	p("Where the tables of one maker lie beside what the fit to all others says. The difference is table less model: kPa at 250 kPa gauge, %% of the absolute pressure, K.")
	p("")
	p("| | values | inside the middle 50 %% | inside the middle 90 %% | mean difference | its spread | per 10 K of outside air |")
	p("| --- | --- | --- | --- | --- | --- | --- |")
	cover := Cover(LeaveOneOut(r, houses))
	for k, c := range cover {
		unit := [3]string{"kPa", "%", "K"}[k]
		p("| %s | %d | %.0f %% | %.0f %% | %+.1f %s | %.1f | %+.1f ± %.1f |", kinds[k], c.N, 100*c.In50, 100*c.In90, c.Mean, unit, c.Spread, c.Slope, c.SlopeError)
	}
	p("")
	p("Both needles at once: %.0f %% of %.0f cells inside the joint 90 %% region.", 100*cover[0].JointIn90, cover[0].Joint)
	p("")
	p("## What was fitted")
	p("")
	p("| size | shift of the median | its standard error | spread as judged |")
	p("| --- | --- | --- | --- |")
	for _, id := range fleet.Ids {
		sd, abs := fleet.Judged(id)
		unit := "of ln"
		if abs {
			unit = "in its own unit"
		}
		p("| %s | %+.3g | %.2g | %.3g %s |", id, r.Shift[id], r.SD[id], sd, unit)
	}
	p("")
	p("| what is left | between makers | within a table |")
	p("| --- | --- | --- |")
	p("| low side, ln p | %.3f | %.3f |", r.Low.Between, r.Low.Within)
	p("| high side, ln p | %.3f | %.3f |", r.High.Between, r.High.Within)
	p("| vent, K | %.2f | %.2f |", r.Vent.Between, r.Vent.Within)
	return b.String()
}
