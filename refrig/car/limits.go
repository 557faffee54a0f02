package car

// limits of each kind of reading, SI: what an instrument of the trade can show.
func Limits(q Quantity, atm float64) (lo, hi float64, unit string) {
	switch q {
	case Low, High, Resting, WaterTest, FanTest, LowIdle, HighIdle:
		return -atm, 6e6, "Pa"
	case Cycling:
		return 0, 60, "1/min"
	case EqualiseTime:
		return 0, 7200, "s"
	case Recovered:
		return 0, 3, ""
	}
	return 223.15, 473.15, "K"
}
