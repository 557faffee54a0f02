package car

import (
	"slices"
	"testing"
)

// Every condition concerns a part, but those that say themselves why not.
func TestEveryConditionHasItsPart(t *testing.T) {
	none := []ConditionID{Healthy, Combination, NoneOfThese}
	for _, id := range Conditions() {
		if has := len(id.Parts()) > 0; has == slices.Contains(none, id) {
			t.Errorf("%s concerns %v", id, id.Parts())
		}
	}
	// Where the trade looks; the names of the conditions say it.
	for id, want := range map[ConditionID]Part{CondenserAirflow: PartCondenser, EvaporatorAirflow: PartEvaporator,
		Restriction: PartLiquidLine, ValveOpen: PartMetering, WeakCompressor: PartCompressor, Overcharge: PartRefrigerant, Gauge: PartPorts} {
		if !slices.Contains(id.Parts(), want) {
			t.Errorf("%s concerns %v and not the %s", id, id.Parts(), want)
		}
	}
}
