package chart_test

import "testing"

// BenchmarkFigures times every picture whole: checks, sentence, table and SVG.
// Under WebAssembly each has to stay below 3 ms, as it is drawn at a keystroke.
func BenchmarkFigures(b *testing.B) {
	for _, s := range samples() {
		b.Run(s.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				f, err := s.make(s.opts)
				if err != nil {
					b.Fatal(err)
				}
				b.SetBytes(int64(len(f.SVG)))
			}
		})
	}
}
