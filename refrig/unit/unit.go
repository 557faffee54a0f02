package unit

import (
	"math"
	"strings"
)

// Kind is what a number measures; each kind has one SI unit inside and several
// outside.
type Kind int

// The kinds, with the SI unit a parsed value has.
const (
	GaugePressure    Kind = iota + 1 // Pa above the local atmosphere
	AbsolutePressure                 // Pa absolute: deep vacuum
	Temperature                      // K
	TempDiff                         // K, a difference
	Mass                             // kg
	Volume                           // m³
	Length                           // m
	Duration                         // s
	Speed                            // 1/min, the engine's
	Rate                             // 1/min, events
	Fraction                         // 1
	Bore                             // m, a small diameter
	MassRate                         // kg/year, a leak
	Enthalpy                         // J/kg
	Months                           // a span of time in months, as typed; no SI
	Choice                           // one of a list; no number
)

// Unit names a unit outside the model. The text is stable: saved jobs and links
// hold it. What people see is the word "unit.<unit>".
type Unit string

// The units.
const (
	PSI        Unit = "psi"
	KPa        Unit = "kPa"
	Bar        Unit = "bar"
	MPa        Unit = "MPa"
	InHg       Unit = "inHg"    // inches of mercury below the atmosphere: 12 inHg is −40.6 kPa gauge
	KgfCm2     Unit = "kgf_cm2" // technical atmosphere
	Micron     Unit = "micron"
	Pascal     Unit = "Pa"
	Millibar   Unit = "mbar"
	Torr       Unit = "mmHg"
	Fahrenheit Unit = "F"
	Celsius    Unit = "C"
	Kelvin     Unit = "K"
	DiffF      Unit = "dF"
	DiffC      Unit = "dC"
	Gram       Unit = "g"
	Kilogram   Unit = "kg"
	Ounce      Unit = "oz"
	Pound      Unit = "lb"
	PoundOunce Unit = "lb_oz" // "1 lb 8 oz"; a bare number is pounds
	Millilitre Unit = "ml"
	CubicCm    Unit = "cc"
	FluidOunce Unit = "fl_oz" // US
	Litre      Unit = "l"
	Metre      Unit = "m"
	Foot       Unit = "ft"
	Second     Unit = "s"
	Minute     Unit = "min"
	Hour       Unit = "h"
	PerMinute  Unit = "per_min" // events per minute
	RPM        Unit = "rpm"
	Percent    Unit = "percent"
	Millimetre Unit = "mm"
	Inch       Unit = "inch"
	GramYear   Unit = "g_year"
	OunceYear  Unit = "oz_year"
	Month      Unit = "month"
	Year       Unit = "year"
	KJKg       Unit = "kJ_kg"
	BtuLb      Unit = "Btu_lb" // International Table Btu per pound
)

// Factors for who states a number in a unit of the trade. All are exact by
// definition: the international pound is 0.45359237 kg, the inch 0.0254 m, standard
// gravity 9.80665 m/s², the US gallon 231 in³ [NIST811]. Conventional mercury weighs
// 13 595.1 kg/m³ [NIST811].
const (
	KgPerPound   = 0.45359237
	KgPerOunce   = KgPerPound / 16 // avoirdupois
	MPerInch     = 0.0254
	MPerFoot     = 12 * MPerInch
	PaPerPSI     = KgPerPound * gravity / (MPerInch * MPerInch)
	PaPerMmHg    = 13.5951 * gravity
	PaPerInHg    = 25.4 * PaPerMmHg
	PaPerMicron  = PaPerMmHg / 1e3
	gravity      = 9.80665
	fluidOunceM3 = 231 * MPerInch * MPerInch * MPerInch / 128
	fahrenheit0K = 273.15 - 32/1.8 // 0 °F
)

// info says that a value x in the unit is x·scale + zero in SI.
type info struct {
	kind  Kind
	scale float64
	zero  float64
	// decimals are the digits after the point a person usually types.
	decimals int
	// step is what the instrument can be read to (judgement), and what computed
	// values are written to; 0 is three digits. From the value coarseFrom on it is
	// coarse, unless coarseFrom is 0.
	step, coarseFrom, coarse float64
	names                    string // what may be typed, in any of the page's languages, lower case, separated by spaces
}

