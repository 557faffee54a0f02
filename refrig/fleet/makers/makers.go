// Package makers reads makers' published performance tables of sound cars
// (testdata/makers) and turns a cell into cars and weather to solve.
//
// A table leaves most of what decides a reading unsaid: the humidity, the doors,
// sometimes the engine speed, nearly always which compressor and metering device
// the car has. None of it is filled in with a usual value. [Cell.Draw] draws it
// from stated distributions, so that what is not known widens what is expected,
// as it does for a technician with the same table in his hand.
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

// Cell is one row of makers.csv: one weather of one table. SI units, pressures
// gauge; zero or empty where nothing is printed.
type Cell struct {
	ID, Ref, Section string
	Class            string // of the vehicle, as described by the source
	Year             int    // model year, the first of several
	Spec             car.Spec
	Air              string       // "recirculation", "outside air" or ""
	RPM              float64      // 1/min
	Blower           float64      // 0…1
	Doors, Hood      string       // "open", "shut" or ""
	Minutes          float64      // run before the reading
	Ambient          car.Interval // K; the intake air's where that is what is printed
	Humidity         car.Interval // 0…1
	Low, High        car.Interval // Pa
	Vent             car.Interval // K
}

// Table is what the cells of one test on one car have in common: the id without
// its number.
func (c *Cell) Table() string { return c.ID[:strings.LastIndex(c.ID, "-")] }

// Maker groups tables that one house wrote. Lexus is Toyota's; its tables carry
// the same words and numbers.
func (c *Cell) Maker() string {
	m, _, _ := strings.Cut(c.ID, "-")
	if m == "LEX" {
		return "TOY"
	}
	return m
}

// Informs says why a cell may not tell us how big the parts of a car are; it is
// empty for a cell that may.
func (c *Cell) Informs() string {
	switch {
	case strings.Contains(c.Class, "tractor") || strings.Contains(c.Class, "loader") || strings.Contains(c.Class, "truck"):
		return "cab of a machine or heavy truck: other glass, other parts"
	case c.Ref == "CamryText1991":
		return "the publisher's general text, not a maker's table"
	case c.Ambient == (car.Interval{}):
		return "no weather printed"
	case !Closed(c.Low) && !Closed(c.High) && !Closed(c.Vent):
		return "a limit on one side only"
	}
	return ""
}

// Closed reports whether both ends of a range are printed.
func Closed(v car.Interval) bool {
	return v != (car.Interval{}) && !math.IsInf(v.Lo, 0) && !math.IsInf(v.Hi, 0)
}

// Middle is the middle of a closed range.
func Middle(v car.Interval) float64 { return (v.Lo + v.Hi) / 2 }

// Read parses makers.csv. The error names the row and the column.
func Read(r io.Reader) ([]Cell, error) {
	rows, err := csv.NewReader(r).ReadAll()
	if err != nil {
		return nil, err
	}
	at := map[string]int{}
	for i, name := range rows[0] {
		at[name] = i
	}
	for _, name := range columns {
		if _, ok := at[name]; !ok {
			return nil, fmt.Errorf("makers: no column %s", name)
		}
	}
	var cells []Cell
	for _, row := range rows[1:] {
		c, err := cell(func(name string) string { return row[at[name]] })
		if err != nil {
			return nil, fmt.Errorf("makers: %s: %w", row[at["id"]], err)
		}
		cells = append(cells, c)
	}
	return cells, nil
}

var columns = []string{"id", "ref", "section", "vehicle_class", "model_year", "refrigerant", "metering", "compressor", "air_source", "rpm",
	"blower", "doors", "hood", "preload_min", "ambient_C_min", "ambient_C_max", "rh_min", "rh_max", "intake_air_C_min", "intake_air_C_max",
	"low_kPa_min", "low_kPa_max", "high_kPa_min", "high_kPa_max", "vent_C_min", "vent_C_max"}

