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

func (s *surface) at(i int, x weights, j int, y weights) float64 {
	k := i*s.w + j
	p := s.c[k : k+4 : k+4]
	q := s.c[k+s.w : k+s.w+4 : k+s.w+4]
	r := s.c[k+2*s.w : k+2*s.w+4 : k+2*s.w+4]
	t := s.c[k+3*s.w : k+3*s.w+4 : k+3*s.w+4]
	return x.a*(y.a*p[0]+y.b*p[1]+y.c*p[2]+y.d*p[3]) +
		x.b*(y.a*q[0]+y.b*q[1]+y.c*q[2]+y.d*q[3]) +
		x.c*(y.a*r[0]+y.b*r[1]+y.c*r[2]+y.d*r[3]) +
		x.d*(y.a*t[0]+y.b*t[1]+y.c*t[2]+y.d*t[3])
}
