package present

import "twoneedles/refrig/unit"

// Read parses typed text for the input f and checks it against what that input
// can hold. With Level Refused the Entry is zero; with Level Asked it is as
// typed and the Problem is a question. A field of kind Choice panics.
func Read(text string, f Field, u unit.Units) (Entry, *Problem) {
	sel := f.Unit(u)
	e, err := Parse(text, f.Kind, sel)
	if err != nil {
		p := err.(*Problem)
		p.Field = f.ID
		return Entry{}, p
	}
	p := f.check(e, u)
	if p == nil {
		return e, nil
	}
	p.Field = f.ID
	if p.Level == Refused {
		return Entry{}, p
	}
	return e, p
}

func (f Field) check(e Entry, u unit.Units) *Problem {
	amount := func(si float64) Amount { return Amount{si, f.Kind, e.Unit} }
	refused := func(code string, value, limit float64) *Problem {
		p := refuse(code, "value", amount(value), "limit", amount(limit))
		p.Suggest = f.otherUnits(e, f.Usual, u)
		if code == BelowVacuum {
			p.Suggest = append(vacuumSuggestion(e, u), p.Suggest...)
		}
		return p
	}
	switch {
	case e.Swing && !f.Swing:
		return refuse(NoSwing)
	case (e.AtLeast || e.AtMost) && !f.Bound:
		return refuse(NoBound)
	case e.Hi > f.Limit.Hi:
		return refused(AboveLimit, e.Hi, f.Limit.Hi)
	case e.Lo < f.Limit.Lo:
		return refused(f.tooLow(e.Lo), e.Lo, f.Limit.Lo)
	case e.AtLeast || e.AtMost:
		return nil // a pegged needle is unusual by nature
	}
	if !f.Usual.Contains(e.Lo) || !f.Usual.Contains(e.Hi) {
		if s := f.otherUnits(e, f.Usual, u); len(s) > 0 {
			return asked(s, PerhapsUnit, "value", amount(e.Value))
		}
		return asked(nil, Unusual, "value", amount(e.Value), "lo", amount(f.Usual.Lo), "hi", amount(f.Usual.Hi))
	}
	if p := f.vacuumHint(e, u); p != nil {
		return p
	}
	return f.decimalHint(e, u)
}

// vacuumHint asks about a bare negative number in psi: below zero a compound
// gauge has inches of mercury on its dial, so "-12" may be twelve of those.
func (f Field) vacuumHint(e Entry, u unit.Units) *Problem {
	s := vacuumSuggestion(e, u)
	if f.Kind != unit.GaugePressure || s == nil {
		return nil
	}
	return asked(s, PerhapsInches, "value", Amount{e.Value, f.Kind, e.Unit}, "inches", Amount{e.Value, f.Kind, unit.InHg})
}

func vacuumSuggestion(e Entry, u unit.Units) []Suggestion {
	inches := -e.Unit.FromSI(e.Value)
	if e.Unit != unit.PSI || !u.InHg || e.Typed || e.Swing || inches <= 0 || inches > 30 {
		return nil
	}
	a := Amount{unit.InHg.ToSI(inches), unit.GaugePressure, unit.InHg}
	return []Suggestion{{TypeVacuum, map[string]any{"value": a}, unit.InHg.Plain(a.Value) + " in"}}
}

// decimalHint asks when a unit written without decimals got one ("1.9" in psi)
// and only the other unit would be typical.
func (f Field) decimalHint(e Entry, u unit.Units) *Problem {
	if !e.Decimal || e.Typed || e.Unit.Decimals() > 0 || f.Typical.Contains(e.Value) {
		return nil
	}
	var s []Suggestion
	for _, alt := range f.otherUnits(e, f.Typical, u) {
		if alt.Args["value"].(Amount).Unit.Decimals() > 0 {
			s = append(s, alt)
		}
	}
	if len(s) == 0 {
		return nil
	}
	return asked(s, PerhapsUnit, "value", Amount{e.Value, f.Kind, e.Unit})
}

// tooLow names what a value below the limit offends.
func (f Field) tooLow(si float64) string {
	switch f.Kind {
	case unit.GaugePressure:
		if f.Limit.Lo < 0 {
			return BelowVacuum
		}
		return Negative
	case unit.AbsolutePressure, unit.Mass, unit.Volume, unit.Duration, unit.Speed, unit.Rate, unit.Fraction, unit.Bore, unit.Months:
		if si < 0 {
			return Negative
		}
	case unit.Temperature:
		if si < 0 {
			return BelowZeroKelvin
		}
	}
	return BelowLimit
}

// otherUnits lists the units in which the same digits would lie in span. A unit
// the user typed is not questioned.
func (f Field) otherUnits(e Entry, span Span, u unit.Units) []Suggestion {
	if e.Typed {
		return nil
	}
	var out []Suggestion
	for _, alt := range unit.Choices(f.Kind) {
		if alt == e.Unit {
			continue
		}
		lo, hi := alt.ToSI(e.Unit.FromSI(e.Lo)), alt.ToSI(e.Unit.FromSI(e.Hi))
		if !span.Contains(lo) || !span.Contains(hi) {
			continue
		}
		a := Amount{lo + (hi-lo)/2, f.Kind, alt}
		text := alt.Plain(lo)
		if e.Swing {
			text = alt.Plain(lo) + " to " + alt.Plain(hi)
		}
		out = append(out, Suggestion{
			Code: MeantUnit,
			Args: map[string]any{"value": a},
			Text: text + " " + typedName(alt),
		})
	}
	return out
}

// typedName is a name of u that [Parse] reads.
func typedName(u unit.Unit) string {
	if u == unit.PoundOunce {
		return string(unit.Pound)
	}
	return string(u)
}
