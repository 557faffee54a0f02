package unit

// Units is a person's choice of units, by what is measured.
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

// US returns the units usual in the United States.
func US() Units { return Units{PSI, Fahrenheit, PoundOunce, FluidOunce, Foot, Micron, true} }

// Metric returns the units usual elsewhere.
func Metric() Units { return Units{Bar, Celsius, Gram, Millilitre, Metre, Micron, false} }

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
	case Enthalpy:
		if u.Pressure == PSI {
			return BtuLb
		}
		return KJKg
	}
	panic("unit: no unit for this kind")
}

// ForValue is [Units.For], but inches of mercury for a vacuum if so chosen: a
// compound gauge has them below its zero.
func (u Units) ForValue(si float64, k Kind) Unit {
	if k == GaugePressure && u.InHg && si < -PaPerInHg/10 {
		return InHg
	}
	return u.For(k)
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
