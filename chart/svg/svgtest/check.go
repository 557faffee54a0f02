// Package svgtest checks a picture from outside, by reading its text as a
// browser would, without the code that drew it.
package svgtest

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
)

var (
	pathNumber = regexp.MustCompile(`-?\d+(\.\d+)?`)
	pathForm   = regexp.MustCompile(`^(M-?\d+(\.\d)? -?\d+(\.\d)?(L-?\d+(\.\d)? -?\d+(\.\d)?)*Z?)+$`)
)

// Check returns what is wrong with the picture: XML that is not well formed, no
// accessible name, an id used twice, a style or script, or a coordinate that is
// not finite or outside the view box.
func Check(s string) error {
	d := xml.NewDecoder(strings.NewReader(s))
	var w, h float64
	ids := map[string]bool{}
	first := true
	for {
		tok, err := d.Token()
		if err == io.EOF {
			if first {
				return errors.New("no element")
			}
			return nil
		}
		if err != nil {
			return err
		}
		e, ok := tok.(xml.StartElement)
		if !ok {
			continue
		}
		at := map[string]string{}
		for _, a := range e.Attr {
			at[a.Name.Local] = a.Value
			if n := a.Name.Local; n == "style" || n == "fill" || n == "stroke" || strings.HasPrefix(n, "on") || n == "href" {
				return fmt.Errorf("attribute %s on %s", n, e.Name.Local)
			}
		}
		if first {
			first = false
			if e.Name.Local != "svg" || at["role"] != "img" || at["aria-labelledby"] == "" {
				return fmt.Errorf("begins with %s, role %q, name %q", e.Name.Local, at["role"], at["aria-labelledby"])
			}
			if _, err := fmt.Sscanf(at["viewBox"], "0 0 %g %g", &w, &h); err != nil {
				return err
			}
			continue
		}
		if id := at["id"]; id != "" {
			if ids[id] {
				return fmt.Errorf("id %s twice", id)
			}
			ids[id] = true
		}
		if err := element(e.Name.Local, at, w, h); err != nil {
			return err
		}
	}
}

func element(name string, at map[string]string, w, h float64) error {
	const slack = 0.051 // the resolution of what is written
	x := func(v float64) error {
		if !(v >= -slack && v <= w+slack) {
			return fmt.Errorf("%s %v: x = %g is outside 0 to %g", name, at, v, w)
		}
		return nil
	}
	y := func(v float64) error {
		if !(v >= -slack && v <= h+slack) {
			return fmt.Errorf("%s %v: y = %g is outside 0 to %g", name, at, v, h)
		}
		return nil
	}
	num := func(k string) float64 {
		v, err := strconv.ParseFloat(at[k], 64)
		if err != nil {
			return math.NaN()
		}
		return v
	}
	switch name {
	case "title", "desc":
		return nil
	case "path":
		if !pathForm.MatchString(at["d"]) {
			return fmt.Errorf("path %q", at["d"])
		}
		for i, s := range pathNumber.FindAllString(at["d"], -1) {
			v, _ := strconv.ParseFloat(s, 64)
			check := x
			if i%2 == 1 {
				check = y
			}
			if err := check(v); err != nil {
				return err
			}
		}
		return nil
	case "circle":
		r := num("r")
		return errors.Join(x(num("cx")-r), x(num("cx")+r), y(num("cy")-r), y(num("cy")+r))
	case "rect":
		return errors.Join(x(num("x")), x(num("x")+num("width")), y(num("y")), y(num("y")+num("height")))
	case "g":
		return nil
	case "text":
		return errors.Join(x(num("x")), y(num("y")))
	}
	return fmt.Errorf("unexpected element %s", name)
}
