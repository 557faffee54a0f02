package makers

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/optimize"
	"gonum.org/v1/gonum/stat/distuv"

	"twoneedles/refrig/cycle"
	"twoneedles/refrig/fleet"
)

// house is the cells of one maker as the fit sees them. A maker's tables share what is
// peculiar to it (several print the same range for every car); each table has a car
// and a test of its own.
type house struct {
	maker string
	cells []Cell
	y     *mat.VecDense // what is printed
	kind  []int         // 0 low, 1 high, 2 vent, by row of y
	cell  []int         // by row of y
	doubt []float64     // of each row: see Cell.doubt
	f     *mat.VecDense // what the model shows at the present shifts, mean over tests
	jac   *mat.Dense    // rows × shifts
	c     *mat.SymDense // covariance over tests
}

// same reports whether rows i and j are of one table.
func (t *house) same(i, j int) bool { return t.cells[t.cell[i]].Table == t.cells[t.cell[j]].Table }

// Result is a fitted fleet.
type Result struct {
	Shift         map[string]float64 // of the medians, from what was judged
	SD            map[string]float64 // standard error of each shift
	Low, High     fleet.Error        // ln of the absolute pressure
	Vent          fleet.Error        // K
	Cells, Values int

	mu  []float64
	at  []float64     // shifts the tables were last linearised at
	cov *mat.SymDense // of mu
}

const tests = 48 // draws of what a table leaves open

func group(cells []Cell) []*house {
	var out []*house
	at := map[string]*house{}
	for _, c := range cells {
		t := at[c.Maker]
		if t == nil {
			t = &house{maker: c.Maker}
			at[c.Maker] = t
			out = append(out, t)
		}
		i := len(t.cells)
		t.cells = append(t.cells, c)
		for k, y := range c.y() {
			if !math.IsNaN(y) {
				t.kind, t.cell, t.doubt = append(t.kind, k), append(t.cell, i), append(t.doubt, c.doubt()[k])
				if t.y == nil {
					t.y = mat.NewVecDense(1, []float64{y})
					continue
				}
				t.y = mat.NewVecDense(t.y.Len()+1, append(t.y.RawVector().Data, y))
			}
		}
	}
	return out
}

// linearise works out f, J and C at the shifts mu.
func (t *house) linearise(mu []float64) error {
	n, p := t.y.Len(), len(fleet.Ids)
	shift := func(k int, by float64) map[string]float64 {
		m := map[string]float64{}
		for i, id := range fleet.Ids {
			m[id] = mu[i]
			if i == k {
				m[id] += by
			}
		}
		return m
	}
	at := func(seed uint64, k int, by float64) ([]float64, error) {
		out := make([]float64, n)
		var v [3]float64
		var w test
		var plant *cycle.Plant
		name, last := "", -1
		for i := range out {
			c := &t.cells[t.cell[i]]
			if c.Table != name {
				name = c.Table
				w = drawTest(fleet.NewRand(seed<<8+uint64(t.cell[i])), c)
				var err error
				if plant, err = fleet.TypicalShifted(w.spec, shift(k, by)); err != nil {
					return nil, err
				}
			}
			if t.cell[i] != last {
				last = t.cell[i]
				var err error
				if v, err = shows(plant, w.conditions(c)); err != nil {
					return nil, err
				}
			}
			out[i] = v[t.kind[i]]
		}
		return out, nil
	}
	var drawn [][]float64
	jac := mat.NewDense(n, p, nil)
	with := 0
	for k := range 4 * tests {
		if len(drawn) == tests {
			break
		}
		seed := uint64(1000 + k) // the same draws each time: the fit must not chase them
		mid, err := at(seed, -1, 0)
		if err != nil {
			continue
		}
		drawn = append(drawn, mid)
		if k%4 != 0 { // derivatives vary little between tests
			continue
		}
		one := mat.NewDense(n, p, nil)
		ok := true
		for j := range fleet.Ids {
			sd, _ := fleet.Judged(fleet.Ids[j])
			up, err1 := at(seed, j, sd)
			down, err2 := at(seed, j, -sd)
			if errors.Join(err1, err2) != nil {
				ok = false
				break
			}
			for i := range n {
				one.Set(i, j, (up[i]-down[i])/(2*sd))
			}
		}
		if ok {
			jac.Add(jac, one)
			with++
		}
	}
	if len(drawn) < tests/2 || with == 0 {
		return errors.New("makers: the model has no state for the tables of " + t.maker)
	}
	jac.Scale(1/float64(with), jac)
	t.jac = jac
	t.f = mat.NewVecDense(n, nil)
	t.c = mat.NewSymDense(n, nil)
	for i := range n {
		for _, d := range drawn {
			t.f.SetVec(i, t.f.AtVec(i)+d[i]/float64(len(drawn)))
		}
	}
	for i := range n {
		for j := i; j < n; j++ {
			s := 0.0
			for _, d := range drawn {
				s += (d[i] - t.f.AtVec(i)) * (d[j] - t.f.AtVec(j))
			}
			if t.same(i, j) {
				t.c.SetSym(i, j, s/float64(len(drawn)-1))
			}
		}
	}
	return nil
}

