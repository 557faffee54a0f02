package chart_test

import (
	"testing"

	"twoneedles/refrig/reftest"
)

// TestGolden holds every sample picture and its sentence to what was looked at
// and found good. make golden rewrites them; look at them again then.
func TestGolden(t *testing.T) {
	for _, s := range samples() {
		f, err := s.make(s.opts)
		if err != nil {
			t.Errorf("%s: %v", s.name, err)
			continue
		}
		reftest.Golden(t, "chart/"+s.name+".svg", f.SVG+"\n")
		reftest.Golden(t, "chart/"+s.name+".txt", f.Summary+"\n")
	}
}
