package fast

// axis divides lo…hi into n equal cells of a cubic B-spline with n+3
// coefficients.
type axis struct {
	lo, inv float64 // inv is n/(hi − lo)
	n       int
}

func newAxis(lo, hi float64, n int) axis { return axis{lo, float64(n) / (hi - lo), n} }

// weights are the values of the four B-splines that are not zero in a cell.
type weights struct{ a, b, c, d float64 }

// cell returns the cell of x and the place within it, 0…1. Outside, the place
// lies outside 0…1 and the spline of the border cell goes on.
func (g *axis) cell(x float64) (i int, u float64) {
	t := (x - g.lo) * g.inv
	i = min(max(int(t), 0), g.n-1)
	return i, t - float64(i)
}

// values returns the weights of the spline at place u of a cell.
func values(u float64) weights {
	v := 1 - u
	u2, v2 := u*u, v*v
	return weights{
		v2 * v / 6,
		2./3 - u2*(1-u/2),
		2./3 - v2*(1-v/2),
		u2 * u / 6,
	}
}

// slopes returns the weights of the derivative in units of a cell.
func slopes(u float64) weights {
	v := 1 - u
	return weights{
		-v * v / 2,
		u * (1.5*u - 2),
		-v * (1.5*v - 2),
		u * u / 2,
	}
}

// surface is a spline over two axes: coefficient (i, j) at c[i*w+j].
type surface struct {
	w int
	c []float64
}

// at returns the spline where the coefficients that matter begin at c[k].
func (s *surface) at(k int, x, y weights) float64 {
	p := s.c[k : k+4 : k+4]
	q := s.c[k+s.w : k+s.w+4 : k+s.w+4]
	r := s.c[k+2*s.w : k+2*s.w+4 : k+2*s.w+4]
	t := s.c[k+3*s.w : k+3*s.w+4 : k+3*s.w+4]
	return y.a*(x.a*p[0]+x.b*q[0]+x.c*r[0]+x.d*t[0]) +
		y.b*(x.a*p[1]+x.b*q[1]+x.c*r[1]+x.d*t[1]) +
		y.c*(x.a*p[2]+x.b*q[2]+x.c*r[2]+x.d*t[2]) +
		y.d*(x.a*p[3]+x.b*q[3]+x.c*r[3]+x.d*t[3])
}

// both returns the spline with weights y and, from the same sums, with d.
func (s *surface) both(k int, x, y, d weights) (v, dv float64) {
	p := s.c[k : k+4 : k+4]
	q := s.c[k+s.w : k+s.w+4 : k+s.w+4]
	r := s.c[k+2*s.w : k+2*s.w+4 : k+2*s.w+4]
	t := s.c[k+3*s.w : k+3*s.w+4 : k+3*s.w+4]
	e := x.a*p[0] + x.b*q[0] + x.c*r[0] + x.d*t[0]
	f := x.a*p[1] + x.b*q[1] + x.c*r[1] + x.d*t[1]
	g := x.a*p[2] + x.b*q[2] + x.c*r[2] + x.d*t[2]
	h := x.a*p[3] + x.b*q[3] + x.c*r[3] + x.d*t[3]
	return y.a*e + y.b*f + y.c*g + y.d*h, d.a*e + d.b*f + d.c*g + d.d*h
}
