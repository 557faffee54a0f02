package cycle

import (
	"fmt"
	"math"
)

// Audit is how well a result closes. Every solve is audited; a result that does
// not close is an error, never an answer.
type Audit struct {
	Mass      float64 // metering flow less compressor flow, relative to their sum
	Misfit    float64 // pressure drop that does not fit into a line, as a share of the discharge pressure
	Energy    float64 // first law round the loop, W relative to the shaft power
	ChargeGap float64 // mass held less mass asked for, relative to the label
	EntropyUp float64 // least entropy made by any part, W/K; negative breaks the second law
}

// Limits of the audit: far above the solver's tolerance, far below what an
// instrument could see. The entropy limit allows the rounding of the tables
// (20 J/kg at 0.1 kg/s over 270 K is 7 mW/K).
const (
	auditClose   = 1e-4
	auditEnergy  = 1e-3 // of the shaft power, a small part of what the coils move
	auditEntropy = -0.05
)

func (l *loop) audit() Audit {
	var a Audit
	a.Mass = (l.mMeter - l.m) / (l.mMeter + l.m)
	a.Misfit = l.short + l.choke
	// What the compressor puts in less what its shell loses, the coil's heat and
	// the suction line's gain must equal what the condenser rejects.
	shaft := l.m * l.w
	in := shaft - l.shell + l.qEvap + l.m*(l.suctionHeat()-l.h5) - l.qIHX
	a.Energy = (in - l.qCond) / math.Max(shaft, 10)
	if !l.design {
		a.ChargeGap = (l.mass() - l.charge) / l.chargeScale
	}
	fl := l.p.Fluid
	s2 := entropy(fl, l.pc, l.h2)
	s3 := entropy(fl, l.pc, l.h3)
	s3x := entropy(fl, l.pc, l.h4) // after the internal heat exchanger
	s4 := entropy(fl, l.pe, l.h4)
	s5 := entropy(fl, l.pe, l.h5)
	s5x := entropy(fl, l.pe, l.h5+l.qIHX/l.m)
	sd := entropy(fl, l.pd, l.h2)
	bay := l.c.Ambient + bayRise
	shellAt := l.T2
	if l.shell < 0 {
		shellAt = bay
	}
	a.EntropyUp = math.Min(
		math.Min(l.m*(sd-l.s1)+l.shell/shellAt, l.m*(s3-s2)+l.qCond/l.condTin),
		math.Min(l.m*(s4-s3x), l.m*(s5-s4)-l.qEvap/l.evapTin))
	a.EntropyUp = math.Min(a.EntropyUp, l.m*(s3x-s3+s5x-s5))
	a.EntropyUp = math.Min(a.EntropyUp, l.m*(l.s1-s5x)-(l.m*(l.h1-l.h5)-l.qIHX)/bay)
	return a
}

// check returns an *AuditError unless everything closes.
func (a Audit) check() error {
	closes := math.Abs(a.Mass) < auditClose && a.Misfit < auditClose && math.Abs(a.Energy) < auditEnergy &&
		math.Abs(a.ChargeGap) < auditClose && a.EntropyUp > auditEntropy
	if !closes { // so written that a NaN does not close
		return &AuditError{a}
	}
	return nil
}

// AuditError reports a state that the solver took for a solution and that does
// not close.
type AuditError struct{ Audit Audit }

func (e *AuditError) Error() string {
	return fmt.Sprintf("cycle: the loop does not close: mass %.2g, misfit %.2g, energy %.2g, charge %.2g, entropy made %.2g W/K",
		e.Audit.Mass, e.Audit.Misfit, e.Audit.Energy, e.Audit.ChargeGap, e.Audit.EntropyUp)
}
