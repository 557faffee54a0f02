package learn

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// Job is one confirmed car.
type Job struct {
	Case  car.Case
	Found car.ConditionID
	After bool // sound, read after a repair that was proved
}

// Refusal says why a line of a file was not taken.
type Refusal struct {
	File  string
	Line  int    // the heading is line 1
	Field string // "" where it is the line as a whole
	Err   error
}

func (r *Refusal) Error() string {
	if r.Field == "" {
		return fmt.Sprintf("%s:%d: %v", r.File, r.Line, r.Err)
	}
	return fmt.Sprintf("%s:%d: %s: %v", r.File, r.Line, r.Field, r.Err)
}

func (r *Refusal) Unwrap() error { return r.Err }

// Limits of a file. Judgement: a shop of ten bays fills a hundredth of it in a year.
const (
	MostLines = 200_000
	mostBytes = 64 << 20
	mostField = 64 // characters
)

// Columns are the headings a file may have.
func Columns() []string {
	return []string{"month", "refrigerant", "metering", "compressor", "outside_C", "humidity_percent", "altitude_m", "rpm",
		"low_kPa", "high_kPa", "vent_C", "found", "after"}
}

// Reader reads any number of files and knows what it has seen.
type Reader struct {
	seen map[string]string // line → where it was first
}

// NewReader returns a reader that has seen nothing.
func NewReader() *Reader { return &Reader{map[string]string{}} }

// Read reads one file. Lines it cannot take come back as refusals, the rest as jobs.
//
// Errors: a file that cannot be read at all, has a heading that is none, or is too long.
func (rd *Reader) Read(name string, r io.Reader) (jobs []Job, refused []*Refusal, err error) {
	limited := &io.LimitedReader{R: r, N: mostBytes}
	c := csv.NewReader(limited)
	c.ReuseRecord, c.TrimLeadingSpace = true, true
	head, err := c.Read()
	if err != nil {
		return nil, nil, fmt.Errorf("%s: heading: %w", name, err)
	}
	at := map[string]int{}
	for i, h := range head {
		if h = strings.TrimSpace(strings.TrimPrefix(h, "\ufeff")); !slices.Contains(Columns(), h) {
			return nil, nil, fmt.Errorf("%s: column %.40q is none of %s", name, h, strings.Join(Columns(), ", "))
		}
		if _, twice := at[h]; twice {
			return nil, nil, fmt.Errorf("%s: two columns %q", name, h)
		}
		at[h] = i
	}
	for _, must := range []string{"outside_C", "found"} {
		if _, ok := at[must]; !ok {
			return nil, nil, fmt.Errorf("%s: no column %q", name, must)
		}
	}
	for {
		row, err := c.Read()
		if errors.Is(err, io.EOF) {
			if limited.N == 0 {
				return jobs, refused, fmt.Errorf("%s: more than %d MB", name, mostBytes>>20)
			}
			return jobs, refused, nil
		}
		if err != nil {
			var p *csv.ParseError
			if !errors.As(err, &p) {
				return jobs, refused, fmt.Errorf("%s: %w", name, err)
			}
			refused = append(refused, &Refusal{name, p.Line, "", p.Err})
			if errors.Is(p.Err, csv.ErrFieldCount) {
				continue
			}
			return jobs, refused, nil // a broken quotation: nothing after it can be told apart
		}
		line, _ := c.FieldPos(0)
		if line > MostLines {
			return jobs, refused, fmt.Errorf("%s: more than %d lines", name, MostLines)
		}
		get := func(column string) string {
			if i, ok := at[column]; ok {
				return strings.TrimSpace(row[i])
			}
			return ""
		}
		j, field, err := rd.job(get)
		if err == nil {
			key := keyOf(get)
			if first, twice := rd.seen[key]; twice {
				err = fmt.Errorf("the same as %s", first)
			} else {
				rd.seen[key] = fmt.Sprintf("%s:%d", name, line)
			}
		}
		if err != nil {
			refused = append(refused, &Refusal{name, line, field, err})
			continue
		}
		jobs = append(jobs, j)
	}
}

func keyOf(get func(string) string) string {
	var b strings.Builder
	for _, c := range Columns() {
		b.WriteString(get(c))
		b.WriteByte(0)
	}
	return b.String()
}

// aMonth tells whether s is a month of our time like 2026-07.
func aMonth(s string) bool {
	t, err := time.Parse("2006-01", s)
	return err == nil && t.Year() >= 1900 && t.Year() < 2100
}

