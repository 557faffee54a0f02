package sim

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// EstimateDiscrepancy is the root mean square difference between what cars show
// under the standard laws and the same cars, sizes and all, under the other ones,
// over n cars healthy and with common faults. ModelError rests on it where no
// published table says more: the error of a model against reality can be no smaller
// than the difference between two models a modeller might equally have chosen.
func EstimateDiscrepancy(n int, seed uint64) (d Discrepancy, cars int) {
	conds := []car.ConditionID{car.Healthy, car.Healthy, car.Undercharge, car.CondenserAirflow, car.WeakCompressor}
	var sum [6]float64
	for i := range n {
		r := fleet.NewRand(seed + uint64(i))
		spec := fleet.Complete(r, car.Spec{})
		c := DrawConditions(r)
		id, severity := conds[i%len(conds)], r.Float64()
		pair := [2]cycle.Result{}
		idle := [2]float64{}
		ok := true
		for k, laws := range []*cycle.Laws{nil, &cycle.OtherLaws} {
			p, err := fleet.DrawUnder(fleet.NewRand(seed+uint64(i)), spec, 1, laws)
			if err != nil {
				ok = false
				break
			}
			f, _ := Effect(id, p, severity, fleet.NewRand(seed))
			if pair[k], err = cycle.Solve(p, f, c); err != nil {
				ok = false
				break
			}
			slow := c
			slow.RPM = idleRPM
			res, err := cycle.Solve(p, f, slow)
			if ok = err == nil; !ok {
				break
			}
			idle[k] = math.Log((res.High + c.PAtm) / (pair[k].High + c.PAtm))
		}
		if !ok {
			continue
		}
		a, b := pair[0], pair[1]
		for k, e := range [6]float64{
			math.Log((b.Low + c.PAtm) / (a.Low + c.PAtm)), math.Log((b.High + c.PAtm) / (a.High + c.PAtm)),
			b.Vent - a.Vent, b.DischargeLine - a.DischargeLine, b.SuctionLine - a.SuctionLine, b.LiquidLine - a.LiquidLine,
		} {
			sum[k] += e * e
		}
		d.Test += (idle[1] - idle[0]) * (idle[1] - idle[0])
		cars++
	}
	m := func(s float64) float64 { return math.Sqrt(s / math.Max(float64(cars), 1)) }
	one := func(s float64) fleet.Error { return fleet.Error{Between: m(s)} }
	return Discrepancy{one(sum[0]), one(sum[1]), one(sum[2]), m(sum[3]), m(sum[4]), m(sum[5]), m(d.Test)}, cars
}
