package chart_test

import (
	"encoding/xml"
	"fmt"
	"math"
	"os"
	"regexp"
	"strconv"
	"strings"
	"testing"

	. "twoneedles/chart"
	"twoneedles/chart/svg"
	"twoneedles/chart/svg/svgtest"
	"twoneedles/refrig/unit"
)

type label struct {
	text string
	box  svg.Rect
}

// labelsOf reads the texts of a picture and the room they take.
func labelsOf(t *testing.T, s string) []label {
	t.Helper()
	var out []label
	d := xml.NewDecoder(strings.NewReader(s))
	for {
		tok, err := d.Token()
		if err != nil {
			return out
		}
		e, ok := tok.(xml.StartElement)
		if !ok || e.Name.Local != "text" {
			continue
		}
		var v struct {
			Class  string  `xml:"class,attr"`
			X      float64 `xml:"x,attr"`
			Y      float64 `xml:"y,attr"`
			Anchor string  `xml:"text-anchor,attr"`
			Text   string  `xml:",chardata"`
		}
		if err := d.DecodeElement(&v, &e); err != nil {
			t.Fatal(err)
		}
		a := svg.Anchor(v.Anchor)
		if a == "" {
			a = svg.Start
		}
		out = append(out, label{v.Text, svg.TextBox(svg.Class(v.Class), svg.Pt{X: v.X, Y: v.Y}, a, v.Text)})
	}
}

// Every sample is sound, its labels lie within the picture and off each other,
// and its table is as wide as its head.
func TestSamplesAreLegible(t *testing.T) {
	for _, s := range samples() {
		for _, u := range []unit.Units{unit.US(), InKPa(), unit.Metric()} {
			name := s.name + " in " + string(u.Pressure)
			o := s.opts
			o.Units = u
			f, err := s.make(o)
			if err != nil {
				t.Errorf("%s: %v", name, err)
				continue
			}
			if err := svgtest.Check(f.SVG); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			var w, h float64
			if _, err := fmt.Sscanf(regexp.MustCompile(`viewBox="([^"]*)"`).FindStringSubmatch(f.SVG)[1], "0 0 %g %g", &w, &h); err != nil {
				t.Fatal(err)
			}
			ls := labelsOf(t, f.SVG)
			if len(ls) == 0 {
				t.Errorf("%s: no labels", name)
			}
			for i, a := range ls {
				if a.box.X0 < -0.1 || a.box.X1 > w+0.1 || a.box.Y0 < 0 || a.box.Y1 > h {
					t.Errorf("%s: %q leaves the picture: %v", name, a.text, a.box)
				}
				for _, b := range ls[:i] {
					if a.box.Overlaps(b.box) {
						t.Errorf("%s: %q and %q overlap: %v %v", name, a.text, b.text, a.box, b.box)
					}
				}
			}
			if f.Table.Caption == "" || len(f.Table.Rows) == 0 {
				t.Errorf("%s: empty table", name)
			}
			all := f.SVG + f.Summary + f.Table.Caption + strings.Join(f.Table.Head, "")
			for _, r := range f.Table.Rows {
				all += strings.Join(r, "")
				if len(r) != len(f.Table.Head) {
					t.Errorf("%s: row %v under head %v", name, r, f.Table.Head)
				}
			}
			if strings.Contains(all, "⟨") || strings.ContainsAny(all, "{}") || strings.Contains(all, "NaN") {
				t.Errorf("%s: a word is missing: %s", name, all)
			}
		}
	}
}

// The colours of the style sheet against its paper: what is read first 7:1, all
// other words 4.5:1, lines that mean something 3:1 (WCAG 2.2, 1.4.6, 1.4.3 and
// 1.4.11), in light, dark and print.
func TestContrast(t *testing.T) {
	b, err := os.ReadFile("../static/css/chart.css")
	if err != nil {
		t.Fatal(err)
	}
	least := map[string]float64{"ink": 7, "low": 7, "high": 7, "soft": 4.5, "edge": 3}
	blocks := regexp.MustCompile(`(?s)\{[^{}]*--c-paper:[^{}]*\}`).FindAllString(string(b), -1)
	checked := 0
	for i, block := range blocks {
		c := map[string]float64{}
		for _, m := range regexp.MustCompile(`--c-([a-z-]+): #([0-9a-f]+);`).FindAllStringSubmatch(block, -1) {
			c[m[1]] = luminance(t, m[2])
		}
		if _, ok := c["paper"]; !ok {
			continue // forced colours are the system's
		}
		for name, want := range least {
			grounds := []string{"paper", "wide", "core"}
			switch name {
			case "low":
				grounds = append(grounds, "low-wide")
			case "high":
				grounds = append(grounds, "high-wide")
			case "edge":
				grounds = []string{"paper"}
			}
			for _, ground := range grounds {
				if ground != "paper" {
					want = math.Min(want, 4.5) // words stand on a rim of paper there
				}
				checked++
				if got := contrast(c[name], c[ground]); got < want {
					t.Errorf("block %d: %s on %s is %.2f:1, want %g:1", i, name, ground, got, want)
				}
			}
		}
	}
	if len(blocks) != 5 || checked < 48 {
		t.Errorf("%d blocks of colours, %d pairs", len(blocks), checked)
	}
}

// luminance is the relative luminance of WCAG 2.2.
func luminance(t *testing.T, hex string) float64 {
	t.Helper()
	if len(hex) == 3 {
		hex = string([]byte{hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]})
	}
	v, err := strconv.ParseUint(hex, 16, 32)
	if err != nil {
		t.Fatal(err)
	}
	lin := func(c uint64) float64 {
		x := float64(c&255) / 255
		if x <= 0.04045 {
			return x / 12.92
		}
		return math.Pow((x+0.055)/1.055, 2.4)
	}
	return 0.2126*lin(v>>16) + 0.7152*lin(v>>8) + 0.0722*lin(v)
}

func contrast(a, b float64) float64 { return (math.Max(a, b) + 0.05) / (math.Min(a, b) + 0.05) }

// A name that has no room beside its chance stands above it, whole.
func TestOddsCutNoName(t *testing.T) {
	for _, s := range samples() {
		if s.name != "odds_in_words" {
			continue
		}
		f, err := s.make(s.opts)
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(f.SVG, ">Everything else together<") || strings.Contains(f.SVG, "…") {
			t.Errorf("a name is cut short: %s", f.SVG)
		}
	}
}
