package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// A car's memory: what earlier visits at which this very car was sound do to the
// answer. Each is put through the model of a sound car in its own weather; how far the
// car stood from its kind then (its deviation) is what is peculiar to it. The memory
// network reads that beside today's inputs and corrects the posterior:
//
//	ln p(condition | today, then) = ln p(condition | today) + ln leak odds + correction + constant
//
// Without earlier visits none of this runs, so the answer is the one without memory to
// the last bit.

// remembered are the quantities an earlier visit may bring, in a fixed order.
var remembered = func() (out []car.Quantity) {
	for _, q := range quantities {
		if sim.ReadThen(q) {
			out = append(out, q)
		}
	}
	return out
}()

// rememberedAt is the place in remembered by the place of a standing in the inputs.
var rememberedAt = func() map[int]int {
	m := map[int]int{}
	for k, q := range remembered {
		m[blocks[q].at+bStanding] = k
	}
	return m
}()

// Places of the inputs of the memory network: today's inputs as the posterior network
// has them, its answer, then a block for each remembered quantity, then the rest.
var (
	inAnswer     = inputSize
	inThen       = inAnswer + len(conditions)
	inPast       = inThen + thenSize*len(remembered)
	memoryInputs = inPast + pastSize
	// one correction a condition, and whether the visits are no ruler
	memoryOutputs = len(conditions) + 1
)

const (
	// of a remembered quantity
	thenFlag  = 0 // share of the most visits that are told apart in which it was read
	thenStood = 1 // deviation then, by today's spread
	thenBoth  = 2 // it was read today too
	thenMoved = 3 // today's standing less thenStood
	thenSize  = 4

	// of the visits as a whole
	pastMonths  = 0 // since the latest, by its logarithm
	pastWeighed = 1
	pastAmbient = 2 // outside temperature then less today's
	pastSpeed   = 3 // flag, engine speed then less today's
	pastVisits  = 5
	pastSize    = 6

	fullVisits = 3 // more count as this many: what they say is alike
)

// visited is one earlier visit as the networks see it.
type visited struct {
	context []float32 // of its weather and running, for today's car
	value   []float32 // scaled, by place in remembered
	has     []bool
}

// seen writes visit v of the car of c as inputs.
func seen(c *car.Case, v *car.Visit, by *shift) (visited, error) {
	then := car.Case{Car: c.Car, Weather: v.Weather, Running: v.Running, Rest: v.Rest}
	sc, err := newScaler(&then)
	if err != nil {
		return visited{}, err
	}
	x := visited{make([]float32, contextSize), make([]float32, len(remembered)), make([]bool, len(remembered))}
	writeContext(&then, sc, x.context)
	read := v.Readings.Steadied()
	for k, q := range remembered {
		if r, ok := read[q]; ok {
			x.has[k] = true
			x.value[k] = float32(squash(sc.in(q, r.Value) - by.of(q)))
		}
	}
	return x, nil
}

// past is what all earlier visits say together.
type past struct {
	deviation []float64 // mean over the visits, scaled, by place in remembered
	n         []float64 // visits in which it was read
	visits    int
	ambient   float64 // mean over the visits less today's, as inputs
	speed     float64
	hasSpeed  bool
	months    float64
	weighed   bool
}

// recall puts the visits through the model of sound cars. x is today's context.
func (n *nets) recall(x []float32, visits []visited, months float64, weighed bool, s *mlp.Scratch) past {
	p := past{deviation: make([]float64, len(remembered)), n: make([]float64, len(remembered)), visits: len(visits), months: months, weighed: weighed}
	speeds := 0.0
	for i := range visits {
		v := &visits[i]
		y := n.Base.Eval(v.context, s)
		for k, q := range remembered {
			if v.has[k] {
				p.deviation[k] += float64(v.value[k]) - float64(y[2*q.Place()])
				p.n[k]++
			}
		}
		p.ambient += float64(v.context[inAmbient]-x[inAmbient]) / float64(len(visits))
		if v.context[inSpeed] != 0 && x[inSpeed] != 0 {
			p.speed += float64(v.context[inSpeed+1] - x[inSpeed+1])
			speeds++
		}
	}
	for k := range remembered {
		p.deviation[k] /= math.Max(p.n[k], 1)
	}
	if p.hasSpeed = speeds > 0; p.hasSpeed {
		p.speed /= speeds
	}
	return p
}

// stood is the deviation of remembered quantity k then, by today's spread sd.
func (p *past) stood(k int, sd []float64) float32 {
	return float32(squash(p.deviation[k] / sd[remembered[k].Place()]))
}

