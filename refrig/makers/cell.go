package makers

import (
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"twoneedles/refrig/air"
	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// Cell is one row of a maker's table as printed; NaN is a blank.
type Cell struct {
	ID           string
	Ref, Section string // key of the bibliography; document and section
	Maker        string // the first part of ID: left out together
	Table        string // ID without its row number: one car
	Class        string
	Spec         car.Spec // what is said of the car

	AirSource string  // "recirculation", "outside air" or ""
	Doors     string  // as printed
	RPM       float64 // 1/min
	Ambient   float64 // K; of the air at the coil where that is what is printed
	Humidity  float64 // relative, 1
	Minutes   float64 // of running before reading

	Low, High, Vent [2]float64 // Pa gauge, Pa gauge, K: lowest and highest printed
}

// Read parses the tables.
func Read(r io.Reader) ([]Cell, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, err
	}
	at := map[string]int{}
	for i, n := range rows[0] {
		at[n] = i
	}
	var out []Cell
	for n, row := range rows[1:] {
		text := func(name string) string { return strings.TrimSpace(row[at[name]]) }
		bad := error(nil)
		number := func(name string, scale, offset float64) float64 {
			if text(name) == "" {
				return math.NaN()
			}
			v, err := strconv.ParseFloat(text(name), 64)
			if err != nil {
				bad = fmt.Errorf("row %d, %s: %w", n+2, name, err)
			}
			return v*scale + offset
		}
		middle := func(lo, hi float64) float64 { return (lo + hi) / 2 }
		pair := func(name string, scale, offset float64) [2]float64 {
			return [2]float64{number(name+"_min", scale, offset), number(name+"_max", scale, offset)}
		}
		c := Cell{ID: text("id"), Ref: text("ref"), Section: text("section"), Class: text("vehicle_class"),
			AirSource: text("air_source"), Doors: text("doors"), Minutes: number("preload_min", 1, 0),
			Low: pair("low_kPa", 1e3, 0), High: pair("high_kPa", 1e3, 0), Vent: pair("vent_C", 1, 273.15)}
		c.Maker, _, _ = strings.Cut(c.ID, "-")
		if c.Maker == "LEX" { // one house
			c.Maker = "TOY"
		}
		c.Table = c.ID
		if i := strings.LastIndex(c.ID, "-"); i > 0 {
			c.Table = c.ID[:i]
		}
		if text("low_means") == "general statement" { // not of this weather
			c.Low = [2]float64{math.NaN(), math.NaN()}
		}
		c.Ambient = middle(number("ambient_C_min", 1, 273.15), number("ambient_C_max", 1, 273.15))
		c.Humidity = middle(number("rh_min", 0.01, 0), number("rh_max", 0.01, 0))
		if math.IsNaN(c.Ambient) {
			c.Ambient = middle(number("intake_air_C_min", 1, 273.15), number("intake_air_C_max", 1, 273.15))
		}
		if h := middle(number("intake_rh_min", 0.01, 0), number("intake_rh_max", 0.01, 0)); math.IsNaN(c.Humidity) {
			c.Humidity = h
		}
		c.RPM = math.NaN()
		if s := text("rpm"); strings.HasPrefix(s, "idle") {
			c.RPM = 750
		} else if f := strings.Fields(s); len(f) > 0 {
			if c.RPM, err = strconv.ParseFloat(f[0], 64); err != nil {
				bad = fmt.Errorf("row %d, rpm: %w", n+2, err)
			}
		}
		if strings.HasPrefix(text("refrigerant"), "R-") {
			c.Spec.Refrigerant = strings.ReplaceAll(text("refrigerant"), "-", "")
		}
		switch m := text("metering"); {
		case strings.HasPrefix(m, "orifice"):
			c.Spec.Metering = car.OrificeTube
		case strings.HasPrefix(m, "expansion"):
			c.Spec.Metering = car.ExpansionValve
		}
		switch m := text("compressor"); {
		case strings.HasPrefix(m, "variable"):
			c.Spec.Compressor = car.Variable
		case strings.HasPrefix(m, "fixed"):
			c.Spec.Compressor = car.Fixed
		case strings.HasPrefix(m, "electric"):
			c.Spec.Compressor = car.Electric
		}
		if bad != nil {
			return nil, bad
		}
		out = append(out, c)
	}
	return out, nil
}

// Fits reports whether a cell can be computed: it has a weather and a number.
func (c *Cell) Fits() bool {
	for _, y := range c.y() {
		if !math.IsNaN(y) {
			return !math.IsNaN(c.Ambient)
		}
	}
	return false
}

