package readings

import "testing"

// Saturation stands under a needle as soon as it is typed, before there is an answer:
// R-134a at 28 psi, 294.4 kPa, boils at 0.1 °C (testdata/eos/sat_R134a.csv), and what
// is not known of the gas is said.
func TestSaturationStandsUnderEachNeedle(t *testing.T) {
	b := open(t)
	b.Enter("low", "28")
	b.Has("low-saturation", "32 °F")
	b.Has("low-saturation", "R-134a")
	b.Enter("low", "in 29")
	if got := b.Text("low-saturation"); got != "" {
		t.Errorf("a deep vacuum saturates at %q", got)
	}
	// With a pipe temperature 14 °F above it there is a superheat of 14 °F, and a band.
	b.three("28", "180", "90").Enter("suction_line", "46").Enter("liquid_line", "105")
	b.Has("low-heat", "superheat 14 °F")
	b.Has("low-heat", "healthy")
	b.Has("high-heat", "subcooling")
	// R-134a at 180 psi condenses at 123.0 °F (same table).
	b.Has("high-heat", "18 °F")
	b.Enter("suction_line", "20")
	b.Has("low-heat", "colder than saturation")
}
