package cycle

// What the tests of package cycle_test, which may use package fleet, need of the
// inside.

// Modes are all modes with their names.
var Modes = map[string]int{"full on": int(fullOn), "stroking": int(stroking), "cycling low": int(cycleLow), "cycling high": int(cycleHigh), "cycling hot": int(cycleHot)}

// Residual returns the residual function of a case in one mode and the number of
// its unknowns.
func Residual(p *Plant, f Fault, c Conditions, m int) (func(z [nAll]float64) [nAll]float64, int) {
	var l loop
	l.set(p, f, c)
	l.mode = mode(m)
	l.clutch = l.mode != fullOn && l.mode != stroking
	return func(z [nAll]float64) [nAll]float64 { return l.residual(z) }, l.dims()
}

// SolveNear is Solve with another first guess: its own plus shift.
func SolveNear(p *Plant, f Fault, c Conditions, shift [nAll]float64) (Result, error) {
	var l loop
	l.set(p, f, c)
	z := l.start()
	for i := range z {
		z[i] += shift[i]
	}
	return l.run(z)
}

// Mode returns the mode a result was found in.
func (r *Result) Mode() string {
	switch {
	case r.HighCutOut:
		return "cycling high"
	case r.Overheated:
		return "cycling hot"
	case r.Cycling:
		return "cycling low"
	case r.Stroke < 1:
		return "stroking"
	}
	return "full on"
}

// AuditSpoilt solves a case, loses the share lost of the condenser's heat, and audits
// what is left.
func AuditSpoilt(p *Plant, f Fault, c Conditions, lost float64) (Audit, error) {
	var l loop
	l.set(p, f, c)
	if _, err := l.run(l.start()); err != nil {
		return Audit{}, err
	}
	l.qCond *= 1 - lost
	a := l.audit()
	return a, a.check()
}
