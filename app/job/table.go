package job

import (
	"cmp"
	"math"
	"slices"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// TableRow is one line of the maker's table of this car, as typed.
type TableRow struct {
	Ambient string `json:"ambient,omitempty"`
	Low     string `json:"low,omitempty"` // a range, as the other two
	High    string `json:"high,omitempty"`
	Vent    string `json:"vent,omitempty"`
}

// MakerRow is what the table says for one outside temperature; what it does not say is the
// zero interval.
type MakerRow struct {
	Ambient         float64      // K
	Low, High, Vent car.Interval // Pa gauge, K
}

// MostRows is how many lines the table may have: makers print five to ten.
const MostRows = 12

// What the table is trusted for, K. Judgement: between two lines 15 K apart (27 °F) a
// straight line is within what makers' own ranges allow; a few degrees beyond the ends it
// says something yet, further on nothing.
const (
	mostStep   = 15.0
	mostBeyond = 6.0
)

// Codes of [Error] from the table.
const (
	TableNoAmbient = "table_no_ambient" // {n}
	TableGap       = "table_gap"        // {n}: a value that other lines have
	TableNoRange   = "table_no_range"   // {n}: one number, or none at all
	TableTwice     = "table_twice"      // {ambient}
	TableWide      = "table_wide"       // {from} {to} {limit}
	TableFalls     = "table_falls"      // {from} {to}
	TableFar       = "table_far"        // {ambient} {first} {last}: of the weather, not of the table
)

func kelvin(t float64) present.Amount { return present.Amount{Value: t, Kind: unit.Temperature} }

// MakerTable reads the table, by rising temperature. The error is an *[Error] or a
// *[present.Problem] and refuses all of it: a table that is wrong in one place was copied
// wrong, and nobody knows where else.
func (j Job) MakerTable() ([]MakerRow, error) {
	var rows []MakerRow
	for i, typed := range j.Table {
		if typed == (TableRow{}) {
			continue
		}
		row, err := j.makerRow(typed, i+1)
		if err != nil {
			return nil, err
		}
		rows = append(rows, row)
	}
	slices.SortStableFunc(rows, func(a, b MakerRow) int { return cmp.Compare(a.Ambient, b.Ambient) })
	for i := range rows {
		if i == 0 {
			continue
		}
		a, b := rows[i-1], rows[i]
		between := map[string]any{"from": kelvin(a.Ambient), "to": kelvin(b.Ambient), "limit": present.Amount{Value: mostStep, Kind: unit.TempDiff}}
		switch {
		case a.Ambient == b.Ambient:
			return nil, &Error{What: TableTwice, Args: map[string]any{"ambient": kelvin(a.Ambient)}}
		case (a.Low == car.Interval{}) != (b.Low == car.Interval{}), (a.High == car.Interval{}) != (b.High == car.Interval{}), (a.Vent == car.Interval{}) != (b.Vent == car.Interval{}):
			return nil, &Error{What: TableGap, Args: between}
		case b.Ambient-a.Ambient > mostStep:
			return nil, &Error{What: TableWide, Args: between}
		case b.High.Middle() < a.High.Middle(), b.Low.Hi < a.Low.Lo, b.Vent.Hi < a.Vent.Lo:
			// The low side of a compressor that controls itself hardly moves.
			return nil, &Error{What: TableFalls, Args: between}
		}
	}
	return rows, nil
}

func (j Job) makerRow(typed TableRow, n int) (row MakerRow, err error) {
	r := &reader{units: j.Units}
	at := map[string]any{"n": n}
	e, ok := r.optional(present.Ambient, typed.Ambient)
	if !ok && len(r.problems) == 0 {
		return row, &Error{What: TableNoAmbient, Args: at}
	}
	row.Ambient = e.Value
	for _, c := range []struct {
		id   present.FieldID
		text string
		to   *car.Interval
	}{{present.ServiceLow, typed.Low, &row.Low}, {present.ServiceHigh, typed.High, &row.High}, {present.FieldID(car.Vent), typed.Vent, &row.Vent}} {
		e, ok := r.optional(c.id, c.text)
		if ok && !e.Swing {
			return row, &Error{What: TableNoRange, Args: at}
		}
		if ok {
			*c.to = car.Interval{Lo: e.Lo, Hi: e.Hi}
		}
	}
	for i := range r.problems {
		if p := &r.problems[i]; p.Level == present.Refused || p.Code == present.PerhapsUnit {
			return row, p
		}
	}
	if row.Low == (car.Interval{}) && row.High == (car.Interval{}) {
		return row, &Error{What: TableNoRange, Args: at}
	}
	return row, nil
}

// MakerAt is what the rows, by rising temperature, say for an outside temperature, along
// straight lines. beyond is by how much that lies outside them, K: there the next two lines
// are drawn on, and whoever shows it must say so. Too far out the error is an *[Error].
func MakerAt(rows []MakerRow, ambient float64) (row MakerRow, beyond float64, err error) {
	first, last := rows[0], rows[len(rows)-1]
	beyond = math.Max(0, math.Max(first.Ambient-ambient, ambient-last.Ambient))
	if beyond > mostBeyond {
		return row, beyond, &Error{What: TableFar, Args: map[string]any{"ambient": kelvin(ambient), "first": kelvin(first.Ambient), "last": kelvin(last.Ambient)}}
	}
	row = first
	row.Ambient = ambient
	if len(rows) == 1 {
		return row, beyond, nil
	}
	i := 1
	for i < len(rows)-1 && rows[i].Ambient < ambient {
		i++
	}
	a, b := rows[i-1], rows[i]
	t := (ambient - a.Ambient) / (b.Ambient - a.Ambient)
	line := func(a, b car.Interval) car.Interval {
		lo, hi := a.Lo+t*(b.Lo-a.Lo), a.Hi+t*(b.Hi-a.Hi)
		return car.Interval{Lo: min(lo, hi), Hi: max(lo, hi)} // ranges that narrow may cross beyond the table
	}
	return MakerRow{Ambient: ambient, Low: line(a.Low, b.Low), High: line(a.High, b.High), Vent: line(a.Vent, b.Vent)}, beyond, nil
}

// maker puts the table's figures for the weather of the case where none were typed.
func (j Job) maker(c *car.Case) {
	rows, err := j.MakerTable()
	if err != nil || len(rows) == 0 || c.Weather.Ambient == 0 {
		return // said where the table is typed
	}
	row, _, err := MakerAt(rows, c.Weather.Ambient)
	if err != nil {
		return
	}
	if c.Service.Low == (car.Interval{}) {
		c.Service.Low = row.Low
	}
	if c.Service.High == (car.Interval{}) {
		c.Service.High = row.High
	}
}
