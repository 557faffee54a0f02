package main

import (
	"fmt"
	"os"
	"strings"

	"twoneedles/refrig/internal/judge"
)

// reliability draws how often the leading condition was the true one against the
// probability claimed for it. The report is read outside the page, so the
// picture carries its own look and follows no style sheet.
func reliability(path string, scores []judge.Score) error {
	const w, h, pad = 420.0, 400.0, 48.0
	x := func(v float64) float64 { return pad + v*(w-pad-20) }
	y := func(v float64) float64 { return h - pad - v*(h-pad-20) }
	var b strings.Builder
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" role="img" font-family="sans-serif" font-size="12">`, w, h)
	fmt.Fprint(&b, `<title>Reliability of the leading condition</title><desc>Share of cars in which the leading condition was the true one, against the probability claimed for it. Points on the diagonal are honest. The numbers are in the table of the report.</desc>`)
	fmt.Fprintf(&b, `<rect width="%g" height="%g" fill="#fff"/><path d="M%g %gL%g %g" stroke="#999" stroke-dasharray="4 4"/>`, w, h, x(0), y(0), x(1), y(1))
	fmt.Fprintf(&b, `<path d="M%g %gV%gH%g" fill="none" stroke="#333"/>`, x(0), y(1), y(0), x(1))
	for _, t := range []float64{0, 0.25, 0.5, 0.75, 1} {
		fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">%g</text><text x="%g" y="%g" text-anchor="end">%g</text>`, x(t), y(0)+16, t, x(0)-6, y(t)+4, t)
	}
	fmt.Fprintf(&b, `<text x="%g" y="%g" text-anchor="middle">claimed</text><text x="%g" y="14">true</text>`, x(0.5), h-8, x(0)-30)
	for i, s := range scores {
		grey := 200 - 180*i/max(len(scores)-1, 1) // the more was read, the darker
		for _, bin := range s.Bins {
			if bin.N >= 30 { // fewer say nothing
				fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="4" fill="rgb(%d,%d,%d)"><title>%s: claimed %.2f, true %.2f, %d cars</title></circle>`,
					x(bin.Claimed), y(bin.True), grey, grey, grey, s.Set, bin.Claimed, bin.True, bin.N)
			}
		}
	}
	b.WriteString("</svg>\n")
	return os.WriteFile(path, []byte(b.String()), 0o644)
}
