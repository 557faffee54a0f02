package cycle

// creep solves by following the state from the sound car to the faulty one in
// steps small enough for Newton's method; the fallback where a cold start fails.
func (l *loop) creep(start vec) (vec, error) {
	at := func(t float64, z vec) (vec, error) {
		var k loop
		k.set(l.p, between(l.f, t), l.c)
		k.mode, k.clutch = l.mode, l.clutch
		z, err := k.newtonFrom(z)
		l.evals += k.evals
		return z, err
	}
	z, err := at(0, start)
	if err != nil {
		return z, err
	}
	t, step := 0.0, 0.25
	for i := 0; i < 60 && t < 1; i++ {
		next := t + step
		if next > 1 {
			next = 1
		}
		zn, e := at(next, z)
		if e != nil {
			if step /= 2; step < 1.0/128 {
				return zn, e
			}
			continue
		}
		z, t = zn, next
	}
	return l.newtonFrom(z)
}

// between is the fault at share t of the way from a sound car to f.
func between(f Fault, t float64) Fault {
	s := Sound()
	mix := func(a, b float64) float64 { return a + t*(b-a) }
	g := f
	g.Charge = mix(s.Charge, f.Charge)
	g.AirPressure = t * f.AirPressure
	g.CondAir = mix(s.CondAir, f.CondAir)
	g.IdleAir = mix(s.IdleAir, f.IdleAir)
	g.CondHeat = t * f.CondHeat
	g.EvapAir = mix(s.EvapAir, f.EvapAir)
	g.EtaV = mix(s.EtaV, f.EtaV)
	g.LeakArea = t * f.LeakArea
	g.Speed = mix(s.Speed, f.Speed)
	g.MeterArea = mix(s.MeterArea, f.MeterArea)
	if t > 0 { // a throat's drop goes with 1/area²
		g.LiquidArea = f.LiquidArea / t
		g.SuctionArea = f.SuctionArea / t
	} else {
		g.LiquidArea, g.SuctionArea = 0, 0
	}
	return g
}