var units = map[Unit]info{
	PSI:        {GaugePressure, PaPerPSI, 0, 0, 1, 0, 0, "psi psig lb lbs # lbf"},
	KPa:        {GaugePressure, 1e3, 0, 0, 5, 0, 0, "kpa kpag"},
	Bar:        {GaugePressure, 1e5, 0, 2, 0.01, 10, 0.1, "bar barg bars"},
	MPa:        {GaugePressure, 1e6, 0, 3, 0.01, 0, 0, "mpa"},
	InHg:       {GaugePressure, -PaPerInHg, 0, 1, 0.5, 10, 1, "inhg in inch inches \" hg vac vacuum vakuum vacío vacio vide"},
	KgfCm2:     {GaugePressure, gravity * 1e4, 0, 2, 0.01, 10, 0.1, "kg/cm2 kgf/cm2 kg/cm² kgf/cm² kgcm2"},
	Micron:     {AbsolutePressure, PaPerMicron, 0, 0, 0, 0, 0, "micron microns mikron micrones µ μ um µm μm"},
	Pascal:     {AbsolutePressure, 1, 0, 0, 0, 0, 0, "pa"},
	Millibar:   {AbsolutePressure, 100, 0, 1, 0, 0, 0, "mbar hpa"},
	Torr:       {AbsolutePressure, PaPerMmHg, 0, 2, 0, 0, 0, "torr mmhg"}, // the torr differs by 1.4e-7
	Fahrenheit: {Temperature, 1 / 1.8, fahrenheit0K, 0, 1, 0, 0, "f degf fahrenheit"},
	Celsius:    {Temperature, 1, 273.15, 0, 0.5, 0, 0, "c degc celsius"},
	Kelvin:     {Temperature, 1, 0, 0, 0.5, 0, 0, "k kelvin"},
	DiffF:      {TempDiff, 1 / 1.8, 0, 0, 1, 0, 0, "f degf"},
	DiffC:      {TempDiff, 1, 0, 0, 0.5, 0, 0, "c k degc"},
	Gram:       {Mass, 1e-3, 0, 0, 1, 0, 0, "g gr gram grams"},
	Kilogram:   {Mass, 1, 0, 2, 0.001, 1, 0.01, "kg kgs kilo kilos"},
	Ounce:      {Mass, KgPerOunce, 0, 1, 0.1, 0, 0, "oz ounce ounces"},
	Pound:      {Mass, KgPerPound, 0, 2, 0.01, 0, 0, "lb lbs pound pounds #"},
	PoundOunce: {Mass, KgPerPound, 0, 2, 0, 0, 0, ""},
	Millilitre: {Volume, 1e-6, 0, 0, 1, 0, 0, "ml"},
	CubicCm:    {Volume, 1e-6, 0, 0, 1, 0, 0, "cc cm3 cm³ ccm"},
	FluidOunce: {Volume, fluidOunceM3, 0, 1, 0.1, 0, 0, "oz floz fl.oz fl ounce ounces"},
	Litre:      {Volume, 1e-3, 0, 2, 0.01, 0, 0, "l liter litre"},
	Metre:      {Length, 1, 0, 0, 0.1, 20, 1, "m meter metre meters metres"},
	Foot:       {Length, MPerFoot, 0, 0, 0.1, 20, 1, "ft feet foot '"},
	Second:     {Duration, 1, 0, 0, 0, 0, 0, "s sec secs second seconds"},
	Minute:     {Duration, 60, 0, 0, 0, 0, 0, "min mins minute minutes m"},
	Hour:       {Duration, 3600, 0, 0, 0, 0, 0, "h hr hrs hour hours"},
	PerMinute:  {Rate, 1, 0, 0, 0.1, 10, 1, "/min permin per_min perminute prominute porminuto parminute cpm timesaminute"},
	RPM:        {Speed, 1, 0, 0, 10, 0, 0, "rpm 1/min /min u/min tr/min"},
	Millimetre: {Bore, 1e-3, 0, 1, 0.1, 0, 0, "mm"},
	Inch:       {Bore, MPerInch, 0, 2, 0.01, 0, 0, "in inch inches \""},
	GramYear:   {MassRate, 1e-3, 0, 0, 1, 100, 10, "g/year g/yr g/y"},
	OunceYear:  {MassRate, KgPerOunce, 0, 1, 0.1, 10, 1, "oz/year oz/yr oz/y"},
	Month:      {Months, 1, 0, 0, 1, 0, 0, "month months mo monat monate mes meses mois"},
	Year:       {Months, 12, 0, 1, 0.1, 0, 0, "year years yr y jahr jahre año años an ans"},
	Percent:    {Fraction, 0.01, 0, 0, 1, 0, 0, "% percent pct"},
	KJKg:       {Enthalpy, 1e3, 0, 0, 1, 0, 0, ""},
	BtuLb:      {Enthalpy, 2326, 0, 0, 1, 0, 0, ""}, // exact [NIST811]
}

// Kind returns what u measures, 0 if u is unknown.
func (u Unit) Kind() Kind { return units[u].kind }

// ToSI returns x in u as a value in the SI unit of its kind. An unknown unit
// panics.
func (u Unit) ToSI(x float64) float64 {
	i := u.info()
	return x*i.scale + i.zero
}

// FromSI is the inverse of [Unit.ToSI].
func (u Unit) FromSI(si float64) float64 {
	i := u.info()
	return (si - i.zero) / i.scale
}

func (u Unit) info() info {
	i, ok := units[u]
	if !ok {
		panic("unit: unknown unit " + string(u))
	}
	return i
}

// Size is what one unit is in SI where a difference is meant: 5/9 K for a degree
// Fahrenheit.
func (u Unit) Size() float64 { return math.Abs(u.info().scale) }

// Decimals are the digits after the point a person usually types in u.
func (u Unit) Decimals() int { return u.info().decimals }

// byName finds a unit by what was typed; names are unique within a kind.
var byName = func() map[Kind]map[string]Unit {
	m := map[Kind]map[string]Unit{}
	for u, i := range units {
		if m[i.kind] == nil {
			m[i.kind] = map[string]Unit{}
		}
		for _, name := range strings.Fields(i.names) {
			m[i.kind][name] = u
		}
	}
	return m
}()

// Named returns the unit of kind k that may be typed as name, in lower case.
func Named(name string, k Kind) (Unit, bool) {
	u, ok := byName[k][name]
	return u, ok
}

// IsName tells whether name is a unit of any kind.
func IsName(name string) bool {
	for _, names := range byName {
		if _, ok := names[name]; ok {
			return true
		}
	}
	return false
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
