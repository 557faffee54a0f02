package job

import (
	"errors"
	"math"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

func tabled(rows ...TableRow) Job {
	j := New(time.Now(), unit.US())
	j.Table = rows
	return j
}

// A table is refused as a whole, with where it is wrong.
func TestTablesThatAreWrong(t *testing.T) {
	good := TableRow{"70", "25-35", "140-180", "40-45"}
	for name, k := range map[string]struct {
		row  TableRow
		want string
	}{
		"no temperature":       {TableRow{"", "28-38", "160-200", "42-47"}, TableNoAmbient},
		"one number":           {TableRow{"80", "30", "160-200", "42-47"}, TableNoRange},
		"nothing":              {TableRow{"80", "", "", ""}, TableNoRange},
		"the same temperature": {TableRow{"70", "28-38", "160-200", "42-47"}, TableTwice},
		"a gap":                {TableRow{"80", "28-38", "", "42-47"}, TableGap},
		"a gap at the vent":    {TableRow{"80", "28-38", "160-200", ""}, TableGap},
		"too far":              {TableRow{"98", "28-38", "160-200", "42-47"}, TableWide},
		"high side falls":      {TableRow{"80", "28-38", "120-150", "42-47"}, TableFalls},
		"low side falls":       {TableRow{"80", "10-20", "160-200", "42-47"}, TableFalls},
		"vent falls":           {TableRow{"80", "28-38", "160-200", "30-34"}, TableFalls},
	} {
		var e *Error
		if _, err := tabled(good, k.row).MakerTable(); !errors.As(err, &e) || e.What != k.want {
			t.Errorf("%s: %v, want %s", name, err, k.want)
		}
	}
	for name, row := range map[string]TableRow{
		"no number":       {"warm", "28-38", "160-200", "42-47"},
		"beyond a gauge":  {"80", "28-38", "160-9000", "42-47"},
		"in another unit": {"80", "190-260", "1100-1400", "42-47"},
	} {
		var p *present.Problem
		if _, err := tabled(good, row).MakerTable(); !errors.As(err, &p) {
			t.Errorf("%s: %v", name, err)
		}
		c, _ := tabled(good, row).Case()
		if c.Service != (car.ServiceFigures{}) {
			t.Errorf("%s: half of a wrong table is used", name)
		}
	}
	if rows, err := tabled(good, TableRow{}, TableRow{"85", "24-34", "170-220", "44-49"}).MakerTable(); err != nil || len(rows) != 2 {
		t.Errorf("an empty line and a low side that hardly moves: %v %v", rows, err)
	}
}

// Between lines it is drawn straight, beyond the ends a few degrees on, then not at all.
// By hand: half-way from 70 to 90 °F.
func TestTableAcrossTheWeather(t *testing.T) {
	j := tabled(TableRow{"90", "29-39", "200-240", "44-52"}, TableRow{"70", "25-35", "140-180", "40-46"})
	rows, err := j.MakerTable()
	if err != nil {
		t.Fatal(err)
	}
	f := unit.Fahrenheit.ToSI
	psi := func(x float64) float64 { return x * unit.PaPerPSI }
	for _, k := range []struct{ at, low, high, vent, beyond float64 }{
		{80, 27, 170, 42, 0}, {70, 25, 140, 40, 0}, {90, 29, 200, 44, 0}, {100, 31, 230, 46, 10}, {60, 23, 110, 38, 10},
	} {
		row, beyond, err := MakerAt(rows, f(k.at))
		for _, x := range []struct{ got, want, off float64 }{
			{row.Low.Lo, psi(k.low), 1}, {row.High.Lo, psi(k.high), 1}, {row.Vent.Lo, f(k.vent), 1e-6}, {beyond, k.beyond / 1.8, 1e-6},
		} {
			if err != nil || math.Abs(x.got-x.want) > x.off {
				t.Errorf("%g °F: %g, want %g (%v)", k.at, x.got, x.want, err)
			}
		}
	}
	for _, far := range []float64{58, 102} {
		var e *Error
		if _, _, err := MakerAt(rows, f(far)); !errors.As(err, &e) || e.What != TableFar {
			t.Errorf("%g °F: %v", far, err)
		}
	}
	one, _ := tabled(TableRow{"80", "28-38", "", ""}).MakerTable()
	if row, beyond, err := MakerAt(one, f(85)); err != nil || row.Low != one[0].Low || beyond == 0 {
		t.Errorf("one line: %+v %g %v", row, beyond, err)
	}
}

// The case takes the table for its weather; what was typed for this weather comes first.
func TestTheCaseTakesTheTable(t *testing.T) {
	j := tabled(TableRow{"70", "25-35", "140-180", ""}, TableRow{"90", "29-39", "200-240", ""})
	j.Before.SetText(present.Ambient, "80")
	c, _ := j.Case()
	if math.Abs(c.Service.Low.Lo-27*unit.PaPerPSI) > 1 || math.Abs(c.Service.High.Hi-210*unit.PaPerPSI) > 1 {
		t.Errorf("%+v", c.Service)
	}
	j.SetText(present.ServiceLow, "30-40")
	c, _ = j.Case()
	if math.Abs(c.Service.Low.Lo-30*unit.PaPerPSI) > 1 || math.Abs(c.Service.High.Hi-210*unit.PaPerPSI) > 1 {
		t.Errorf("with a range typed: %+v", c.Service)
	}
	bar := j.WithUnits(unit.Metric())
	d, _ := bar.Case()
	// 80 °F becomes 27 °C, a third of a degree more; the table climbs 37 kPa a degree.
	if math.Abs(d.Service.High.Hi-c.Service.High.Hi) > 15e3 || bar.Table[0].Ambient != "21" {
		t.Errorf("in other units %+v: %+v", bar.Table, d.Service)
	}
	j.Before.SetText(present.Ambient, "130")
	if c, _ = j.Case(); c.Service.High != (car.Interval{}) {
		t.Errorf("far beyond the table: %+v", c.Service)
	}
}
