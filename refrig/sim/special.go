package sim

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/eos"
	"twoneedles/refrig/fast"
	"twoneedles/refrig/fleet"
)

// The conditions that are not one steady state of the loop with the right gas.

// soaked fills in a car whose compressor does not turn: both sides at p, air and
// pipes near the ambient temperature.
func (s *simulator) soaked(t *Truth, p float64, r *fleet.Rand) {
	n := Needle{Mean: p, Lo: p, Hi: p}
	t.Low, t.High = n, n
	t.LowIdle, t.HighIdle, t.Water, t.Fan = p, p, p, p
	warm := func(max float64) float64 { return s.c.Ambient + max*r.Float64() } // engine heat. judgement
	t.Vent = warm(6)
	t.Discharge, t.Suction, t.Liquid = warm(15), warm(12), warm(8)
	t.CondIn, t.CondOut = warm(10), warm(6)
	t.Equalise = 5
}

// empty is a system with so little left that the low-pressure switch keeps the
// compressor off.
func (s *simulator) empty(t *Truth, r *fleet.Rand) {
	f := cycle.Sound()
	f.Charge = 0.12 * r.Float64() * r.Float64() // up to where a switch may still let it run
	t.ChargeShare = f.Charge
	s.rest(t, f, s.plant.Fluid.PSat)
	full, left := t.restAt, 1.0
	if f.Charge < 0.02 { // open to the air: no pressure at all
		left = r.Float64()
	}
	t.restAt = func(T float64) float64 { return math.Max(left*full(T), -5e3) }
	t.Resting = t.restAt(s.c.Ambient)
	s.soaked(t, t.Resting, r)
	t.LiquidQuality = 1
}

// notRunning is a charged system whose compressor does not turn while the engine
// does.
func (s *simulator) notRunning(t *Truth, r *fleet.Rand) {
	f := cycle.Sound()
	s.scatter(&f, r)
	if r.Float64() < 0.2 { // the usual reasons include a shortage that the switch answers
		f.Charge *= 0.15 + 0.6*r.Float64()
	}
	t.ChargeShare = f.Charge
	s.rest(t, f, s.plant.Fluid.PSat)
	hot := s.plant.Fluid.PSat(s.c.Ambient+8*r.Float64()) / s.plant.Fluid.PSat(s.c.Ambient)
	s.soaked(t, (t.Resting+s.c.PAtm)*hot-s.c.PAtm, r)
	t.LiquidQuality = -0.02
}

// moisture swings between a free and a nearly shut metering device as ice forms
// and melts.
func (s *simulator) moisture(t *Truth, r *fleet.Rand) error {
	free := cycle.Sound()
	s.scatter(&free, r)
	t.Severity = r.Float64()
	return s.comesAndGoes(t, free, lin(0.5, 1, t.Severity), r)
}

// sticking is a valve that shuts and frees itself again: what the needles do is what
// they do with moisture, and only a rest or a dry charge tells the two apart.
func (s *simulator) sticking(t *Truth, severity float64, r *fleet.Rand) error {
	free := cycle.Sound()
	s.scatter(&free, r)
	return s.comesAndGoes(t, free, lin(0.3, 1, severity), r)
}

// comesAndGoes lets the metering device change between free and nearly shut.
// Evaporator inventory over flow is a second or two (0.05 kg over 0.03 kg/s), so the
// low side follows within seconds and each state is steady.
func (s *simulator) comesAndGoes(t *Truth, free cycle.Fault, shut float64, r *fleet.Rand) error {
	if err := s.fill(t, free); err != nil {
		return err
	}
	iced := free
	steadyByID[car.ValveClosed].apply(&iced, s.plant, shut, r)
	iced.NoCut = s.plant.Metering == car.ExpansionValve // a fin switch warms up with the coil and stays in
	res, err := cycle.Solve(s.plant, iced, s.c)
	if err != nil {
		return err
	}
	share := 0.2 + 0.6*r.Float64() // of the time shut
	span := func(n *Needle, a float64) {
		n.Lo, n.Hi, n.Swings = math.Min(n.Lo, a), math.Max(n.Hi, a), true
		n.Mean += share * (a - n.Mean)
	}
	span(&t.Low, res.Low)
	span(&t.High, res.High)
	mix := func(a *float64, b float64) { *a += share * (b - *a) }
	mix(&t.Vent, res.Vent)
	mix(&t.Discharge, res.DischargeLine)
	mix(&t.Suction, res.SuctionLine)
	return nil
}

// wrongRefrigerant replaces the gas: another of the three we know in full, or a
// gas of which we know the saturation pressure alone.
func (s *simulator) wrongRefrigerant(t *Truth, r *fleet.Rand) error {
	f := cycle.Sound()
	s.scatter(&f, r)
	t.Severity = 1
	if r.Float64() < 0.3 {
		others := []string{car.R134a, car.R1234yf, car.R12}
		id := others[r.IntN(3)]
		if id == s.spec.Refrigerant {
			id = car.R12
			if s.spec.Refrigerant == car.R12 {
				id = car.R134a
			}
		}
		other, err := fast.Load(id)
		if err != nil {
			return err
		}
		p := *s.plant
		p.Fluid = other
		f.Charge *= 0.75 + 0.35*r.Float64()
		swapped := simulator{&p, s.spec, s.c, s.own}
		return swapped.fill(t, f)
	}
	if err := s.fill(t, f); err != nil {
		return err
	}
	s.repressure(t, r)
	return nil
}

// repressure moves every pressure to that of another gas at the same saturation
// temperature: the coils set the temperatures, the gas the pressures. A blend of
// propane and isobutane follows Raoult's law; a mixture of R-134a and R-12 lies
// above both (it has an azeotrope), by up to about 12 % (memory).
func (s *simulator) repressure(t *Truth, r *fleet.Rand) {
	kind := r.Float64()
	x := 0.35 + 0.5*r.Float64()
	share := 0.25 + 0.75*r.Float64() // of the wrong gas
	psat := func(T float64) float64 {
		own := s.plant.Fluid.PSat(T)
		var other float64
		switch {
		case kind < 0.45: // hydrocarbon blend
			a, errA := eos.LookalikePSat("R290", T)
			b, errB := eos.LookalikePSat("R600a", T)
			if errA != nil || errB != nil {
				return own
			}
			other = x*a + (1-x)*b
		case kind < 0.65:
			a, err := eos.LookalikePSat("R152a", T)
			if err != nil {
				return own
			}
			other = a
		default:
			return own * (1 + 0.16*share*(1.3-share)) // mixed
		}
		return own + share*(other-own)
	}
	move := func(g float64) float64 {
		return psat(s.plant.Fluid.TSat(g+s.c.PAtm)) - s.c.PAtm
	}
	for _, p := range []*float64{&t.Low.Mean, &t.Low.Lo, &t.Low.Hi, &t.High.Mean, &t.High.Lo, &t.High.Hi,
		&t.LowIdle, &t.HighIdle, &t.Water, &t.Fan} {
		*p = move(*p)
	}
	atm := s.c.PAtm
	t.restAt = func(T float64) float64 { return psat(T) - atm }
	t.Resting = t.restAt(s.c.Ambient)
}