// job reads one line; field is the one that err is about.
func (rd *Reader) job(get func(string) string) (j Job, field string, err error) {
	for _, c := range Columns() {
		if len(get(c)) > mostField {
			return j, c, fmt.Errorf("longer than %d characters", mostField)
		}
	}
	if s := get("month"); s != "" && !aMonth(s) {
		return j, "month", fmt.Errorf("%q is no month like 2026-07", s)
	}
	k := &j.Case
	k.Readings = car.Readings{}
	known := func(column string, list []string) (string, error) {
		s := get(column)
		if !slices.Contains(list, s) {
			return "", fmt.Errorf("%q is none of %q", s, list)
		}
		return s, nil
	}
	if k.Car.Refrigerant, err = known("refrigerant", car.Refrigerants()); err != nil {
		return j, "refrigerant", err
	}
	code, err := known("metering", car.Meterings())
	if err != nil {
		return j, "metering", err
	}
	k.Car.Metering, _ = car.MeteringOf(code)
	if code, err = known("compressor", car.Compressors()); err != nil {
		return j, "compressor", err
	}
	k.Car.Compressor, _ = car.CompressorOf(code)

	// What is empty keeps the usual assumption, and is not known.
	outside, given, err := number(get("outside_C"))
	if err == nil && !given {
		err = errors.New("missing")
	}
	if err != nil {
		return j, "outside_C", err
	}
	k.Weather.Ambient = outside + 273.15
	humidity, given, err := number(get("humidity_percent"))
	if err != nil {
		return j, "humidity_percent", err
	}
	if k.Weather.Humidity, k.Weather.HumidityKnown = humidity/100, given; !given {
		k.Weather.Humidity = 0.5
	}
	if k.Weather.Altitude, _, err = number(get("altitude_m")); err != nil {
		return j, "altitude_m", err
	}
	if k.Running.RPM, k.Running.RPMKnown, err = number(get("rpm")); err != nil {
		return j, "rpm", err
	}
	if !k.Running.RPMKnown {
		k.Running.RPM = 1500
	}
	k.Running.Blower = 1
	for _, f := range []struct {
		column string
		q      car.Quantity
	}{{"low_kPa", car.Low}, {"high_kPa", car.High}, {"vent_C", car.Vent}} {
		r, given, err := reading(get(f.column))
		if err != nil {
			return j, f.column, err
		}
		if !given {
			continue
		}
		if f.q.Info().Kind == unit.GaugePressure {
			r.Value, r.Lo, r.Hi = 1e3*r.Value, 1e3*r.Lo, 1e3*r.Hi
		} else if r.Value += 273.15; r.Swing {
			return j, f.column, errors.New("a temperature does not swing")
		}
		k.Readings[f.q] = r
	}
	if j.Found = car.ConditionID(get("found")); car.Index(j.Found) < 0 {
		return j, "found", fmt.Errorf("%q is no condition", get("found"))
	}
	switch s := get("after"); s {
	case "":
	case "yes":
		if j.After = true; j.Found != car.Healthy {
			return j, "after", errors.New("a car read after a proved repair is healthy")
		}
	default:
		return j, "after", fmt.Errorf("%q is neither yes nor empty", s)
	}
	if err := diagnose.Check(*k); err != nil {
		return j, "", err
	}
	return j, "", nil
}

// number reads a finite decimal number with a point; given is false for an empty field.
func number(s string) (v float64, given bool, err error) {
	if s == "" {
		return 0, false, nil
	}
	if v, err = strconv.ParseFloat(s, 64); err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
		return 0, false, fmt.Errorf("%q is no number", s)
	}
	return v, true, nil
}

// reading reads a number, or the two ends of a swing.
func reading(s string) (r car.Reading, given bool, err error) {
	lo, hi, swings := strings.Cut(s, "/")
	if !swings {
		r.Value, given, err = number(s)
		return r, given, err
	}
	var okLo, okHi bool
	if r.Lo, okLo, err = number(lo); err != nil {
		return r, false, err
	}
	if r.Hi, okHi, err = number(hi); err != nil {
		return r, false, err
	}
	if !okLo || !okHi || r.Hi < r.Lo {
		return r, false, fmt.Errorf("%q is no swing from low to high", s)
	}
	r.Swing, r.Value = true, (r.Lo+r.Hi)/2
	return r, true, nil
}
