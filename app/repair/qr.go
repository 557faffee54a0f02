package repair

import (
	"html"
	"strconv"
	"strings"

	"rsc.io/qr/coding"
)

// mostQR is the longest link that becomes a code, in bytes: version 30 at the
// lowest level of correction, 137 modules across. On a phone held up to a tablet a
// module is then still two points wide (judgement); a denser code does not scan.
const (
	mostQR    = 1732 // bytes in version 30-L [ISO18004]
	qrVersion = 30
)

// qrSVG draws a text as a QR code. ok is false if it is too long for one.
func qrSVG(text, title string) (svg string, ok bool) {
	code, ok := qrCode(text)
	if !ok {
		return "", false
	}
	const quiet = 4 // modules of white around it, as the standard asks
	var path strings.Builder
	for y := range code.Size {
		for x := 0; x < code.Size; x++ {
			run := 0
			for x+run < code.Size && code.Black(x+run, y) {
				run++
			}
			if run > 0 {
				path.WriteString("M" + strconv.Itoa(x+quiet) + " " + strconv.Itoa(y+quiet) + "h" + strconv.Itoa(run) + "v1h-" + strconv.Itoa(run) + "z")
				x += run
			}
		}
	}
	size := strconv.Itoa(code.Size + 2*quiet)
	return `<svg viewBox="0 0 ` + size + ` ` + size + `" role="img" aria-label="` + html.EscapeString(title) + `" shape-rendering="crispEdges">` +
		`<rect class="paper" width="` + size + `" height="` + size + `"/><path class="ink" d="` + path.String() + `"/></svg>`, true
}

// qrCode is the smallest code that holds the text, as bytes: a link in base64url
// has both cases.
func qrCode(text string) (*coding.Code, bool) {
	enc := coding.String(text)
	for v := coding.Version(coding.MinVersion); v <= qrVersion; v++ {
		if enc.Bits(v) > v.DataBytes(coding.L)*8 {
			continue
		}
		plan, err := coding.NewPlan(v, coding.L, 0)
		if err != nil {
			return nil, false
		}
		code, err := plan.Encode(enc)
		return code, err == nil
	}
	return nil, false
}
