package svg

import (
	"math"
	"math/bits"
)

// Placer finds room for labels beside what they name: direct labels instead of
// a legend. It is greedy, so the most important label goes first, and it has no
// randomness, so the same picture comes out the same.
type Placer struct {
	Inside Rect // labels stay in here
	solid  []Rect
	lines  inkMap
}

// inkMap remembers which cells of the canvas lines pass through, one bit each,
// so that asking what a label would cover is a few words of counting and not a
// walk along every line. It covers 512 by 512 units, more than any picture.
type inkMap [128][2]uint64

const cell = 4 // units; finer than a letter is wide

func (m *inkMap) add(p Pt) {
	x, y := int(p.X)/cell, int(p.Y)/cell
	if p.X >= 0 && p.Y >= 0 && x < 128 && y < 128 {
		m[y][x/64] |= 1 << (x % 64)
	}
}

// count returns how many cells that touch r hold ink.
func (m *inkMap) count(r Rect) int {
	x0, x1 := max(int(r.X0)/cell, 0), min(int(r.X1)/cell, 127)
	if x1 < x0 {
		return 0
	}
	var mask [2]uint64
	for x := x0; x <= x1; x++ {
		mask[x/64] |= 1 << (x % 64)
	}
	n := 0
	for y := max(int(r.Y0)/cell, 0); y <= min(int(r.Y1)/cell, 127); y++ {
		n += bits.OnesCount64(m[y][0]&mask[0]) + bits.OnesCount64(m[y][1]&mask[1])
	}
	return n
}

// Block keeps labels off r.
func (p *Placer) Block(r Rect) { p.solid = append(p.solid, r) }

// Avoid asks labels to keep off the line through pts where they can.
func (p *Placer) Avoid(pts []Pt) {
	for i := 1; i < len(pts); i++ {
		dx, dy := pts[i].X-pts[i-1].X, pts[i].Y-pts[i-1].Y
		n := min(int(math.Hypot(dx, dy)/cell)+1, 200)
		for k := range n + 1 {
			f := float64(k) / float64(n)
			p.lines.add(Pt{pts[i-1].X + f*dx, pts[i-1].Y + f*dy})
		}
	}
}

// AvoidLine is Avoid for a line of the plot, in axis units, as far as it is drawn.
func (p *Placer) AvoidLine(on *Plot, pts []Pt) {
	for _, part := range on.Clip(pts) {
		for i := range part {
			part[i] = on.At(part[i])
		}
		p.Avoid(part)
	}
}

// Put writes s where Place finds room for it.
func (p *Placer) Put(c *Canvas, class Class, s string, places ...Pt) {
	at, a, _ := p.Place(class, s, places...)
	c.Text(class, at, a, s)
}

// Place returns the baseline and anchor for s beside one of the places it may
// stand at, and keeps the room taken; clear tells whether it hides no other
// label. The directions are tried right, left, above, below, then the corners,
// then the same further out; the cheapest wins.
func (p *Placer) Place(class Class, s string, places ...Pt) (at Pt, a Anchor, clear bool) {
	size, width := class.Size(), TextWidth(class, s)
	type spot struct {
		dx, dy float64
		a      Anchor
	}
	spots := []spot{
		{1, 0, Start}, {-1, 0, End}, {0, -1, Middle}, {0, 1, Middle},
		{.8, -.8, Start}, {.8, .8, Start}, {-.8, -.8, End}, {-.8, .8, End},
		{0, -1, Start}, {0, -1, End}, {0, 1, Start}, {0, 1, End},
	}
	best, bestCost := spot{}, math.Inf(1)
	var bestAt Pt
	var bestBox Rect
	for _, at := range places {
		for _, far := range []float64{8, 13, 20, 30, 44, 62} {
			for i, sp := range spots {
				q := Pt{at.X + sp.dx*far, at.Y + sp.dy*far + (ascent-descent)/2*size + sp.dy*size*0.4}
				box := textBox(size, width, q, sp.a)
				cost := far/2 + float64(i)/4
				if cost >= bestCost {
					continue
				}
				if cost += p.cost(box); cost < bestCost {
					best, bestCost, bestAt, bestBox = sp, cost, q, box
				}
			}
		}
	}
	defer p.Block(bestBox)
	return bestAt, best.a, p.free(bestBox)
}

// free tells whether a label at box leaves every other label alone and stays
// inside; lines it may cross.
func (p *Placer) free(box Rect) bool {
	in := p.Inside
	if box.X0 < in.X0 || box.X1 > in.X1 || box.Y0 < in.Y0 || box.Y1 > in.Y1 {
		return false
	}
	for _, r := range p.solid {
		if r.Overlaps(box) {
			return false
		}
	}
	return true
}

// cost weighs what a label at box would hide: leaving the picture is worst, then
// another label, then a line (judgement).
func (p *Placer) cost(box Rect) float64 {
	cost := 0.0
	out := max(0, p.Inside.X0-box.X0) + max(0, box.X1-p.Inside.X1) +
		max(0, p.Inside.Y0-box.Y0) + max(0, box.Y1-p.Inside.Y1)
	if out > 0 {
		cost += 1000 + 10*out
	}
	for _, r := range p.solid {
		if w, h := min(r.X1, box.X1)-max(r.X0, box.X0), min(r.Y1, box.Y1)-max(r.Y0, box.Y0); w > 0 && h > 0 {
			cost += 100 + w*h/10
		}
	}
	cost += 1.5 * float64(p.lines.count(Rect{box.X0 - 2, box.Y0 - 2, box.X1 + 2, box.Y1 + 2}))
	return cost
}