// covariance of y about f given the errors.
func (t *house) covariance(e [3]fleet.Error) *mat.SymDense {
	n := t.y.Len()
	v := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			s := t.c.At(i, j)
			for k, id := range fleet.Ids {
				if sd, _ := fleet.Judged(id); t.same(i, j) {
					s += t.jac.At(i, k) * t.jac.At(j, k) * sd * sd
				}
			}
			if t.same(i, j) && t.kind[i] == t.kind[j] { // a maker who accepts much does so in every row
				s += t.doubt[i] * t.doubt[j]
			}
			if t.kind[i] == t.kind[j] {
				s += e[t.kind[i]].Between * e[t.kind[i]].Between
				if i == j {
					s += e[t.kind[i]].Within * e[t.kind[i]].Within
				}
			}
			v.SetSym(i, j, s)
		}
	}
	return v
}

// given finds the shifts for given errors and −2 ln of the posterior density. from
// are the shifts at which the tables were linearised.
func given(houses []*house, from []float64, e [3]fleet.Error) (mu []float64, cov *mat.SymDense, cost float64) {
	p := len(fleet.Ids)
	a := mat.NewSymDense(p, nil) // precision of mu
	b := mat.NewVecDense(p, nil)
	for k, id := range fleet.Ids {
		sd := prior(id)
		a.SetSym(k, k, 1/(sd*sd))
	}
	type part struct {
		ch  mat.Cholesky
		res *mat.VecDense
	}
	parts := make([]part, len(houses))
	for i, t := range houses {
		v := t.covariance(e)
		if !parts[i].ch.Factorize(v) {
			return nil, nil, math.Inf(1)
		}
		res := mat.NewVecDense(t.y.Len(), nil) // y − (f − J from): what J mu must explain
		res.MulVec(t.jac, mat.NewVecDense(p, from))
		res.AddVec(res, t.y)
		res.SubVec(res, t.f)
		parts[i].res = res
		var vj mat.Dense
		if parts[i].ch.SolveTo(&vj, t.jac) != nil {
			return nil, nil, math.Inf(1)
		}
		var jvj mat.Dense
		jvj.Mul(t.jac.T(), &vj)
		var jvr mat.VecDense
		jvr.MulVec(vj.T(), res)
		b.AddVec(b, &jvr)
		for i := range p {
			for j := i; j < p; j++ {
				a.SetSym(i, j, a.At(i, j)+jvj.At(i, j))
			}
		}
		cost += parts[i].ch.LogDet()
	}
	var ch mat.Cholesky
	if !ch.Factorize(a) {
		return nil, nil, math.Inf(1)
	}
	m := mat.NewVecDense(p, nil)
	if ch.SolveVecTo(m, b) != nil {
		return nil, nil, math.Inf(1)
	}
	for i, t := range houses {
		var r, w mat.VecDense
		r.MulVec(t.jac, m)
		r.SubVec(parts[i].res, &r)
		if parts[i].ch.SolveVecTo(&w, &r) != nil {
			return nil, nil, math.Inf(1)
		}
		cost += mat.Dot(&r, &w)
	}
	for k, id := range fleet.Ids {
		sd := prior(id)
		cost += m.AtVec(k) * m.AtVec(k) / (sd * sd)
	}
	cost += ch.LogDet() // shifts integrated out, so that the errors are not taken too small
	cov = mat.NewSymDense(p, nil)
	if ch.InverseTo(cov) != nil {
		return nil, nil, math.Inf(1)
	}
	return m.RawVector().Data, cov, cost
}

// prior is how well the median of a size is known before the tables are seen, as a
// standard deviation. What is sold by size and named on its label (compressors,
// orifice tubes, switches) is known about half as well as cars differ in it; what
// nobody prints (conductances, flows of air, hot air that comes back) is known worse
// than that. Judgement.
func prior(id string) float64 {
	sd, _ := fleet.Judged(id)
	switch id {
	case "displacement", "orificeBore", "setPoint", "finOff", "finTarget", "fanStep", "valveSH":
		return 0.5 * sd
	}
	return 1.5 * sd
}

