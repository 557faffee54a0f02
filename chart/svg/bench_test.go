package svg

import "testing"

// BenchmarkPlot times what go-chart draws for us: axes, a band and six curves.
func BenchmarkPlot(b *testing.B) {
	curve := make([]Pt, 40)
	band := make([]BandAt, 40)
	for i := range curve {
		x := float64(i)
		curve[i] = Pt{x, 2 * x}
		band[i] = BandAt{x, x, 2 * x}
	}
	ticks := Ticks(0, 80, 5)
	b.ReportAllocs()
	for b.Loop() {
		c := New("bench", "title", "description", 360, 320)
		p := c.Plot(Rect{50, 20, 350, 290}, Axis{0, 40, Ticks(0, 40, 5)}, Axis{0, 80, ticks})
		p.Axes()
		p.Band(LowBand, band)
		for range 6 {
			p.Line(Line, curve)
		}
		if _, err := c.String(); err != nil {
			b.Fatal(err)
		}
	}
}
