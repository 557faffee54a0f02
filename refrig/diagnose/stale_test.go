package diagnose

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
	m, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	now := probes()
	if len(m.made.Probe) != len(now) || len(now) < probeCars {
		t.Fatalf("%d probes stored, %d simulated", len(m.made.Probe), len(now))
	}
	moved := 0
	for i, was := range m.made.Probe {
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
