package diagnose

import (
	"slices"
	"testing"

	"twoneedles/refrig/car"
)

// What the trade teaches of each pattern (the tables of [USArmy255] and common practice):
// one of these has to be among the members for the car of the case. Low below and high
// above needs two faults on a valve car, a restriction with refrigerant added on top.
func TestPatternsAreWhatTheTradeTeaches(t *testing.T) {
	m := model(t)
	orifice, valve := warmDay(0, 0), warmDay(0, 0)
	valve.Car.Metering = car.ExpansionValve
	for name, c := range map[string]car.Case{"orifice": orifice, "valve": valve} {
		c.Readings = nil
		got, err := m.Patterns(c)
		if err != nil {
			t.Fatal(err)
		}
		if len(got) != 5 {
			t.Fatalf("%s: %d patterns", name, len(got))
		}
		low, high := func() (Band, Band) { k, _ := m.about(c); return k.bands() }()
		for _, p := range got {
			want := map[Group][]car.ConditionID{
				GroupNormal:         {car.Healthy},
				GroupBothLow:        {car.Undercharge},
				GroupBothHigh:       {car.CondenserAirflow, car.Overcharge, car.Air},
				GroupLowHighHighLow: {car.WeakCompressor},
				GroupLowLowHighHigh: {car.Restriction, car.ValveClosed, car.Combination},
			}[p.Group]
			t.Logf("%s %s: %v", name, p.Group, p.Members)
			if !slices.ContainsFunc(p.Members, func(r Ranked) bool { return slices.Contains(want, r.ID) }) {
				t.Errorf("%s, %s: the members are %v, none of %v", name, p.Group, p.Members, want)
			}
			reading := car.Readings{car.Low: {Value: p.Low}, car.High: {Value: p.High}}
			if g := group(reading, low, high); g != p.Group {
				t.Errorf("%s: the reading shown for %s is %s", name, p.Group, g)
			}
			for _, r := range p.Members {
				if r.ID == car.Healthy && p.Group != GroupNormal {
					t.Errorf("%s: healthy is a member of %s", name, p.Group)
				}
			}
		}
	}
	if _, err := m.Patterns(car.Case{}); err == nil {
		t.Error("a case without weather is taken")
	}
}
