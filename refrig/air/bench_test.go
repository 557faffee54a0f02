package air_test

import (
	"testing"

	"twoneedles/refrig/air"
)

var sink float64

func bench(b *testing.B, f func(T float64) float64) {
	b.ReportAllocs()
	for i := range b.N {
		sink += f(275 + float64(i&63))
	}
}

func BenchmarkHumidityRatio(b *testing.B) {
	bench(b, func(T float64) float64 { return air.HumidityRatio(T, 0.4, 101325) })
}

func BenchmarkHSatSlope(b *testing.B) {
	bench(b, func(T float64) float64 { h, _ := air.HSatSlope(T, 101325); return h })
}

func BenchmarkWetBulb(b *testing.B) {
	bench(b, func(T float64) float64 { return air.WetBulb(T, 0.005, 101325) })
}
