package diagnose

import (
	"math"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/internal/nets"
)

// memory is what an inference knows from earlier visits.
type memory struct {
	nets.Past
	leak  nets.LeakOdds
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
	n, last := a.m.nets, latest(a.c.Earlier)
	w := &memory{leak: nets.LeakOddsOf(last.Months, last.Charge), alone: released(a.p), z: make([]float32, nets.MemoryInputs)}
	w.Past = n.Recall(a.x, visits, last.Months, last.Charge > 0, &a.s)
	w.Fill(w.z, a.x, a.sd)
	for i, v := range a.p {
		w.z[nets.InAnswer+i] = nets.AnswerInput(v)
	}
	w.pre = n.Memory.First(w.z, nil)
	y := n.Memory.Rest(w.pre, &w.s)
	a.p = nets.Corrected(a.p, w.leak, y)
	w.wrong = 1 / (1 + math.Exp(-float64(y[len(conditions)])))
	a.mem = w
	return nil
}

// earlier are the visits of the case as inputs.
func (k *setting) earlier() ([]nets.Visited, error) {
	if k.visits != nil {
		return k.visits, nil
	}
	var all []nets.Visited
	for i := range k.c.Earlier {
		x, err := nets.See(&k.c, &k.c.Earlier[i], &k.shift)
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
	k, ok := nets.RememberedAt[i]
	if !ok || w.N[k] == 0 {
		return
	}
	// A standing of exactly nought is a quantity that was hidden.
	at := nets.InThen + nets.ThenSize*k
	both, moved := float32(0), float32(0)
	if v != 0 {
		both, moved = 1, v-w.z[at+nets.ThenStood]
	}
	net.Shift(w.probe, at+nets.ThenBoth, both-w.z[at+nets.ThenBoth])
	net.Shift(w.probe, at+nets.ThenMoved, moved-w.z[at+nets.ThenMoved])
}

// end is the answer p without the visits, corrected, for the variation.
func (w *memory) end(net *mlp.Net, p []float64) []float64 {
	for i, v := range p {
		net.Shift(w.probe, nets.InAnswer+i, nets.AnswerInput(v)-w.z[nets.InAnswer+i])
	}
	return nets.Corrected(p, w.leak, net.Rest(w.probe, &w.s))
}
