package present

import "math"

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
)

// Conversion factors. All are exact by definition: the international pound is
// 0.45359237 kg, the inch 0.0254 m, standard gravity 9.80665 m/s², the US gallon
// 231 in³ [NIST811]. Conventional mercury weighs 13 595.1 kg/m³ [NIST811].
const (
	poundKg      = 0.45359237
	inchM        = 0.0254
	gravity      = 9.80665
	psiPa        = poundKg * gravity / (inchM * inchM)
	mmHgPa       = 13.5951 * gravity
	inHgPa       = 25.4 * mmHgPa
	fluidOunceM3 = 231 * inchM * inchM * inchM / 128
	fahrenheit0K = 273.15 - 32/1.8 // 0 °F
)

// unitInfo says that a value x in the unit is x·scale + zero in SI.
type unitInfo struct {
	kind     Kind
	scale    float64
	zero     float64
	decimals int    // digits after the point a person usually writes
	names    string // what may be typed, lower case, separated by spaces
}

var units = map[Unit]unitInfo{
	PSI:        {GaugePressure, psiPa, 0, 0, "psi psig lb lbs # lbf"},
	KPa:        {GaugePressure, 1e3, 0, 0, "kpa kpag"},
	Bar:        {GaugePressure, 1e5, 0, 2, "bar barg bars"},
	MPa:        {GaugePressure, 1e6, 0, 3, "mpa"},
	InHg:       {GaugePressure, -inHgPa, 0, 1, "inhg in inch inches \" hg vac vacuum"},
	KgfCm2:     {GaugePressure, gravity * 1e4, 0, 2, "kg/cm2 kgf/cm2 kg/cm² kgf/cm² kgcm2"},
	Micron:     {AbsolutePressure, mmHgPa / 1e3, 0, 0, "micron microns µ μ um µm μm"},
	Pascal:     {AbsolutePressure, 1, 0, 0, "pa"},
	Millibar:   {AbsolutePressure, 100, 0, 1, "mbar hpa"},
	Torr:       {AbsolutePressure, mmHgPa, 0, 2, "torr mmhg"}, // the torr differs by 1.4e-7
	Fahrenheit: {Temperature, 1 / 1.8, fahrenheit0K, 0, "f degf fahrenheit"},
	Celsius:    {Temperature, 1, 273.15, 0, "c degc celsius"},
	Kelvin:     {Temperature, 1, 0, 0, "k kelvin"},
	DiffF:      {TempDiff, 1 / 1.8, 0, 0, "f degf"},
	DiffC:      {TempDiff, 1, 0, 0, "c k degc"},
	Gram:       {Mass, 1e-3, 0, 0, "g gr gram grams"},
	Kilogram:   {Mass, 1, 0, 2, "kg kgs kilo kilos"},
	Ounce:      {Mass, poundKg / 16, 0, 1, "oz ounce ounces"},
	Pound:      {Mass, poundKg, 0, 2, "lb lbs pound pounds #"},
	PoundOunce: {Mass, poundKg, 0, 2, ""},
	Millilitre: {Volume, 1e-6, 0, 0, "ml"},
	CubicCm:    {Volume, 1e-6, 0, 0, "cc cm3 cm³ ccm"},
	FluidOunce: {Volume, fluidOunceM3, 0, 1, "oz floz fl.oz fl ounce ounces"},
	Litre:      {Volume, 1e-3, 0, 2, "l liter litre"},
	Metre:      {Length, 1, 0, 0, "m meter metre meters metres"},
	Foot:       {Length, 12 * inchM, 0, 0, "ft feet foot '"},
	Second:     {Duration, 1, 0, 0, "s sec secs second seconds"},
	Minute:     {Duration, 60, 0, 0, "min mins minute minutes m"},
	Hour:       {Duration, 3600, 0, 0, "h hr hrs hour hours"},
	PerMinute:  {Rate, 1, 0, 0, "/min permin per_min cpm timesaminute"},
	RPM:        {Speed, 1, 0, 0, "rpm 1/min /min"},
	Millimetre: {Bore, 1e-3, 0, 1, "mm"},
	Inch:       {Bore, inchM, 0, 2, "in inch inches \""},
	GramYear:   {MassRate, 1e-3, 0, 0, "g/year g/yr g/y"},
	OunceYear:  {MassRate, poundKg / 16, 0, 1, "oz/year oz/yr oz/y"},
	Month:      {Months, 1, 0, 0, "month months mo"},
	Year:       {Months, 12, 0, 1, "year years yr y"},
	Percent:    {Fraction, 0.01, 0, 0, "% percent pct"},
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

func (u Unit) info() unitInfo {
	i, ok := units[u]
	if !ok {
		panic("present: unknown unit " + string(u))
	}
	return i
}

// Units is the user's choice of units.
type Units struct {
	Pressure    Unit `json:"pressure"`
	Temperature Unit `json:"temperature"`
	Mass        Unit `json:"mass"`
	Volume      Unit `json:"volume"`
	Length      Unit `json:"length"`
	Vacuum      Unit `json:"vacuum"` // of a vacuum gauge, absolute
	// InHg shows a gauge pressure below zero in inches of mercury.
	InHg bool `json:"inHg"`
}

// The two usual sets of units.
var (
	USUnits     = Units{PSI, Fahrenheit, PoundOunce, FluidOunce, Foot, Micron, true}
	MetricUnits = Units{Bar, Celsius, Gram, Millilitre, Metre, Micron, false}
)

// Choices lists the units a user may select for kind k, in the order of a menu.
func Choices(k Kind) []Unit {
	switch k {
	case GaugePressure:
		return []Unit{PSI, KPa, Bar}
	case Temperature:
		return []Unit{Fahrenheit, Celsius}
	case Mass:
		return []Unit{Gram, Kilogram, PoundOunce, Ounce}
	case Volume:
		return []Unit{Millilitre, FluidOunce}
	case Length:
		return []Unit{Metre, Foot}
	case AbsolutePressure:
		return []Unit{Micron, Pascal, Millibar, Torr}
	}
	return nil
}

// For returns the unit in which a bare number of kind k is read and shown.
func (u Units) For(k Kind) Unit {
	switch k {
	case GaugePressure:
		return u.Pressure
	case AbsolutePressure:
		return u.Vacuum
	case Temperature:
		return u.Temperature
	case TempDiff:
		if u.Temperature == Fahrenheit {
			return DiffF
		}
		return DiffC
	case Mass:
		return u.Mass
	case Volume:
		return u.Volume
	case Length:
		return u.Length
	case MassRate:
		if u.Mass == Gram || u.Mass == Kilogram {
			return GramYear
		}
		return OunceYear
	case Bore:
		if u.Length == Foot {
			return Inch
		}
		return Millimetre
	case Months:
		return Month
	case Duration:
		return Minute
	case Speed:
		return RPM
	case Rate:
		return PerMinute
	case Fraction:
		return Percent
	}
	panic("present: no unit for this kind")
}

// Repaired returns u with every choice that is not on the menu replaced by the
// one of def. What comes from outside passes through here.
func (u Units) Repaired(def Units) Units {
	fix := func(have *Unit, want Unit) {
		for _, c := range Choices(want.Kind()) {
			if *have == c {
				return
			}
		}
		*have = want
	}
	fix(&u.Pressure, def.Pressure)
	fix(&u.Temperature, def.Temperature)
	fix(&u.Mass, def.Mass)
	fix(&u.Volume, def.Volume)
	fix(&u.Length, def.Length)
	fix(&u.Vacuum, def.Vacuum)
	return u
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
