package practice

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/fleet"
)

// Complaint is what the driver says; its words are practice.complaint.<code>.
type Complaint string

// The complaints.
const (
	NoCold        Complaint = "no_cold"        // outside air comes out
	NoColdSudden  Complaint = "no_cold_sudden" // … since this morning
	Poor          Complaint = "poor"           // it hardly cools
	PoorLonger    Complaint = "poor_longer"    // … worse over some weeks
	Weak          Complaint = "weak"           // cooler, not cold
	WeakLastYear  Complaint = "weak_last_year" // … it was better last year
	Cold          Complaint = "cold"           // cools; a check-up
	ColdHoliday   Complaint = "cold_holiday"   // … before a journey
	ComesAndGoes  Complaint = "comes_and_goes" // the needles swing
	WorseStanding Complaint = "worse_standing" // high side much higher at idle
	Fog           Complaint = "fog"            // a cold day: what is missed is dry air
)

// Complaints lists every complaint.
var Complaints = []Complaint{NoCold, NoColdSudden, Poor, PoorLonger, Weak, WeakLastYear, Cold, ColdHoliday, ComesAndGoes, WorseStanding, Fog}

// Bounds of what a driver feels at the vent. judgement
const (
	coldDay   = 291.0 // K outside; nobody wants cold air then
	asOutside = 5.0   // K below the outside air: no cold
	poorVent  = 293.0 // K
	weakVent  = 286.0 // K
	idleRise  = 1.15  // of the high side from test speed to idle, absolute: felt in traffic

	nearVacuum = 60e3 // Pa gauge; a needle that swings so low stops the cooling for a while
)

// complain says what a driver would have noticed. It comes from what the car
// does, not from what is wrong with it: a driver knows no conditions, and the
// diagnosis the student is measured against hears no complaint.
func complain(p *Puzzle, r *fleet.Rand) Complaint {
	either := func(a, b Complaint) Complaint {
		if r.Float64() < 0.5 {
			return b
		}
		return a
	}
	t := &p.Truth
	low, high := p.Case.Readings[car.Low], p.Case.Readings[car.High].Value+t.Conditions.PAtm
	sound := t.Cause != car.Gauge // a driver does not feel what a broken gauge shows
	switch {
	case t.Conditions.Ambient < coldDay && t.Vent > t.Conditions.Ambient-asOutside:
		return Fog
	case t.Conditions.Ambient < coldDay:
		return either(Cold, ColdHoliday)
	case t.Vent > t.Conditions.Ambient-asOutside:
		return either(NoCold, NoColdSudden)
	case sound && t.HighIdle+t.Conditions.PAtm > idleRise*high:
		return WorseStanding
	case sound && low.Swing && low.Lo < nearVacuum:
		return ComesAndGoes
	case t.Vent > poorVent:
		return either(Poor, PoorLonger)
	case t.Vent > weakVent:
		return either(Weak, WeakLastYear)
	}
	return either(Cold, ColdHoliday)
}
