package cycle

import (
	"testing"

	"twoneedles/refrig/reftest"
)

// Broyden's update gives back the step it was made from, J Δz = Δr (the secant
// condition, which defines it together with leaving alone what is across Δz).
func TestBroydenKeepsTheSecant(t *testing.T) {
	J := [nAll]vec{{2, 0.3, -0.1, 0.5}, {-0.4, 1.5, 0.2, 0}, {0.1, 0.6, -1.2, 0.3}, {0, -0.2, 0.4, 0.9}}
	old := J
	z, zn := vec{0.1, -0.2, 0.3, 0.4}, vec{0.25, -0.1, 0.1, 0.55}
	r, rn := vec{0.5, -0.3, 0.2, 0.1}, vec{0.1, 0.2, -0.05, 0.3}
	broyden(&J, z, zn, r, rn, nAll)
	dz := vec{}
	for i := range dz {
		dz[i] = zn[i] - z[i]
	}
	across := vec{dz[1], -dz[0], dz[3], -dz[2]} // at right angles
	for i := range nAll {
		along, aside, before := 0.0, 0.0, 0.0
		for j := range nAll {
			along += J[i][j] * dz[j]
			aside += J[i][j] * across[j]
			before += old[i][j] * across[j]
		}
		reftest.Close(t, "J Δz", along, rn[i]-r[i], 1e-12, "rounding")
		reftest.Close(t, "J across Δz", aside, before, 1e-12, "rounding")
	}
}
