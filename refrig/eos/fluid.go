package eos

import (
	"bytes"
	"crypto/sha256"
	"embed"
	"encoding/json"
	"fmt"
	"sync"

	"twoneedles/refrig"
)

//go:embed fluids/*.json fluids/*.cheb
var files embed.FS

// equation is a fluid file: what the source prints, one term per line.
type equation struct {
	ID           string  `json:"id"`
	Name         string  `json:"name"`
	Source       string  `json:"source"`
	Copied       string  `json:"transcription"`
	M            float64 `json:"M_kg_mol"`
	R            float64 `json:"R_J_molK"` // belongs to the equation, not to us
	Tr           float64 `json:"Tr_K"`
	RhoR         float64 `json:"rhor_mol_m3"`
	Tc           float64 `json:"Tc_K"`
	RhoC         float64 `json:"rhoc_mol_m3"`
	CriticalNote string  `json:"critical_note"`
	Range        struct {
		TMin float64 `json:"Tmin_K"`
		TMax float64 `json:"Tmax_K"`
		PMax float64 `json:"pmax_Pa"`
	} `json:"range"`
	Ideal    idealTerms      `json:"ideal"`
	Power    []powerTerm     `json:"power"`
	Gaussian []gaussTerm     `json:"gaussian"`
	Sums     columnSums      `json:"sums"`
	Check    []checkPoint    `json:"check"`
	Start    saturationStart `json:"start"`
}

type columnSums struct {
	Terms   int     `json:"terms"`
	N       float64 `json:"n"`
	T       float64 `json:"t"`
	D       float64 `json:"d"`
	L       float64 `json:"l"`
	Eta     float64 `json:"eta"`
	Epsilon float64 `json:"epsilon"`
	Beta    float64 `json:"beta"`
	Gamma   float64 `json:"gamma"`
}

type checkPoint struct {
	T   float64 `json:"T_K"`
	Rho float64 `json:"rho_kg_m3"`
	P   float64 `json:"p_Pa"`
	H   float64 `json:"h_J_kg"`
	S   float64 `json:"s_J_kgK"`
	Cp  float64 `json:"cp_J_kgK"`
	W   float64 `json:"w_m_s"`
	Src string  `json:"src"`
}

// Fluid is one refrigerant with its equation of state. It is immutable and safe
// for concurrent use.
type Fluid struct {
	eq  *equation
	res residual

	rs         float64 // specific gas constant, J/(kg K)
	rhoR       float64 // reducing density, kg/m³
	tc, pc, dc float64 // critical point of the equation: K, Pa, kg/m³
	tmax       float64 // highest temperature accepted, K
	cheb       *chebyshev
}

// ids in the order in which the trade met them.
var ids = []string{"R12", "R134a", "R1234yf"}

var loaded = func() map[string]func() (*Fluid, error) {
	m := map[string]func() (*Fluid, error){}
	for _, id := range ids {
		m[id] = sync.OnceValues(func() (*Fluid, error) { return read(id) })
	}
	return m
}()

// IDs returns the identifiers that [Load] knows: "R12", "R134a", "R1234yf".
func IDs() []string { return append([]string(nil), ids...) }

// Load returns the fluid with the given identifier. An unknown one is a
// [*refrig.UnknownError].
func Load(id string) (*Fluid, error) {
	f, ok := loaded[id]
	if !ok {
		return nil, &refrig.UnknownError{What: "refrigerant", Value: id, Known: IDs()}
	}
	return f()
}

func read(id string) (*Fluid, error) {
	b, err := files.ReadFile("fluids/" + id + ".json")
	if err != nil {
		return nil, fmt.Errorf("eos: %w", err)
	}
	eq, err := parse(b)
	if err != nil {
		return nil, fmt.Errorf("eos: fluids/%s.json: %w", id, err)
	}
	f := newFluid(eq)
	// Without its expansions a fluid can still be solved exactly: the command
	// that makes them needs that.
	if b, err = files.ReadFile("fluids/" + id + ".cheb"); err == nil {
		if f.cheb, err = decodeChebyshev(b); err != nil {
			return nil, fmt.Errorf("eos: fluids/%s.cheb: %w", id, err)
		}
	}
	return f, nil
}

// parse refuses keys it does not know: a misspelt key would be a missing number.
func parse(b []byte) (*equation, error) {
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	eq := new(equation)
	if err := d.Decode(eq); err != nil {
		return nil, err
	}
	return eq, nil
}

func newFluid(eq *equation) *Fluid {
	f := &Fluid{eq: eq, res: newResidual(eq)}
	f.rs = eq.R / eq.M
	f.rhoR = eq.RhoR * eq.M
	f.tc = eq.Tc
	f.dc = eq.RhoC * eq.M
	f.tmax = eq.Range.TMax
	f.pc = f.Pressure(f.tc, f.dc)
	return f
}

// ID returns the identifier, such as "R134a".
func (f *Fluid) ID() string { return f.eq.ID }

// Name returns the chemical name.
func (f *Fluid) Name() string { return f.eq.Name }

// Source returns the bibliography key of the equation.
func (f *Fluid) Source() string { return f.eq.Source }

// MolarMass returns the molar mass in kg/mol.
func (f *Fluid) MolarMass() float64 { return f.eq.M }

// Critical returns the critical point of the equation: temperature in K,
// pressure in Pa and density in kg/m³. It may differ in the last digits from the
// critical point that the source lists (374.212 instead of 374.21 K for R-134a).
func (f *Fluid) Critical() (T, p, rho float64) { return f.tc, f.pc, f.dc }

// TMin returns the lowest temperature in K that saturation and flashes accept.
func (f *Fluid) TMin() float64 { return satTMin }

// SatTMax returns the highest saturation temperature in K that is solved.
func (f *Fluid) SatTMax() float64 { return f.tc - satGap }

// TMax returns the highest temperature in K that flashes accept.
func (f *Fluid) TMax() float64 { return f.tmax }

// PMax returns the highest pressure in Pa of the source.
func (f *Fluid) PMax() float64 { return f.eq.Range.PMax }

// ExtrapolatedTo returns the same fluid, accepting temperatures up to T in K.
// The equations go on smoothly above the range of their sources, but nobody
// vouches for them there; tables that need a margin are made with it.
func (f *Fluid) ExtrapolatedTo(T float64) *Fluid {
	g := *f
	g.tmax = max(T, f.tmax)
	return &g
}

// Hash identifies the numbers of the equation: what is generated from it
// carries the hash, and a test compares. Notes, check points and layout of the
// file do not enter; nor do starting values, which no result depends on.
func (f *Fluid) Hash() [32]byte {
	e := f.eq
	b, err := json.Marshal([]any{e.M, e.R, e.Tr, e.RhoR, e.Tc, e.RhoC, e.Ideal.numbers(), e.Power, e.Gaussian})
	if err != nil {
		panic("eos: " + err.Error()) // numbers from JSON can always go back
	}
	return sha256.Sum256(b)
}
