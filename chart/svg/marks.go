package svg

import "math"

// Around is the square round p that reaches r to every side.
func Around(p Pt, r float64) Rect {
	return Rect{X0: p.X - r, Y0: p.Y - r, X1: p.X + r, Y1: p.Y + r}
}

// Marker draws the mark of the line of rank i: circle, square, triangle, diamond, so
// that lines are told apart without colour.
func (c *Canvas) Marker(i int, p Pt) {
	corner := func(dx, dy float64) Pt { return Pt{X: p.X + dx, Y: p.Y + dy} }
	switch i {
	case 0:
		c.Circle(Mark, p, 4.5)
	case 1:
		c.Path(Mark, []Pt{corner(-4, -4), corner(4, -4), corner(4, 4), corner(-4, 4)}, true)
	case 2:
		c.Path(Mark, []Pt{corner(0, -5), corner(5, 4), corner(-5, 4)}, true)
	default:
		c.Path(Mark, []Pt{corner(0, -5.5), corner(5.5, 0), corner(0, 5.5), corner(-5.5, 0)}, true)
	}
}

// ErrorBar draws a bar with caps where there is room for them.
func (p *Plot) ErrorBar(class Class, a, b Pt) {
	if math.Hypot(b.X-a.X, b.Y-a.Y) < 13 {
		return // the point that stands on it is larger
	}
	p.Whisker(class, a, b)
}

// Whisker is a line with a stop at either end, on the canvas; the stops end at the axes.
func (p *Plot) Whisker(class Class, a, b Pt) {
	const half = 3.5
	p.c.Segment(class, a, b)
	for _, q := range []Pt{a, b} {
		u, v := Pt{X: q.X - half, Y: q.Y}, Pt{X: q.X + half, Y: q.Y}
		if a.Y == b.Y {
			u, v = Pt{X: q.X, Y: q.Y - half}, Pt{X: q.X, Y: q.Y + half}
		}
		u.X, v.X = max(u.X, p.Area.X0), min(v.X, p.Area.X1)
		u.Y, v.Y = max(u.Y, p.Area.Y0), min(v.Y, p.Area.Y1)
		p.c.Segment(class, u, v)
	}
}
