package cases_test

import (
	"os"
	"slices"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/makers"
)

// Makers' tables that nothing was fitted to (heldout.csv), found and written down before
// the model was asked. Each cell is typed as its table has it and no more: at the middle
// of the printed ranges, and at their four corners, which a sound car may show as well. No
// car of them may be accused: no fault may be named, nor have 80 % beside a question. How
// many have healthy first, or among the first two, is printed and held as a regression.
func TestHeldOutTablesOfSoundCars(t *testing.T) {
	f, err := os.Open("../../../testdata/makers/heldout.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cells, err := makers.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	tried, first, second := 0, 0, 0
	for i := range cells {
		c := &cells[i]
		if _, ok := refrig.Ref(c.Ref); !ok {
			t.Errorf("%s: %q is not in refs.json", c.ID, c.Ref)
		}
		k, ok := c.Case()
		if !ok {
			t.Errorf("%s cannot be typed", c.ID)
			continue
		}
		r := accused(t, m, c.ID, k)
		tried++
		switch {
		case r.Ranking[0].ID == car.Healthy:
			first++
		case r.Ranking[1].ID == car.Healthy:
			second++
		default:
			t.Logf("%s: first are %v", c.ID, r.Ranking[:3])
		}
		for _, low := range c.Low {
			for _, high := range c.High {
				k.Readings[car.Low], k.Readings[car.High] = car.Reading{Value: low}, car.Reading{Value: high}
				accused(t, m, c.ID, k)
			}
		}
	}
	t.Logf("of %d sound cars healthy is first in %d, among the first two in %d", tried, first, first+second)
	if tried != 34 || first+second < 34 {
		t.Errorf("healthy is among the first two in %d of %d, was in 34 of 34 (regression)", first+second, tried)
	}
}

// accused answers k, a sound car, and complains where a fault has 80 %.
func accused(t *testing.T, m *diagnose.Model, id string, k car.Case) diagnose.Report {
	t.Helper()
	r, err := m.Answer(k)
	if err != nil {
		t.Fatalf("%s: %v", id, err)
	}
	if top := r.Ranking[0]; top.ID != car.Healthy && top.Probability >= diagnose.NamedAt {
		t.Errorf("%s (%g, %g kPa): %s has %.2f", id, k.Readings[car.Low].Value/1e3, k.Readings[car.High].Value/1e3, top.ID, top.Probability)
	}
	return r
}

// No table held out is one that the fleet was fitted to.
func TestHeldOutIsHeldOut(t *testing.T) {
	fitted := map[string]bool{}
	for _, row := range table(t, "../makers/makers.csv") {
		fitted[row["section"]] = true
	}
	held := table(t, "../makers/heldout.csv")
	for id, row := range held {
		if fitted[row["section"]] {
			t.Errorf("%s: the fleet was fitted to %s", id, row["section"])
		}
	}
}

// Faulty cars held out likewise (cases3.csv), typed with all that is printed and the page
// takes. None may be named wrongly. Held as a regression: the source's cause among the
// first two in 6 of 7; where the source names the valve and a blocked drier shows the same
// needles, either counts, without which it is 5.
func TestHeldOutFaults(t *testing.T) {
	m, err := diagnose.Load()
	if err != nil {
		t.Fatal(err)
	}
	met, strict, tried := 0, 0, 0
	answered(t, m, "cases3", func(id string, causes []string, r diagnose.Report) {
		tried++
		if amongFirst(r, causes) {
			met++
		} else {
			t.Logf("%s: %v, first are %v", id, causes, r.Ranking[:3])
		}
		if amongFirst(r, slices.DeleteFunc(slices.Clone(causes), func(c string) bool { return c == string(car.Restriction) })) {
			strict++
		}
	})
	t.Logf("the source's cause is among the first two in %d of %d, in %d if a blockage is no valve", met, tried, strict)
	if tried != 7 || met < 6 {
		t.Errorf("the source's cause is among the first two in %d of %d, was in 6 of 7 (regression)", met, tried)
	}
}
