package judge

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/service"
	"twoneedles/refrig/sim"
)

var updateProof = flag.Bool("update-proof", false, "write testdata/report/proof.md")

// after is a simulated car as it is read after a repair: both needles, the vent, the
// air and the kind of car. The mass on the machine's display is kept apart.
func after(m *diagnose.Model, s sim.Sample) (d diagnose.Deviation, ok bool) {
	c := s.Case
	c.Readings = car.Readings{}
	for _, q := range []car.Quantity{car.Low, car.High, car.Vent} {
		if r, read := s.Case.Readings[q]; read {
			c.Readings[q] = r
		}
	}
	a, err := m.Ask(c)
	if err != nil || len(c.Readings) < 3 {
		return d, false
	}
	return a.Deviation(), true
}

// weigh reads the charge off a machine that may be 15 g off [SAEJ2788], taken as two
// standard deviations, and compares it as the Charge step does.
func weigh(s *sim.Sample, r *fleet.Rand) service.Check {
	const tolerance = 0.015 // kg
	off := (s.Truth.ChargeShare-1)*s.Truth.LabelCharge + tolerance/2*fleet.Normal(r)
	if math.Abs(off) > tolerance {
		return service.CheckBad
	}
	return service.CheckGood
}

// proofs judges n cars of w with a condition, those that keep accepts, and says what was
// off on the visits of those not proved.
func proofs(t *testing.T, m *diagnose.Model, w sim.World, id car.ConditionID, n int, seed uint64, charge func(*sim.Sample, *fleet.Rand) service.Check, keep func(*sim.Sample) bool) (count map[service.Outcome]float64, off map[string]float64) {
	t.Helper()
	r := fleet.NewRand(seed)
	count, off = map[service.Outcome]float64{}, map[string]float64{}
	for drawn, tries := 0, 0; drawn < n; tries++ {
		if tries > 20*n {
			t.Fatalf("%s: too few cars", id)
		}
		s, err := w.DrawOf(r, id, fleet.Complete(r, w.Spec), 1)
		if err != nil || !keep(&s) {
			continue
		}
		d, ok := after(m, s)
		if !ok {
			continue
		}
		p, err := service.Prove(service.ProofInput{Deviation: d.Square, Vent: 283, Ambient: 300, Charge: charge(&s, r), Leak: service.NotAsked})
		if err != nil {
			t.Fatal(err)
		}
		count[p.Outcome] += 100 / float64(n)
		if p.Outcome == service.NotProved {
			off[whatIsOff(&s.Visit)] += 100 / float64(n)
		}
		drawn++
	}
	return count, off
}

// What may be off on a visit, in the order it is looked at.
const (
	thermometerOff = "the outside air typed far off"
	gaugeOff       = "else a gauge far off"
	carOff         = "else a fact about the car typed wrong"
	nothingOff     = "none of these"
)

func whatIsOff(in *sim.Instruments) string {
	switch {
	case in.AmbientFar():
		return thermometerOff
	case in.GaugeFar():
		return gaugeOff
	case in.CarWrong():
		return carOff
	}
	return nothingOff
}

// TestProof measures the proof on cars never used to build anything: of sound ones
// at most 3 in 100 may be called not proved, in our world and in one unlike it; of those still short beyond the reserve at
// most 10 in 100 proved. Without a weighed charge nothing is proved; the table says
// what needles and vent alone would have let through.
func TestProof(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	any := func(*sim.Sample) bool { return true }
	beyond := func(s *sim.Sample) bool { return !s.Truth.Reserve }
	is := func(c service.Check) func(*sim.Sample, *fleet.Rand) service.Check {
		return func(*sim.Sample, *fleet.Rand) service.Check { return c }
	}
	// Few cars at every run, with three standard errors of room; all of them for the report.
	n, slack := 200, 3.6
	if *updateProof {
		n, slack = 2000, 0
	}
	worlds := []struct {
		name string
		w    sim.World
	}{{"at home", sim.World{Mixed: true}}, {"other laws, spread 1.3 times", sim.World{Laws: &cycle.OtherLaws, Spread: 1.3}}}
	var b, why strings.Builder
	fmt.Fprintf(&b, "# Proof after a repair, on simulated cars\n\nWritten by `go test ./refrig/internal/judge -run TestProof -update-proof`: %d cars a row, seeds never used elsewhere.\n"+
		"Needles, vent and air are read with everyday instruments; humidity is known where it was measured. In percent.\n\n"+
		"| World | Cars | Weighed | Proved | Not proved yet | Not proved |\n| --- | --- | --- | --- | --- | --- |\n", n)
	for _, w := range worlds {
		for _, c := range []struct {
			name, weighed string
			id            car.ConditionID
			keep          func(*sim.Sample) bool
			charge        func(*sim.Sample, *fleet.Rand) service.Check
		}{
			{"sound", "yes", car.Healthy, any, is(service.CheckGood)}, // filled by weight
			{"sound", "no", car.Healthy, any, is(service.CheckOpen)},
			{"short beyond the reserve", "yes", car.Undercharge, beyond, weigh},
			{"short beyond the reserve", "no", car.Undercharge, beyond, is(service.CheckOpen)},
			{"short beyond the reserve", "not asked for", car.Undercharge, beyond, is(service.NotAsked)},
			{"overfilled beyond the reserve", "not asked for", car.Overcharge, beyond, is(service.NotAsked)},
			{"poor condenser airflow", "yes", car.CondenserAirflow, beyond, is(service.CheckGood)},
			{"restriction", "yes", car.Restriction, beyond, is(service.CheckGood)},
		} {
			got, off := proofs(t, m, w.w, c.id, n, 20261126, c.charge, c.keep)
			fmt.Fprintf(&b, "| %s | %s | %s | %.1f | %.1f | %.1f |\n", w.name, c.name, c.weighed, got[service.Proved], got[service.AtTheEdge], got[service.NotProved])
			if c.id == car.Healthy && c.weighed == "yes" {
				fmt.Fprintf(&why, "| %s | %.1f | %.1f | %.1f | %.1f |\n", w.name, off[thermometerOff], off[gaugeOff], off[carOff], off[nothingOff])
			}
			if c.id == car.Healthy && got[service.NotProved] > 3+slack {
				t.Errorf("%s: %.1f %% of sound cars are not proved", w.name, got[service.NotProved])
			}
			if c.id == car.Undercharge && c.weighed != "not asked for" && got[service.Proved] > 10 {
				t.Errorf("%s: %.1f %% of cars still short are proved", w.name, got[service.Proved])
			}
		}
	}
	fmt.Fprintf(&b, "\nWhat was off on the visits of the sound cars that are not proved, in percent of all sound cars:\n\n"+
		"| World | %s | %s | %s | %s |\n| --- | --- | --- | --- | --- |\n%s", thermometerOff, gaugeOff, carOff, nothingOff, why.String())
	t.Log("\n" + b.String())
	if *updateProof {
		if err := os.WriteFile("../../../testdata/report/proof.md", []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}
