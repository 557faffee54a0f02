package cases

import (
	"fmt"
	"io/fs"
	"math"
	"strconv"
	"strings"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// Load reads every scenario (*.txt) of dir, in the order of their names. It
// stops at the first file that is not exactly in the format.
func Load(dir fs.FS) ([]Scenario, error) {
	names, err := fs.Glob(dir, "*.txt")
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("no scenarios: want files *.txt")
	}
	var all []Scenario
	for _, name := range names {
		b, err := fs.ReadFile(dir, name)
		if err != nil {
			return nil, err
		}
		s, err := Parse(strings.TrimSuffix(name, ".txt"), string(b))
		if err != nil {
			return nil, err
		}
		all = append(all, s)
	}
	return all, nil
}

// Parse reads the scenario called name from text. The error names the file and
// what is wrong with it.
func Parse(name, text string) (Scenario, error) {
	sections, err := split(text, "source", "readings", "want")
	if err != nil {
		return Scenario{}, fmt.Errorf("%s.txt: %w", name, err)
	}
	p := parser{s: Scenario{Name: name, Numbers: map[string]Range{}, Patterns: map[car.Quantity]Pattern{}}}
	for i, read := range []func(key, value string) error{p.source, p.reading, p.want} {
		for _, l := range sections[i] {
			if err := read(l.key, l.value); err != nil {
				return Scenario{}, fmt.Errorf("%s.txt: %s: %w", name, l.key, err)
			}
		}
	}
	if err := p.finish(); err != nil {
		return Scenario{}, fmt.Errorf("%s.txt: %w", name, err)
	}
	return p.s, nil
}

type line struct{ key, value string }

// split cuts text into the sections with the given names, in order, and these
// into "key: value" lines. A line that starts with a space continues the value.
func split(text string, names ...string) ([][]line, error) {
	var sections [][]line
	seen := map[string]bool{}
	for l := range strings.Lines(text) {
		l = strings.TrimRight(l, " \t\r\n")
		if name, ok := strings.CutPrefix(l, "-- "); ok {
			n := len(sections)
			if n == len(names) || name != names[n]+" --" {
				return nil, fmt.Errorf("section %q is out of place, want %v in order", l, names)
			}
			sections, seen = append(sections, nil), map[string]bool{}
			continue
		}
		if l == "" {
			continue
		}
		if len(sections) == 0 {
			return nil, fmt.Errorf("%q stands before the first section", l)
		}
		last := &sections[len(sections)-1]
		if l[0] == ' ' && len(*last) > 0 {
			(*last)[len(*last)-1].value += " " + strings.TrimSpace(l)
			continue
		}
		key, value, ok := strings.Cut(l, ": ")
		if !ok || seen[key] {
			return nil, fmt.Errorf("%q is not a new \"key: value\"", l)
		}
		seen[key] = true
		*last = append(*last, line{key, value})
	}
	if len(sections) != len(names) {
		return nil, fmt.Errorf("has %d sections, want %v", len(sections), names)
	}
	return sections, nil
}

type parser struct{ s Scenario }

func (p *parser) source(key, value string) error {
	to, ok := map[string]*string{"row": &p.s.Source.Row, "cites": &p.s.Source.Cites, "where": &p.s.Source.Where,
		"mark": &p.s.Source.Mark, "says": &p.s.Source.Says, "ours": &p.s.Source.Ours}[key]
	if !ok {
		return errKey
	}
	*to = value
	return nil
}

var errKey = fmt.Errorf("unknown key")

// units says in which unit each number is written; the key in the file is
// name_unit, name_unit_min or name_unit_max.
var units = map[string]string{
	"ambient": "C", "rpm": "per_min", "low": "kPa_gauge", "high": "kPa_gauge", "vent": "C",
	"resting": "kPa_gauge", "equalise_time": "s", "cycling": "per_min",
	"vacuum": "kPa_gauge", "rise": "kPa", "pump_time": "s", "hold_time": "s",
	"container": "kPa_gauge", "soak_time": "s", "switch_off": "C", "switch_on": "C",
}

// toSI holds scale and offset of each unit.
var toSI = map[string][2]float64{
	"C": {1, float64(refrig.ZeroCelsius)}, "kPa_gauge": {1000, 0}, "kPa": {1000, 0}, "s": {1, 0}, "per_min": {1, 0},
}

func (p *parser) reading(key, value string) error {
	switch key {
	case "refrigerant":
		return choose(&p.s.Car.Refrigerant, value, map[string]string{"unknown": "", "R134a": car.R134a, "R1234yf": car.R1234yf, "R12": car.R12})
	case "metering":
		return kind(&p.s.Car.Metering, value, car.MeteringOf)
	case "compressor":
		return kind(&p.s.Car.Compressor, value, car.CompressorOf)
	case "humidity":
		return choose(&p.s.HumidityLow, value, map[string]bool{"low": true})
	case "low_means":
		return choose(&p.s.LowMeans, value, map[string]string{"bottom_of_cycle": value})
	case "sight_glass":
		return choose(&p.s.SightGlass, value, map[string]string{"clear": value, "bubbles": value, "foam": value, "none": value})
	}
	if q, ok := strings.CutSuffix(key, "_pattern"); ok {
		return p.pattern(car.Quantity(q), value)
	}
	return p.number(key, value)
}

// kind sets to from a code of package car; the tables write out what it leaves empty.
func kind[K comparable](to *K, value string, of func(string) (K, bool)) error {
	k, ok := of(value)
	if *to = k; value == "unknown" || ok && value != "" {
		return nil
	}
	return fmt.Errorf("unknown value %q", value)
}

// choose sets to from the closed list of what value may be.
func choose[T any](to *T, value string, allowed map[string]T) error {
	v, ok := allowed[value]
	if !ok {
		return fmt.Errorf("unknown value %q", value)
	}
	*to = v
	return nil
}

func (p *parser) number(key, value string) error {
	for name, unit := range units {
		end, ok := strings.CutPrefix(key, name+"_"+unit)
		if !ok {
			continue
		}
		v, err := strconv.ParseFloat(value, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%q is not a number", value)
		}
		v = v*toSI[unit][0] + toSI[unit][1]
		r, ok := p.s.Numbers[name]
		if !ok {
			r = Range{Lo: math.Inf(-1), Hi: math.Inf(1)}
		}
		switch end {
		case "":
			r = Range{Lo: v, Hi: v}
		case "_min":
			r.Lo = v
		case "_max":
			r.Hi = v
		default:
			continue // a longer name: low and low_idle
		}
		if r.Lo > r.Hi {
			return fmt.Errorf("range runs backwards")
		}
		p.s.Numbers[name] = r
		return nil
	}
	return errKey
}

// patternOf are the quantities that may be given in words.
var patternOf = map[car.Quantity]bool{
	car.Low: true, car.High: true, car.Vent: true, car.SuctionLine: true,
	car.Resting: true, car.Cycling: true,
}

func (p *parser) pattern(q car.Quantity, value string) error {
	if !patternOf[q] {
		return errKey
	}
	var pat Pattern
	words := strings.Split(value, " or ")
	if from, to, ok := strings.Cut(value, " to "); ok {
		words, pat.Swing = []string{from, to}, true
	}
	for _, w := range words {
		var l Level
		if err := choose(&l, w, map[string]Level{"vacuum": Vacuum, "low": Low, "normal": Normal, "high": High, "equal": Equal}); err != nil {
			return err
		}
		pat.Levels = append(pat.Levels, l)
	}
	p.s.Patterns[q] = pat
	return nil
}
