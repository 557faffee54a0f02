package cycle_test

import (
	"errors"
	"math"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Heat that leaves by no door is found: a car that closes does not once a hundredth of
// the condenser's heat is lost. The error is counted in shares of the shaft's power,
// of which the condenser rejects at least as much (first law).
func TestAuditFindsLostHeat(t *testing.T) {
	plant, err := fleet.Typical(car.Spec{Refrigerant: car.R134a, Metering: car.ExpansionValve, Compressor: car.Fixed})
	if err != nil {
		t.Fatal(err)
	}
	c := cycle.Conditions{Ambient: 305.15, Humidity: 0.45, PAtm: 101325, RPM: 1500, Blower: 1}
	if a, err := cycle.AuditSpoilt(plant, cycle.Sound(), c, 0); err != nil {
		t.Fatalf("nothing is lost: %+v, %v", a, err)
	}
	a, err := cycle.AuditSpoilt(plant, cycle.Sound(), c, 0.01)
	var found *cycle.AuditError
	if !errors.As(err, &found) || math.Abs(a.Energy) < 0.01 {
		t.Errorf("a hundredth of the condenser's heat is lost: %+v, %v", a, err)
	}
}
