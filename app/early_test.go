package app

import (
	"encoding/xml"
	"fmt"
	"io"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
)

// The fields that static/index.html shows before the program has come are those that the
// program draws for an empty job, element by element: nothing jumps when it comes.
func TestFirstFieldsAreTheRealOnes(t *testing.T) {
	in := newRooms(page.New(present.English(), nil, job.Memory{}))
	drawn := app.HTMLString(in.readings.View())
	static, err := os.ReadFile("../static/index.html")
	if err != nil {
		t.Fatal(err)
	}
	inputs := regexp.MustCompile(`<section [^>]*"card readouts"`)
	want, got := outline(t, drawn[inputs.FindStringIndex(drawn)[0]:]), outline(t, string(static[inputs.FindIndex(static)[0]:]))
	if len(want) < 60 {
		t.Fatalf("the program draws only %q", want)
	}
	for i := range max(len(want), len(got)) {
		if i >= len(want) || i >= len(got) || want[i] != got[i] {
			t.Fatalf("after %q the page has %q, the program draws %q", want[max(0, i-3):i], got[min(i, len(got)):min(i+3, len(got))], want[i:min(i+3, len(want))])
		}
	}
}

// looked are the attributes that are compared.
var looked = []string{"for", "d", "viewBox", "type", "inputmode", "autocomplete", "enterkeyhint", "autocapitalize", "spellcheck", "maxlength", "placeholder"}

// outline lists the elements of the section that html begins with, and what they say. What
// shows in other states alone is left out: notes that are hidden, and what stands for them.
func outline(t *testing.T, html string) (lines []string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(html))
	d.Strict, d.AutoClose, d.Entity = false, xml.HTMLAutoClose, xml.HTMLEntity
	w := present.English()
	depth := 0
	for {
		token, err := d.Token()
		if err == io.EOF {
			t.Fatalf("the section does not end: %q", lines)
		} else if err != nil {
			t.Fatal(err)
		}
		switch el := token.(type) {
		case xml.CharData:
			if text := strings.TrimSpace(string(el)); text != "" {
				lines = append(lines, "says "+text)
			}
		case xml.EndElement:
			if depth--; depth == 0 {
				return lines
			}
		case xml.StartElement:
			depth++
			is := map[string]string{}
			for _, a := range el.Attr {
				is[a.Name.Local] = a.Value
			}
			classes := strings.Fields(is["class"])
			if _, hidden := is["hidden"]; hidden && is["class"] == "" && el.Name.Local == "div" || slices.Contains(classes, "about") || slices.Contains(classes, "start") {
				continue
			}
			if label := is["data-label"]; label != "" {
				is["aria-label"] = w.T(label)
			}
			classes = slices.DeleteFunc(classes, func(c string) bool { return c == "first" })
			line := el.Name.Local + "." + strings.Join(classes, ".")
			for _, name := range looked {
				if value, ok := is[name]; ok {
					line += fmt.Sprintf(" %s=%q", name, value)
				}
			}
			if el.Name.Local == "input" {
				line += " id=" + is["id"]
			}
			if el.Name.Local != "button" { // a drawn one says of which side it is
				line += " " + is["aria-label"]
			}
			key := is["data-words"]
			if key == "" || el.Name.Local != "span" || len(classes) > 0 { // a bare span only carries a text
				lines = append(lines, line)
			}
			if key != "" {
				lines = append(lines, "says "+w.T(key))
			}
		}
	}
}
