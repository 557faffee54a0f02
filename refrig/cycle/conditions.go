package cycle

import (
	"math"

	"twoneedles/refrig/air"
)

// Conditions is the air round the car and how the engine runs. The zero values of
// the yes-or-no fields are those of a workshop test: outside air, doors and bonnet
// open, nothing sprayed.
type Conditions struct {
	Ambient    float64 // dry bulb, K
	Humidity   float64 // relative, 0…1
	PAtm       float64 // local atmosphere, Pa
	RPM        float64 // engine speed, 1/min
	Blower     float64 // air flow through the evaporator as a share of the highest
	Recirc     bool    // cabin air instead of outside air
	DoorsShut  bool    // doors and windows; open, the cabin holds outside air
	Minutes    float64 // that the cabin has been cooled with its doors shut
	BonnetShut bool    // more of the hot air finds its way back to the condenser
	RamAir     float64 // extra air through the condenser, by wind, speed or a shop fan, m³/s
	WaterOn    bool    // water is sprayed on the condenser
}

// Constants of the cabin. Judgement.
const (
	cabinTau  = 8.0  // min, of seats and trim
	cabinLeak = 0.15 // share of outside air that recirculation draws in
	coilHeat  = 0.7  // share of a coil's cooling that is felt as temperature
	coilFilm  = 3    // K, of the coil's wet surface above the refrigerant
	minShare  = 1e-3 // of the pull-down: a cabin just shut is the outside
)

// cabinShut reports whether the evaporator's air is what it has itself cooled.
func (c *Conditions) cabinShut() bool { return c.Recirc && c.DoorsShut && c.Minutes > 0 }

// cabinAir sets temperature and humidity ratio of the air that a closed cabin
// gives the evaporator. After t minutes seats and trim have followed a share
// y = 1 − exp(−t/τ) of the way, so heat comes to the cabin's air as if through a
// conductance U/y. What cools it is the lesser of what the coil's surface can take
// up and what the refrigerant that flows can:
//
//	(U/y) (T_amb − T) = m_a c_p e (T − T_e)    or    share · m (h_V − h_4)
//
// so that a car that does not cool has a warm cabin. The air's moisture follows
// the same share of the way towards the coil's.
func (l *loop) cabinAir() {
	c, s := &l.c, &l.satE
	y := math.Max(1-math.Exp(-c.Minutes/cabinTau), minShare)
	u := l.p.CabinUA / y
	g := l.evapMa * moistCp * l.evapEff
	fall := math.Max(c.Ambient-l.Te, 0) * g / (u + g)
	most := math.Max(coilHeat*l.m*(s.HV-l.h4)/u, 0)
	fall = -smoothMax(-fall, -most, 0.5)
	fall = math.Max(fall, 0)
	share := fall / math.Max(c.Ambient-l.Te, 1)

	W := l.outsideW
	if coil := air.HumidityRatio(l.Te+coilFilm, 1, c.PAtm); coil < W {
		k := share / (share + cabinLeak)
		W += k * (coil - W)
	}
	l.setEvaporatorAir(c.Ambient-fall, W)
}