// fitTables finds errors and shifts with the tables linearised at from.
func fitTables(houses []*house, from []float64) (mu []float64, cov *mat.SymDense, e [3]fleet.Error) {
	unpack := func(x []float64) (e [3]fleet.Error) {
		for k := range e {
			e[k] = fleet.Error{Between: math.Exp(x[2*k]), Within: math.Exp(x[2*k+1])}
		}
		return e
	}
	problem := optimize.Problem{Func: func(x []float64) float64 {
		_, _, cost := given(houses, from, unpack(x))
		for k, v := range x { // a weak prior keeps an error that the tables do not see from running off
			d := v - start[k]
			cost += d * d / 4
		}
		return cost
	}}
	res, err := optimize.Minimize(problem, start, &optimize.Settings{MajorIterations: 400}, &optimize.NelderMead{})
	x := start
	if err == nil || res != nil {
		x = res.X
	}
	e = unpack(x)
	mu, cov, _ = given(houses, from, e)
	for k := range e {
		e[k].Between *= fewHouses(len(houses))
	}
	return mu, cov, e
}

// fewHouses widens what differs between makers for being known from n of them: what
// the next maker's car shows follows Student's distribution with n − 1 degrees of
// freedom, and a normal one with the same middle 90 % stands for it.
func fewHouses(n int) float64 {
	t := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: math.Max(float64(n-1), 2)}
	return t.Quantile(0.95) / distuv.UnitNormal.Quantile(0.95)
}

// start are ln of the errors before anything is fitted: 6 % and 3 % of pressure, 2 K
// and 1 K. Judgement.
var start = []float64{math.Log(0.06), math.Log(0.03), math.Log(0.06), math.Log(0.03), math.Log(2), math.Log(1)}

// rounds is how often the tables are linearised anew.
const rounds = 4

// Fit fits the fleet to the cells of cars among cells.
func Fit(cells []Cell) (*Result, []*house, error) {
	var used []Cell
	for _, c := range cells {
		if c.Fits() && c.OfACar() {
			used = append(used, c)
		}
	}
	houses := group(used)
	mu := make([]float64, len(fleet.Ids))
	r := &Result{}
	for range rounds {
		for _, t := range houses {
			if err := t.linearise(mu); err != nil {
				return nil, nil, err
			}
		}
		var e [3]fleet.Error
		r.at = mu
		mu, r.cov, e = fitTables(houses, mu)
		if mu == nil {
			return nil, nil, errors.New("makers: the fit found no solution")
		}
		r.mu = mu
		r.Low, r.High, r.Vent = e[0], e[1], e[2]
	}
	r.Shift, r.SD = map[string]float64{}, map[string]float64{}
	for i, id := range fleet.Ids {
		r.Shift[id], r.SD[id] = mu[i], math.Sqrt(r.cov.At(i, i))
	}
	for _, t := range houses {
		r.Cells += len(t.cells)
		r.Values += t.y.Len()
	}
	return r, houses, nil
}

// Left is a value of a table that the fit had not seen.
type Left struct {
	Cell       string
	Kind       int // 0 low, 1 high, 2 vent
	Ambient    float64
	Off, SD    float64 // printed less predicted, and its standard deviation
	Other      float64 // where a cell has both needles: the high side's Off …
	OtherSD    float64
	Covariance float64 // … and what it shares with the low side's
}

// LeaveOneOut predicts the tables of each maker from those of the others, at the
// linearisation of r.
func LeaveOneOut(r *Result, houses []*house) []Left {
	var out []Left
	seen := map[string]bool{}
	for _, t := range houses {
		if seen[t.maker] {
			continue
		}
		seen[t.maker] = true
		var rest, left []*house
		for _, k := range houses {
			if k.maker == t.maker {
				left = append(left, k)
			} else {
				rest = append(rest, k)
			}
		}
		mu, cov, e := fitTables(rest, r.at)
		if mu == nil {
			continue
		}
		for _, k := range left {
			out = append(out, k.predicted(mu, r.at, cov, e)...)
		}
	}
	return out
}

func (t *house) predicted(mu, from []float64, cov *mat.SymDense, e [3]fleet.Error) []Left {
	p := len(mu)
	v := t.covariance(e)
	d := mat.NewVecDense(p, nil)
	for i := range p {
		d.SetVec(i, mu[i]-from[i])
	}
	var at mat.VecDense
	at.MulVec(t.jac, d)
	at.AddVec(&at, t.f)
	var jc mat.Dense
	jc.Mul(t.jac, cov)
	var jcj mat.Dense
	jcj.Mul(&jc, t.jac.T())
	out := make([]Left, t.y.Len())
	for i := range out {
		c := &t.cells[t.cell[i]]
		out[i] = Left{Cell: c.ID, Kind: t.kind[i], Ambient: c.Ambient, Off: t.y.AtVec(i) - at.AtVec(i), SD: math.Sqrt(v.At(i, i) + jcj.At(i, i))}
	}
	for i := range out {
		if out[i].Kind != 0 {
			continue
		}
		for j := range out {
			if out[j].Kind == 1 && t.cell[i] == t.cell[j] {
				out[i].Other, out[i].OtherSD, out[i].Covariance = out[j].Off, out[j].SD, v.At(i, j)+jcj.At(i, j)
			}
		}
	}
	return out
}
