package fleet

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
)

//go:embed calibration.csv
var calibrationCSV string

// learnt is one row of calibration.csv.
type learnt struct {
	shift  float64 // of the median: of its ln or, for an absolute size, of itself
	spread float64 // factor on the spread
}

// calibration holds what make calibrate learnt from makers' published tables
// (package makers): shifts of the sizes below and what is left between tables and
// model. A size without a row stays as judged.
var calibration = func() map[string]learnt {
	out := map[string]learnt{}
	for n, line := range strings.Split(strings.TrimSpace(calibrationCSV), "\n") {
		if strings.HasPrefix(line, "#") || strings.HasPrefix(line, "id,") {
			continue
		}
		f := strings.Split(line, ",")
		var v [2]float64
		if len(f) < 3 {
			panic(fmt.Sprintf("fleet: calibration.csv line %d", n+1))
		}
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(f[1+i], 64); err != nil {
				panic(fmt.Sprintf("fleet: calibration.csv line %d: %v", n+1, err))
			}
		}
		out[f[0]] = learnt{v[0], v[1]}
	}
	return out
}()

// judged holds the calibrated sizes as they were judged, by id.
var judged = map[string]size{}

// fitted is size s after calibration.
func fitted(id string, s size) size {
	s.id = id
	judged[id] = s
	if l, ok := calibration[id]; ok {
		if s.abs {
			s.mid += l.shift
		} else {
			s.mid *= math.Exp(l.shift)
		}
		s.sd *= l.spread
	}
	return s
}

// Error is by how much the model misses published tables once the fleet's sizes are
// fitted to them: what makers' cars and tests differ by besides (Between, the same
// for every cell of a table) and what differs from cell to cell (Within).
type Error struct{ Between, Within float64 }

// Total is the standard deviation of one value.
func (e Error) Total() float64 { return math.Hypot(e.Between, e.Within) }

// The errors of the needles (ln of the absolute pressure) and of the vent (K).
var (
	LowError  = errorOf("low")
	HighError = errorOf("high")
	VentError = errorOf("vent")
)

func errorOf(id string) Error { return Error{calibration[id].shift, calibration[id].spread} }

// Judged returns the spread of a size that is fitted to tables, as judged: of its
// ln or, if abs, in its own unit. Ids lists them.
func Judged(id string) (sd float64, abs bool) { return judged[id].sd, judged[id].abs }

// Ids are the sizes that are fitted to tables, in a fixed order.
var Ids = []string{"displacement", "etaV0", "condFlow", "condUAAir", "condRecirc", "evapFlow", "evapUAAir",
	"fanLow", "fanStep", "cabinUA", "orificeBore", "valveArea", "valveSH", "suctionDrop", "setPoint", "finOff", "finTarget"}

// TypicalShifted is the median car of a kind with the fitted sizes moved from what
// was judged, not from what was fitted, by shift (of ln or absolute, by id).
func TypicalShifted(spec car.Spec, shift map[string]float64) (*cycle.Plant, error) {
	return typical(spec, func(s size) float64 {
		if j, ok := judged[s.id]; ok {
			if j.abs {
				return j.mid + shift[s.id]
			}
			return j.mid * math.Exp(shift[s.id])
		}
		return s.mid
	})
}
