package practice

import (
	"slices"

	"twoneedles/refrig/car"
)

// Desk is a student at work on a puzzle: the two needles are coupled, everything
// else is bought with minutes.
type Desk struct {
	Puzzle *Puzzle
	bought []car.Quantity // in the order they were bought
}

// NewDesk returns a desk with nothing bought.
func NewDesk(p *Puzzle) *Desk { return &Desk{Puzzle: p} }

// Offer is a measurement that can be bought.
type Offer struct {
	Quantity car.Quantity
	Minutes  float64
}

// together are readings that one look gives: idling, both needles are read.
var together = map[car.Quantity]car.Quantity{car.HighIdle: car.LowIdle}

// Offers lists what can still be bought. A look that gives two readings is
// offered once, under the name the diagnosis asks for it by.
func (d *Desk) Offers() []Offer {
	var out []Offer
	for _, q := range car.Quantities() {
		if q == car.Low || q == car.High || q == car.LowIdle || d.has(q) {
			continue
		}
		if _, ok := d.Puzzle.Case.Readings[q]; ok {
			e := q.Info()
			out = append(out, Offer{q, e.Minutes})
		}
	}
	return out
}

// Buy takes a measurement that is on offer and reports whether it was.
func (d *Desk) Buy(q car.Quantity) bool {
	for _, o := range d.Offers() {
		if o.Quantity == q {
			d.bought = append(d.bought, q)
			return true
		}
	}
	return false
}

// has reports whether a measurement was bought.
func (d *Desk) has(q car.Quantity) bool { return slices.Contains(d.bought, q) }

// Bought lists what was bought, in order.
func (d *Desk) Bought() []car.Quantity { return slices.Clone(d.bought) }

// Minutes is what was spent.
func (d *Desk) Minutes() float64 {
	sum := 0.0
	for _, q := range d.bought {
		sum += q.Info().Minutes
	}
	return sum
}

// MinutePoints is what a minute costs: a measurement of twenty minutes as much as a
// small step in confidence. Judgement. It is the same whatever is said, so that honesty
// pays as before.
const MinutePoints = 0.25

// Cost is what the minutes spent cost, in points.
func (d *Desk) Cost() float64 { return MinutePoints * d.Minutes() }

// Waiting is what "cannot tell yet" earns where it is right. Who measured nothing has
// not looked, and earns nothing.
func (d *Desk) Waiting() float64 {
	if len(d.bought) == 0 {
		return 0
	}
	return EvenPoints(len(d.Puzzle.Answers())) - d.Cost()
}

// Case is the puzzle's case as far as it is known at the desk.
func (d *Desk) Case() car.Case {
	c := d.Puzzle.Case
	known := car.Readings{}
	take := func(q car.Quantity) {
		if r, ok := c.Readings[q]; ok {
			known[q] = r
		}
	}
	take(car.Low)
	take(car.High)
	for _, q := range d.bought {
		take(q)
		take(together[q]) // "" is no reading
	}
	c.Readings = known
	return c
}