func cell(get func(string) string) (Cell, error) {
	c := Cell{ID: get("id"), Ref: get("ref"), Section: get("section"), Class: get("vehicle_class"), Air: get("air_source")}
	var failed error
	num := func(text, column string) float64 {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil && failed == nil {
			failed = fmt.Errorf("%s: %w", column, err)
		}
		return v
	}
	span := func(name string, scale, offset float64) (v car.Interval) {
		lo, hi := get(name+"_min"), get(name+"_max")
		if lo == "" && hi == "" {
			return v
		}
		v = car.Interval{Lo: math.Inf(-1), Hi: math.Inf(1)}
		if lo != "" {
			v.Lo = num(lo, name)*scale + offset
		}
		if hi != "" {
			v.Hi = num(hi, name)*scale + offset
		}
		if v.Lo > v.Hi && failed == nil {
			failed = fmt.Errorf("%s: %s is above %s", name, lo, hi)
		}
		return v
	}
	if y := get("model_year"); len(y) >= 4 {
		c.Year = int(num(y[:4], "model_year"))
	}
	c.Ambient = span("ambient_C", 1, 273.15)
	if c.Ambient == (car.Interval{}) {
		c.Ambient = span("intake_air_C", 1, 273.15)
	}
	c.Humidity = span("rh", 0.01, 0)
	c.Low, c.High = span("low_kPa", 1e3, 0), span("high_kPa", 1e3, 0)
	c.Vent = span("vent_C", 1, 273.15)
	if m := get("preload_min"); m != "" {
		c.Minutes = num(m, "preload_min")
	}
	c.RPM = speed(get("rpm"), Middle(c.Ambient))
	c.Doors, c.Hood = openOrShut(get("doors")), openOrShut(get("hood"))
	switch b := get("blower"); {
	case strings.HasPrefix(b, "speed 2"):
		c.Blower = 0.5 // of four. judgement
	default: // high, max, or not said: these tests are run at the highest
		c.Blower = 1
	}
	c.Spec.Refrigerant = strings.ReplaceAll(get("refrigerant"), "-", "")
	switch m := get("metering"); {
	case strings.HasPrefix(m, "expansion"):
		c.Spec.Metering = car.ExpansionValve
	case strings.HasPrefix(m, "orifice"):
		c.Spec.Metering = car.OrificeTube
	}
	switch k := get("compressor"); {
	case strings.HasPrefix(k, "variable"):
		c.Spec.Compressor = car.Variable
	case strings.HasPrefix(k, "electric"):
		c.Spec.Compressor = car.Electric
	}
	return c, failed
}

// speed reads "1000", "idle (specified)" and "2500 (2000 at 40 C)".
func speed(text string, ambient float64) float64 {
	first, rest, more := strings.Cut(text, " (")
	if more && strings.HasPrefix(rest, "2000 at 40") && ambient >= 313.15 {
		return 2000
	}
	if first == "idle" {
		return idle
	}
	v, err := strconv.ParseFloat(first, 64)
	if err != nil {
		return 0
	}
	return v
}

const idle = 750 // 1/min; a warm engine with the clutch in. common practice

func openOrShut(text string) string {
	switch {
	case strings.Contains(text, "open"):
		return "open"
	case strings.Contains(text, "closed") || strings.Contains(text, "shut"):
		return "shut"
	}
	return ""
}

// Test is what a table does not say, drawn once for all its cells.
type Test struct {
	Spec     car.Spec
	humidity float64 // where in its range
	rpm      float64
	recirc   bool
	doors    bool // shut
	hood     bool // shut
	minutes  float64
}

// Draw draws what c's table leaves out. Judgement, by what makers' texts ask for
// where they do say (makers_facts.csv): most tests recirculate at full blower and
// 1500/min, some at idle; doors are as often shut as open; humidity 30 to 70 %.
func (c *Cell) Draw(r *fleet.Rand) Test {
	t := Test{Spec: c.Spec, humidity: r.Float64(), minutes: 5 + 10*r.Float64()}
	if t.Spec.Refrigerant == "" {
		// Cars changed over in 1992 to 1994 and again from 2014 to 2021. memory
		t.Spec.Refrigerant = car.R134a
		if c.Year > 0 && c.Year < 1993 {
			t.Spec.Refrigerant = car.R12
		}
	}
	if strings.HasPrefix(c.Class, "small") {
		t.Spec.Size = car.SizeSmall
	} else if strings.HasPrefix(c.Class, "large") {
		t.Spec.Size = car.SizeLarge
	}
	switch u := r.Float64(); {
	case u < 0.6:
		t.rpm = 1500
	case u < 0.8:
		t.rpm = idle
	default:
		t.rpm = 2000
	}
	t.recirc = r.Float64() < 0.75
	t.doors = r.Float64() < 0.5
	t.hood = r.Float64() < 0.2 // gauges are coupled under it
	return t
}

// Conditions is the weather and running of c, with t for what c does not say. A
// printed range of temperature or humidity stands for its middle, as the middle of
// the printed pressures does.
func (t *Test) Conditions(c *Cell) cycle.Conditions {
	k := cycle.Conditions{Ambient: Middle(c.Ambient), PAtm: 101325, RPM: c.RPM, Blower: c.Blower,
		Recirc: c.Air == "recirculation", DoorsShut: c.Doors == "shut", BonnetShut: c.Hood == "shut", Minutes: c.Minutes}
	if Closed(c.Humidity) {
		k.Humidity = Middle(c.Humidity)
	} else {
		// Dew points past 25 °C are rare outdoors, and a workshop is outdoors.
		k.Humidity = math.Min(0.3+0.4*t.humidity, air.PSatWater(298.15)/air.PSatWater(k.Ambient))
	}
	if c.RPM == 0 {
		k.RPM = t.rpm
	}
	if c.Air == "" {
		k.Recirc = t.recirc
	}
	if c.Doors == "" {
		k.DoorsShut = t.doors
	}
	if c.Hood == "" {
		k.BonnetShut = t.hood
	}
	if k.Minutes == 0 {
		k.Minutes = t.minutes
	}
	return k
}