// OfACar reports whether the vehicle is one of those the fleet stands for.
func (c *Cell) OfACar() bool {
	for _, w := range []string{"tractor", "loader", "truck"} {
		if strings.Contains(c.Class, w) {
			return false
		}
	}
	return true
}

// y are the middles in the units of the fit: ln of absolute pressures (at sea level,
// where tables are made), vent in K. A side with one end printed is a limit, not a
// range, and is not fitted.
func (c *Cell) y() [3]float64 {
	mid := func(r [2]float64) float64 { return (r[0] + r[1]) / 2 }
	return [3]float64{math.Log(mid(c.Low) + seaLevel), math.Log(mid(c.High) + seaLevel), mid(c.Vent)}
}

// doubt is the standard deviation, in the units of y, of where the typical car lies
// beside the middle of its printed range: a quarter of the range. A maker prints what
// he accepts, some ±2 standard deviations of it, not a mean. Judgement.
func (c *Cell) doubt() [3]float64 {
	quarter := func(lo, hi float64) float64 { return math.Abs(hi-lo) / 4 }
	return [3]float64{quarter(math.Log(c.Low[0]+seaLevel), math.Log(c.Low[1]+seaLevel)),
		quarter(math.Log(c.High[0]+seaLevel), math.Log(c.High[1]+seaLevel)), quarter(c.Vent[0], c.Vent[1])}
}

const seaLevel = 101325.0

// Test is what a table leaves open, drawn once for all its cells.
type test struct {
	spec       car.Spec
	dew        float64 // K below which the air's dew point lies at most …
	rh         float64 // … and relative humidity where none is printed
	rpm        float64
	recirc     bool
	shut, hood bool
	minutes    float64
}

// drawTest draws what the tester did where the table does not say. Judgement: makers
// test at 1500/min with the blower high; when they say "recirculating" without a word
// on the doors, doors are as often open as shut.
func drawTest(r *fleet.Rand, c *Cell) test {
	t := test{spec: c.Spec, dew: 298.15, rh: 0.35 + 0.3*r.Float64(), rpm: 1500, minutes: 5 + 8*r.Float64()}
	if t.spec.Refrigerant == "" {
		t.spec.Refrigerant = car.R134a // every table here is of the years of R-134a
	}
	t.spec = fleet.Complete(r, t.spec)
	if t.spec.Evaporators == 2 {
		t.spec.Evaporators = 1 // a maker would say so
	}
	if r.Float64() < 0.3 {
		t.rpm = 1000 + 1000*r.Float64()
	}
	t.recirc = r.Float64() < 0.6
	t.shut = r.Float64() < 0.5
	t.hood = r.Float64() < 0.3
	return t
}

// conditions is the test in the weather of a cell.
func (t *test) conditions(c *Cell) cycle.Conditions {
	k := cycle.Conditions{Ambient: c.Ambient, Humidity: c.Humidity, PAtm: seaLevel, RPM: c.RPM, Blower: 1,
		Recirc: t.recirc, DoorsShut: t.shut, Minutes: t.minutes, BonnetShut: t.hood}
	if math.IsNaN(k.Humidity) {
		k.Humidity = math.Min(t.rh, air.PSatWater(t.dew)/air.PSatWater(c.Ambient))
	}
	if math.IsNaN(k.RPM) {
		k.RPM = t.rpm
	}
	switch {
	case strings.HasPrefix(c.AirSource, "recirc"):
		k.Recirc = true
	case strings.HasPrefix(c.AirSource, "outside"):
		k.Recirc = false
	}
	switch {
	case contains(c.Doors, "open"):
		k.DoorsShut = false
	case contains(c.Doors, "closed", "shut"):
		k.DoorsShut = true
	}
	if !math.IsNaN(c.Minutes) && c.Minutes > 0 {
		k.Minutes = c.Minutes
	}
	if !k.DoorsShut {
		k.Minutes = 0
	}
	return k
}

// shows is what a plant shows in the units of the fit. Where the clutch cycles a table
// is read with it in, at the end of its run: [USArmy291] says so of its low side,
// the others are taken to mean the same.
func shows(p *cycle.Plant, k cycle.Conditions) ([3]float64, error) {
	res, err := cycle.Solve(p, cycle.Sound(), k)
	if err != nil {
		return [3]float64{}, err
	}
	low, high := res.Low, res.High
	if res.Cycling && !res.HighCutOut {
		low, high = res.LowSwing[0], res.HighSwing[1]
	}
	return [3]float64{math.Log(low + k.PAtm), math.Log(high + k.PAtm), res.Vent}, nil
}

func contains(s string, words ...string) bool {
	for _, w := range words {
		if strings.Contains(s, w) {
			return true
		}
	}
	return false
}
