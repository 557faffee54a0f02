package eos

import (
	_ "embed"
	"encoding/json"
	"fmt"
	"math"
	"sync"

	"twoneedles/refrig"
)

//go:generate go run mklookalike.go

//go:embed lookalike.json
var lookalikeJSON []byte

// lookalike is a gas that is met in place of a car's refrigerant. Only its
// saturation pressure is known here,
//
//	ln(p/Pa) = Σ c_k z^k,   z = 280 K/T − 1,
//
// fitted to a table; MaxErr is the largest relative departure from it.
type lookalike struct {
	ID     string    `json:"id"`
	Source string    `json:"source"`
	TMin   float64   `json:"Tmin_K"`
	TMax   float64   `json:"Tmax_K"`
	MaxErr float64   `json:"max_err_rel"`
	C      []float64 `json:"c"`
}

var lookalikes = sync.OnceValue(func() []lookalike {
	var l []lookalike
	if err := json.Unmarshal(lookalikeJSON, &l); err != nil {
		panic("eos: lookalike.json: " + err.Error())
	}
	return l
})

// LookalikeIDs returns the gases that [LookalikePSat] knows: "R152a", "R290"
// (propane), "R600a" (isobutane).
func LookalikeIDs() []string {
	var ids []string
	for _, l := range lookalikes() {
		ids = append(ids, l.ID)
	}
	return ids
}

func findLookalike(id string) (*lookalike, error) {
	for i, l := range lookalikes() {
		if l.ID == id {
			return &lookalikes()[i], nil
		}
	}
	return nil, fmt.Errorf("eos: no saturation pressure for %q, have %v", id, LookalikeIDs())
}

func (l *lookalike) lnP(T float64) (y, slope float64) {
	z := 280/T - 1
	for k := len(l.C) - 1; k >= 0; k-- {
		slope = slope*z + y
		y = y*z + l.C[k]
	}
	return y, -slope * 280 / (T * T)
}

// LookalikePSat returns the saturation pressure in Pa at T in K, 233 to 333 K,
// within 3e-5 relative of the tables it was fitted to [Bell2014].
// Errors: an unknown identifier; *refrig.RangeError.
func LookalikePSat(id string, T float64) (float64, error) {
	l, err := findLookalike(id)
	if err != nil {
		return 0, err
	}
	if !(T >= l.TMin && T <= l.TMax) {
		return 0, &refrig.RangeError{Quantity: "saturation temperature of " + id, Value: T,
			Min: l.TMin, Max: l.TMax, Unit: "K", Source: l.Source}
	}
	y, _ := l.lnP(T)
	return math.Exp(y), nil
}
