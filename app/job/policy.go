package job

import "strings"

// A place a job may go to.
type place int

const (
	browser  place = 1 << iota // this device
	link                       // the fragment of a link to the whole job, a QR code
	file                       // an exported file
	readings                   // the fragment of a link to the readings alone
	named                      // with a link or a file, where somebody chose so
	backup                     // the file of everything, which stays with its owner
	sheet                      // with the link to the customer's sheet, which shows it
)

// policy says for every field of a [Job], by its path in the JSON, where it may
// go; "*" stands for the keys of a map and the items of a list. A field that is
// not here goes nowhere and is dropped when it comes in. A test holds the table
// and the struct together.
var policy = map[string]place{
	"format":     browser | link | file | readings,
	"version":    browser | link | file | readings,
	"id":         browser | file, // a link makes a new job: it must not overwrite one
	"created":    browser | file,
	"updated":    browser | file | sheet, // which is of a day
	"title":      browser | link | file,
	"example":    browser | link | file | readings,
	"shop":       browser | named | backup | sheet,
	"plate":      browser | named | backup,
	"odometer":   browser | named | backup,
	"technician": browser | named | backup,
	"tellIn":     browser | link | file,
	"ofCar":      browser | backup,
	"leftOut.*":  browser | backup,

	"table.*.ambient": browser | link | file | readings,
	"table.*.low":     browser | link | file | readings,
	"table.*.high":    browser | link | file | readings,
	"table.*.vent":    browser | link | file | readings,

	"learnt": browser | link | file | readings,

	"past.*.months":      browser | link | file | readings,
	"past.*.charge":      browser | link | file | readings,
	"past.*.refrigerant": browser | link | file | readings,
	"past.*.air.*":       browser | link | file | readings,
	"past.*.recirc":      browser | link | file | readings,
	"past.*.doors":       browser | link | file | readings,
	"past.*.soaked":      browser | link | file | readings,
	"past.*.readings.*":  browser | link | file | readings,

	"notes": browser | file, // private: a link may be passed on

	"units.pressure":    browser | link | file | readings,
	"units.temperature": browser | link | file | readings,
	"units.mass":        browser | link | file | readings,
	"units.volume":      browser | link | file | readings,
	"units.length":      browser | link | file | readings,
	"units.vacuum":      browser | link | file | readings,
	"units.inHg":        browser | link | file | readings,

	"car.refrigerant": browser | link | file | readings,
	"car.metering":    browser | link | file | readings,
	"car.compressor":  browser | link | file | readings,
	"car.highPort":    browser | link | file | readings,
	"car.size":        browser | link | file | readings,
	"car.evaporators": browser | link | file | readings,
	"car.system":      browser | link | file | readings,

	// What the answer depends on; the others belong to the repair.
	"text.label_charge": browser | link | file | readings,
	"text.service_low":  browser | link | file | readings,
	"text.service_high": browser | link | file | readings,
	"text.soak":         browser | link | file | readings,
	"text.resting_high": browser | link | file | readings,
	"text.*":            browser | link | file,

	"before.text.*":            browser | link | file | readings,
	"before.recirc":            browser | link | file | readings,
	"before.sound":             browser | backup, // said of a car that is known here
	"after.sound":              browser | backup,
	"before.doors":             browser | link | file | readings,
	"before.engine":            browser | link | file | readings,
	"before.readings.*.text":   browser | link | file | readings,
	"before.readings.*.swing":  browser | link | file | readings,
	"before.readings.*.lo":     browser | link | file | readings,
	"before.readings.*.hi":     browser | link | file | readings,
	"before.readings.*.choice": browser | link | file | readings,
	"before.log.start":         browser | file, // a log is long, and of the shop
	"before.log.points.*.time": browser | file,
	"before.log.points.*.low":  browser | file,
	"before.log.points.*.high": browser | file,
	"before.log.points.*.vent": browser | file,
	"before.log.clicks.*":      browser | file,
	"after.text.*":             browser | link | file,
	"after.recirc":             browser | link | file,
	"after.doors":              browser | link | file,
	"after.engine":             browser | link | file,
	"after.readings.*.text":    browser | link | file,
	"after.readings.*.swing":   browser | link | file,
	"after.readings.*.lo":      browser | link | file,
	"after.readings.*.hi":      browser | link | file,
	"after.readings.*.choice":  browser | link | file,
	"after.log.start":          browser | file, // a log is long, and of the shop
	"after.log.points.*.time":  browser | file,
	"after.log.points.*.low":   browser | file,
	"after.log.points.*.high":  browser | file,
	"after.log.points.*.vent":  browser | file,
	"after.log.clicks.*":       browser | file,

	"repair.done.*":          browser | link | file,
	"repair.leaksFound.*":    browser | link | file,
	"repair.parts.*":         browser | link | file,
	"repair.soaked":          browser | link | file | readings,
	"repair.opened":          browser | link | file,
	"repair.suddenLeak":      browser | link | file,
	"repair.retest":          browser | link | file,
	"repair.broken":          browser | link | file,
	"repair.flushed":         browser | link | file,
	"repair.hoses":           browser | link | file,
	"repair.oil":             browser | link | file,
	"repair.cause":           browser | link | file,
	"repair.foundAt":         browser | file, // of the shop's record
	"repair.work":            browser | link | file,
	"repair.hold.*.time":     browser | link | file,
	"repair.hold.*.pressure": browser | link | file,
	"repair.holdStart":       browser | file, // a clock that runs in one shop
}

// maxItems bounds every map and list of a job; the longest real one, the hold
// test, has a few dozen.
const maxItems = 200

// keep returns the part of a decoded JSON value that may go to p, and how many
// values were dropped. path is "" at the top.
func keep(v any, path string, p place) (kept any, dropped int) {
	switch v := v.(type) {
	case map[string]any:
		out := map[string]any{}
		for k, item := range v {
			sub := child(path, k)
			if sub == "" || len(out) >= maxItems {
				dropped++
				continue
			}
			val, n := keep(item, sub, p)
			dropped += n
			if val != nil {
				out[k] = val
			}
		}
		if len(out) == 0 {
			return nil, dropped
		}
		return out, dropped
	case []any:
		var out []any
		for _, item := range v {
			if len(out) >= maxItems {
				dropped++
				continue
			}
			val, n := keep(item, path+".*", p)
			dropped += n
			if val != nil {
				out = append(out, val)
			}
		}
		if out == nil {
			return nil, dropped
		}
		return out, dropped
	case nil:
		return nil, 0
	}
	if policy[path]&p == 0 {
		return nil, 1
	}
	return v, 0
}

// child returns the policy path of key k below path, "" if there is none.
func child(path, k string) string {
	if path != "" {
		path += "."
	}
	for _, sub := range []string{path + k, path + "*"} {
		if paths[sub] {
			return sub
		}
	}
	return ""
}

// paths holds every path of the policy and every path above one.
var paths = func() map[string]bool {
	m := map[string]bool{}
	for p := range policy {
		for ok := true; ok; {
			m[p] = true
			i := strings.LastIndexByte(p, '.')
			if ok = i >= 0; ok {
				p = p[:i]
			}
		}
	}
	return m
}()
