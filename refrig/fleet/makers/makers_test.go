package makers_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/fleet/makers"
	"twoneedles/refrig/reftest"
)

func read(t *testing.T) []makers.Cell {
	t.Helper()
	f, err := os.Open(filepath.Join(reftest.Root(t), "testdata", "makers", "makers.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	cells, err := makers.Read(f)
	if err != nil {
		t.Fatal(err)
	}
	return cells
}

// What is printed can be: a low side below the high side, the vent no colder than
// the coil can make it and no warmer than outside, each table's rows from cool to
// hot, every source in the bibliography.
func TestTablesAreSane(t *testing.T) {
	cells := read(t)
	if len(cells) != 44 {
		t.Errorf("%d cells, 44 were copied", len(cells))
	}
	for i := range cells {
		c := &cells[i]
		if _, ok := refrig.Ref(c.Ref); !ok {
			t.Errorf("%s: %s is not in the bibliography", c.ID, c.Ref)
		}
		if makers.Closed(c.Low) && makers.Closed(c.High) && c.Low.Hi >= c.High.Lo {
			t.Errorf("%s: low side %v reaches the high side %v", c.ID, c.Low, c.High)
		}
		if makers.Closed(c.High) && c.Ambient != (car.Interval{}) {
			// A condenser gives its heat to the air: it condenses above it.
			if sat := saturation(t, c, makers.Middle(c.High)); sat < makers.Middle(c.Ambient)+5 {
				t.Errorf("%s: condenses at %.0f K in air of %.0f K", c.ID, sat, makers.Middle(c.Ambient))
			}
		}
		if makers.Closed(c.Vent) {
			if c.Ambient != (car.Interval{}) && c.Vent.Lo > c.Ambient.Hi {
				t.Errorf("%s: vent %v warmer than outside", c.ID, c.Vent)
			}
			// The coil boils no colder than the gas it feeds: 30 kPa of suction
			// line is more than any of our cars loses.
			if makers.Closed(c.Low) {
				if sat := saturation(t, c, c.Low.Lo); c.Vent.Hi < sat-1 {
					t.Errorf("%s: vent at most %.1f K, the gauge says %.1f K", c.ID, c.Vent.Hi, sat)
				}
			}
		}
	}
}

// saturation is the temperature to gauge pressure p of the cell's refrigerant; R-134a
// where none is printed, for a bound only.
func saturation(t *testing.T, c *makers.Cell, p float64) float64 {
	t.Helper()
	id := c.Spec.Refrigerant
	if id == "" {
		id = car.R134a
	}
	fl, err := fast.Load(id)
	if err != nil {
		t.Fatal(err)
	}
	return fl.TSat(p + 101325)
}

func TestRowsOfATableGoUpWithTheWeather(t *testing.T) {
	type last struct{ ambient, high float64 }
	seen := map[string]last{}
	cells := read(t)
	for i := range cells {
		c := &cells[i]
		if !makers.Closed(c.High) || c.Ambient == (car.Interval{}) {
			continue
		}
		now := last{makers.Middle(c.Ambient), makers.Middle(c.High)}
		if was, ok := seen[c.Table()]; ok && !(now.ambient > was.ambient && now.high > was.high) {
			t.Errorf("%s: %.1f K and %.0f Pa after %.1f K and %.0f Pa", c.ID, now.ambient, now.high, was.ambient, was.high)
		}
		seen[c.Table()] = now
	}
}

// What a cell says is kept, what it does not say is drawn.
func TestConditions(t *testing.T) {
	r := fleet.NewRand(1)
	cells := read(t)
	for i := range cells {
		c := &cells[i]
		if c.Informs() != "" {
			continue
		}
		var rh [2]float64
		for k := range 40 {
			test := c.Draw(r)
			w := test.Conditions(c)
			if k == 0 {
				rh = [2]float64{w.Humidity, w.Humidity}
			}
			rh[0], rh[1] = math.Min(rh[0], w.Humidity), math.Max(rh[1], w.Humidity)
			if c.RPM > 0 && w.RPM != c.RPM || !(w.RPM >= 600 && w.RPM <= 2500) {
				t.Errorf("%s: speed %v, printed %v", c.ID, w.RPM, c.RPM)
			}
			if c.Doors == "open" && w.DoorsShut || c.Air == "outside air" && w.Recirc {
				t.Errorf("%s: %+v", c.ID, w)
			}
			if !(w.Humidity > 0.1 && w.Humidity <= 0.9) {
				t.Errorf("%s: humidity %v", c.ID, w.Humidity)
			}
			if c.Spec.Metering != car.MeteringUnknown && test.Spec.Metering != c.Spec.Metering {
				t.Errorf("%s: metering %v", c.ID, test.Spec.Metering)
			}
		}
		if spread := rh[1] - rh[0]; makers.Closed(c.Humidity) != (spread == 0) {
			t.Errorf("%s: humidity spread %v, printed %v", c.ID, spread, c.Humidity)
		}
	}
}

// Where the source prints psi besides, the two agree. The printed figures are
// rounded to a psi, some go by way of kgf/cm²: 1 psi and 2 %.
func TestUnitsAgreeWithThePrintedOnes(t *testing.T) {
	f, err := os.Open(filepath.Join(reftest.Root(t), "testdata", "makers", "makers.csv"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	note := len(rows[0]) - 1
	printed := regexp.MustCompile(`psi ([\d.]+)-([\d.]+) / ([\d.]+)-([\d.]+)`)
	cells := read(t)
	seen := 0
	for i := range cells {
		m := printed.FindStringSubmatch(rows[i+1][note])
		if m == nil {
			continue
		}
		seen++
		var psi [4]float64
		for k := range psi {
			if psi[k], err = strconv.ParseFloat(m[k+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		if psi[0] > psi[2] { // high side printed first
			psi[0], psi[1], psi[2], psi[3] = psi[2], psi[3], psi[0], psi[1]
		}
		for k, got := range []float64{cells[i].Low.Lo, cells[i].Low.Hi, cells[i].High.Lo, cells[i].High.Hi} {
			got /= 6894.757
			reftest.Close(t, cells[i].ID, got, psi[k], 1+0.02*psi[k], "rounding to a psi, and by way of kgf/cm²")
		}
	}
	if seen < 6 {
		t.Errorf("%d rows with psi beside kPa, there are at least 6", seen)
	}
}
