package job

import (
	"reflect"
	"time"
)

// Difference names a field in which two jobs differ, as "Before.Readings.low.Text", and
// "" where they say the same. When a job was changed, and what was learnt then, is no
// difference.
func Difference(a, b Job) string {
	a.Updated, a.Learnt = b.Updated, b.Learnt
	return difference(reflect.ValueOf(a), reflect.ValueOf(b))
}

func difference(a, b reflect.Value) string {
	join := func(name, below string) string {
		if below == "." {
			return name
		}
		return name + "." + below
	}
	switch {
	case a.Kind() == reflect.Struct && a.Type() != reflect.TypeFor[time.Time]():
		for i := range a.NumField() {
			if d := difference(a.Field(i), b.Field(i)); d != "" {
				return join(a.Type().Field(i).Name, d)
			}
		}
		return ""
	case a.Kind() == reflect.Map:
		var least string // maps have no order; the answer must be the same every time
		for _, m := range [][2]reflect.Value{{a, b}, {b, a}} {
			for _, k := range m[0].MapKeys() {
				other := m[1].MapIndex(k)
				if !other.IsValid() { // an empty field is absent
					other = reflect.Zero(a.Type().Elem())
				}
				d := difference(m[0].MapIndex(k), other)
				if name := join(k.String(), d); d != "" && (least == "" || name < least) {
					least = name
				}
			}
		}
		return least
	}
	if reflect.DeepEqual(a.Interface(), b.Interface()) {
		return ""
	}
	return "."
}
