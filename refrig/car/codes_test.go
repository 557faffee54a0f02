package car_test

import (
	"slices"
	"testing"

	"twoneedles/refrig/car"
)

// Saved jobs and links hold these codes: they must go on meaning the same.
func TestCodesAreStable(t *testing.T) {
	check(t, car.Meterings(), car.MeteringOf, map[car.Metering]string{car.MeteringUnknown: "", car.OrificeTube: "orifice_tube", car.ExpansionValve: "expansion_valve"})
	check(t, car.Compressors(), car.CompressorOf, map[car.Compressor]string{car.CompressorUnknown: "", car.Fixed: "fixed", car.Variable: "variable", car.Electric: "electric"})
	check(t, car.HighPorts(), car.HighPortOf, map[car.HighPort]string{car.PortUnknown: "", car.PortDischarge: "discharge", car.PortLiquid: "liquid"})
	check(t, car.DoorPositions(), car.DoorsOf, map[car.Doors]string{car.DoorsUnknown: "", car.DoorsOpen: "open", car.DoorsClosed: "closed"})
	check(t, car.Sizes(), car.SizeOf, map[car.Size]string{car.SizeUnknown: "", car.SizeSmall: "small", car.SizeMedium: "medium", car.SizeLarge: "large"})
}

type kind interface {
	~int
	Code() string
}

// check goes through codes and values in both directions and beyond both ends.
func check[K kind](t *testing.T, codes []string, of func(string) (K, bool), want map[K]string) {
	t.Helper()
	if len(codes) != len(want) || codes[0] != "" {
		t.Errorf("%T: codes %q for %d values", *new(K), codes, len(want))
	}
	for k, code := range want {
		if k.Code() != code || !slices.Contains(codes, code) {
			t.Errorf("%T %d is %q, want %q in %q", k, k, k.Code(), code, codes)
		}
		if back, ok := of(code); !ok || back != k {
			t.Errorf("%q is %T %d, %v, want %d", code, k, back, ok, k)
		}
	}
	for _, k := range []K{-1, K(len(codes))} {
		if k.Code() != "" {
			t.Errorf("%T %d is no kind, but has the code %q", k, k, k.Code())
		}
	}
	if k, ok := of("steam"); ok || k != 0 {
		t.Errorf("%T: a code that is none gives %d, %v", k, k, ok)
	}
}
