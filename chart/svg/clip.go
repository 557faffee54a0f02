package svg

// Clip returns the parts of the line through pts that lie within the axes.
func (p *Plot) Clip(pts []Pt) [][]Pt {
	var parts [][]Pt
	var cur []Pt
	for i := 1; i < len(pts); i++ {
		a, b, ok := p.clip(pts[i-1], pts[i])
		if !ok {
			continue
		}
		if len(cur) == 0 || cur[len(cur)-1] != a {
			if len(cur) > 0 {
				parts = append(parts, cur)
			}
			cur = []Pt{a}
		}
		cur = append(cur, b)
	}
	if len(cur) > 0 {
		parts = append(parts, cur)
	}
	return parts
}

// clip cuts the segment from a to b down to what lies within the axes (Liang
// and Barsky's parametric form). NaN compares false everywhere and is dropped.
func (p *Plot) clip(a, b Pt) (Pt, Pt, bool) {
	t0, t1 := 0.0, 1.0
	dx, dy := b.X-a.X, b.Y-a.Y
	for _, e := range [4][2]float64{
		{-dx, a.X - p.X.Lo}, {dx, p.X.Hi - a.X},
		{-dy, a.Y - p.Y.Lo}, {dy, p.Y.Hi - a.Y},
	} {
		d, q := e[0], e[1]
		switch {
		case d < 0:
			t0 = max(t0, q/d)
		case d > 0:
			t1 = min(t1, q/d)
		case !(q >= 0):
			return a, b, false
		}
	}
	if !(t0 <= t1) {
		return a, b, false
	}
	from, to := a, b
	if t0 > 0 {
		from = Pt{a.X + t0*dx, a.Y + t0*dy}
	}
	if t1 < 1 {
		to = Pt{a.X + t1*dx, a.Y + t1*dy}
	}
	return from, to, true
}
