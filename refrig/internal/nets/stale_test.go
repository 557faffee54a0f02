package nets

import (
	"math"
	"testing"
)

// The networks must have been fitted to the physics as it is now. Probe cars are
// simulated again and compared with what they were when the networks were made.
// Tolerance 0.02 in scaled units is 0.2 K of saturation temperature, a twentieth of
// the model's own stated error: below it refitting changes no answer a person would
// notice.
func TestNetworksAreCurrent(t *testing.T) {
	n, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	now := Probes()
	if len(n.Made.Probe) != len(now) || len(now) < probeCars {
		t.Fatalf("%d probes stored, %d simulated", len(n.Made.Probe), len(now))
	}
	moved := 0
	for i, was := range n.Made.Probe {
		is := now[i]
		if is.Condition != was.Condition {
			t.Fatalf("probe %d is %s now and was %s: the draws have changed; run make fit", i, is.Condition, was.Condition)
		}
		if math.Abs(is.Low-was.Low) > 0.02 || math.Abs(is.High-was.High) > 0.02 || math.Abs(is.Vent-was.Vent) > 0.02 {
			moved++
		}
	}
	if moved > probeCars/20 { // a car on the edge of a mode may jump
		t.Errorf("%d of %d probe cars read differently now: the networks are stale; run make fit", moved, probeCars)
	}
}

// As TestNetworksAreCurrent, with the same tolerance, for cars met more than once; and
// the memory network must stand upon the networks it was fitted upon.
func TestMemoryIsCurrent(t *testing.T) {
	n, err := Open()
	if err != nil {
		t.Fatal(err)
	}
	upon, err := UponOf(File)
	if err != nil {
		t.Fatal(err)
	}
	if upon != n.MemoryMade.Upon {
		t.Error("the networks below the memory network have changed; run make fit-memory")
	}
	now := PairProbes()
	if len(n.MemoryMade.Probe) != len(now) {
		t.Fatalf("%d probes stored, %d simulated", len(n.MemoryMade.Probe), len(now))
	}
	moved := 0
	for i, was := range n.MemoryMade.Probe {
		is := now[i]
		if is.Condition != was.Condition || is.Months != was.Months || is.Held != was.Held {
			t.Fatalf("probe %d is %+v now and was %+v: the draws have changed; run make fit-memory", i, is, was)
		}
		for _, d := range []float64{is.LowThen - was.LowThen, is.HighThen - was.HighThen, is.Low - was.Low, is.High - was.High} {
			if math.Abs(d) > 0.02 {
				moved++
				break
			}
		}
	}
	if moved > len(now)/20 {
		t.Errorf("%d of %d probe cars read differently now: run make fit-memory", moved, len(now))
	}
}