// fill writes the inputs of the memory network but the posterior's answer into z. sd is
// today's spread of sound cars.
func (p *past) fill(z, x []float32, sd []float64) {
	clear(z)
	copy(z, x)
	for k, q := range remembered {
		if p.n[k] == 0 {
			continue
		}
		at := inThen + thenSize*k
		z[at+thenFlag] = float32(math.Min(p.n[k], fullVisits) / fullVisits)
		z[at+thenStood] = p.stood(k, sd)
		if b := blocks[q]; x[b.at+bFlag] != 0 {
			z[at+thenBoth] = 1
			z[at+thenMoved] = x[b.at+bStanding] - z[at+thenStood]
		}
	}
	z[inPast+pastMonths] = float32(math.Log1p(p.months) - 2.5)
	if p.weighed {
		z[inPast+pastWeighed] = 1
	}
	z[inPast+pastAmbient] = float32(p.ambient)
	if p.hasSpeed {
		z[inPast+pastSpeed] = 1
		z[inPast+pastSpeed+1] = float32(p.speed)
	}
	z[inPast+pastVisits] = float32(math.Min(float64(p.visits), fullVisits) / fullVisits)
}

// answerInput is how a probability enters the memory network, fromAnswerInput its
// inverse. A network cannot be surer than leastChance.
func answerInput(p float64) float32 { return float32(math.Log(math.Max(p, leastChance)) / 4) }

func fromAnswerInput(x float32) float64 { return math.Exp(4 * float64(x)) }

const leastChance = 1e-6

// corrected is p after the leak odds and the outputs y of the memory network.
func corrected(p []float64, leak leakOdds, y []float32) []float64 {
	l := make([]float32, len(p))
	for i := range p {
		l[i] = float32(math.Log(math.Max(p[i], leastChance))) + y[i]
	}
	l[undercharged] += leak.short
	l[emptied] += leak.empty
	return softmax(l)
}

var undercharged, emptied = car.Index(car.Undercharge), car.Index(car.Empty)

// leakOdds is ln of what the months since the latest visit do to the odds.
type leakOdds struct{ short, empty float32 }

func leakOddsOf(months, charge float64) leakOdds {
	short, empty := sim.LeakOdds(months, charge)
	return leakOdds{float32(math.Log(short)), float32(math.Log(empty))}
}

// memory is what an inference knows from earlier visits.
type memory struct {
	past
	leak  leakOdds
	z     []float32 // inputs
	pre   []float32 // first layer for z
	probe []float32 // the same for a variation
	alone []float64 // the answer without the visits
	wrong float64   // probability that they are no ruler
	s     mlp.Scratch
}

// remember conditions the answer on the earlier visits of the case.
func (a *Inference) remember() error {
	if len(a.c.Earlier) == 0 {
		return nil
	}
	visits, err := a.earlier()
	if err != nil {
		return err
	}
	n, last := &a.m.nets, latest(a.c.Earlier)
	w := &memory{leak: leakOddsOf(last.Months, last.Charge), alone: released(a.p), z: make([]float32, memoryInputs)}
	w.past = n.recall(a.x, visits, last.Months, last.Charge > 0, &a.s)
	w.fill(w.z, a.x, a.sd)
	for i, v := range a.p {
		w.z[inAnswer+i] = answerInput(v)
	}
	w.pre = n.Memory.First(w.z, nil)
	y := n.Memory.Rest(w.pre, &w.s)
	a.p = corrected(a.p, w.leak, y)
	w.wrong = 1 / (1 + math.Exp(-float64(y[len(conditions)])))
	a.mem = w
	return nil
}

// earlier are the visits of the case as inputs.
func (k *setting) earlier() ([]visited, error) {
	if k.visits != nil {
		return k.visits, nil
	}
	var all []visited
	for i := range k.c.Earlier {
		x, err := seen(&k.c, &k.c.Earlier[i], &k.shift)
		if err != nil {
			return nil, err
		}
		all = append(all, x)
	}
	k.visits = all
	return all, nil
}

// latest is the earlier visit that is the shortest ago; there is one.
func latest(visits []car.Visit) *car.Visit {
	best := &visits[0]
	for i := range visits {
		if visits[i].Months < best.Months {
			best = &visits[i]
		}
	}
	return best
}

// begin starts a variation of the inputs.
func (w *memory) begin() { w.probe = append(w.probe[:0], w.pre...) }

// set follows a change of input i of the posterior network to v.
func (w *memory) set(net *mlp.Net, i int, v float32) {
	net.Shift(w.probe, i, v-w.z[i])
	k, ok := rememberedAt[i]
	if !ok || w.n[k] == 0 {
		return
	}
	// A standing of exactly nought is a quantity that was hidden.
	at := inThen + thenSize*k
	both, moved := float32(0), float32(0)
	if v != 0 {
		both, moved = 1, v-w.z[at+thenStood]
	}
	net.Shift(w.probe, at+thenBoth, both-w.z[at+thenBoth])
	net.Shift(w.probe, at+thenMoved, moved-w.z[at+thenMoved])
}

// end is the answer p without the visits, corrected, for the variation.
func (w *memory) end(net *mlp.Net, p []float64) []float64 {
	for i, v := range p {
		net.Shift(w.probe, inAnswer+i, answerInput(v)-w.z[inAnswer+i])
	}
	return corrected(p, w.leak, net.Rest(w.probe, &w.s))
}
