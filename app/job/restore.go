package job

import (
	"bytes"
	"encoding/json"
	"io"
	"math"
	"slices"
	"strings"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// MaxBytes is the largest job that is read, maxText the longest text in it and MaxTitle the
// longest title or name, in characters. A full job is a few kilobytes.
const (
	MaxBytes = 1 << 20
	maxText  = 4000
	maxField = present.MaxText
	MaxTitle = 120
)

// Codes of [Error], with the words error.<code>.
const (
	TooBig    = "restore_too_big"   // {size} {max}, kilobytes
	Truncated = "restore_truncated" // the text ends before the job does
	Damaged   = "restore_damaged"   // it is no JSON
	Foreign   = "restore_foreign"   // it is something else
	Future    = "restore_future"    // {version} {known}: made by a newer version
	BadLink   = "link_bad"          // the fragment is no job
	BadPacked = "link_damaged"      // the fragment was cut or changed
)

// Codes of the warnings of [Restore], with the words warning.<code>.
const (
	WarnDropped = "restore_dropped"   // n values this version does not know
	WarnShort   = "restore_shortened" // n texts were longer than a field holds
	WarnCleared = "restore_cleared"   // n choices that are not on the menu
)

// Error is a failure to read a job or to keep one. Its words are error.<code>.
type Error struct {
	What string
	Args map[string]any
	Err  error // the cause, if there is one
}

func (e *Error) Error() string {
	if e.Err != nil {
		return "job: " + e.What + ": " + e.Err.Error()
	}
	return "job: " + e.What
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// Code makes e a [present.Coded].
func (e *Error) Code() (string, map[string]any) { return e.What, e.Args }

// migrations[i] brings a decoded job from version i+1 to i+2. A new version adds
// one and keeps the others, so that every old file and link still opens.
var migrations = []func(map[string]any){inMinutes}

// inMinutes writes the unit beside a time to equalise: version 1 read a bare number as
// minutes, later ones as seconds.
func inMinutes(m map[string]any) {
	for _, visit := range []string{"before", "after"} {
		v, _ := m[visit].(map[string]any)
		readings, _ := v["readings"].(map[string]any)
		r, _ := readings[string(car.EqualiseTime)].(map[string]any)
		for _, key := range []string{"text", "lo", "hi"} {
			if text, ok := r[key].(string); ok {
				if e, err := present.Parse(text, unit.Duration, unit.Minute); err == nil && !e.Typed {
					r[key] = text + " " + string(unit.Minute)
				}
			}
		}
	}
}

// Restore reads a job from outside the program: storage, a file, a link. It
// migrates old versions, which loses nothing and needs no warning, drops what it does not
// know, cuts texts that no field holds and clears choices that are not on the menu; the
// warnings count them. It runs nothing and trusts nothing. The error is an *[Error]; no bytes can panic.
func Restore(b []byte) (Job, []refrig.Warning, error) {
	m, err := decodeUpTo(b, MaxBytes)
	if err != nil {
		return Job{}, nil, err
	}
	return fromMap(m)
}

func decodeUpTo(b []byte, limit int) (map[string]any, error) {
	if len(b) > limit {
		return nil, &Error{What: TooBig, Args: map[string]any{"size": len(b) / 1024, "max": limit / 1024}}
	}
	dec := json.NewDecoder(bytes.NewReader(b))
	var v any
	if err := dec.Decode(&v); err != nil {
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			return nil, &Error{What: Truncated, Err: err}
		}
		return nil, &Error{What: Damaged, Err: err}
	}
	m, ok := v.(map[string]any)
	if !ok || dec.More() {
		return nil, &Error{What: Foreign}
	}
	return m, nil
}

func fromMap(m map[string]any) (Job, []refrig.Warning, error) {
	if m["format"] != Format {
		return Job{}, nil, &Error{What: Foreign}
	}
	version, ok := m["version"].(float64)
	if !ok || version < 1 || version != math.Trunc(version) {
		return Job{}, nil, &Error{What: Foreign}
	}
	if version > Version {
		return Job{}, nil, &Error{What: Future, Args: map[string]any{"version": int(min(version, 1e9)), "known": Version}}
	}
	var w warnings
	for v := int(version); v < Version; v++ {
		migrations[v-1](m)
	}
	j := w.fill(m)
	w.clean(&j)
	return j, w.list(), nil
}

// warnings counts what was changed, by code.
type warnings map[string]int

func (w *warnings) count(code string, n int) {
	if n == 0 {
		return
	}
	if *w == nil {
		*w = warnings{}
	}
	(*w)[code] += n
}

func (w warnings) list() []refrig.Warning {
	var out []refrig.Warning
	for code, n := range w {
		out = append(out, refrig.Warning{Code: code, Args: map[string]float64{"n": float64(n)}})
	}
	slices.SortFunc(out, func(a, b refrig.Warning) int { return strings.Compare(a.Code, b.Code) })
	return out
}

// fill decodes what the policy knows. A value of the wrong type is dropped
// alone: json.Unmarshal goes on after it.
func (w *warnings) fill(m map[string]any) Job {
	kept, dropped := keep(m, "", browser)
	w.count(WarnDropped, dropped)
	b, err := json.Marshal(kept)
	if err != nil {
		panic("job: " + err.Error()) // it came from JSON
	}
	var j Job
	if err := json.Unmarshal(b, &j); err != nil {
		w.count(WarnDropped, 1)
	}
	j.Format, j.Version = Format, Version
	return j
}
