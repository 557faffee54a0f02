package job

import (
	"cmp"
	"encoding/csv"
	"encoding/json"
	"strconv"
	"strings"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/unit"
)

// FileFormat marks an exported file.
const FileFormat = "twoneedles-jobs"

// MaxFile is the largest file that is read, in bytes.
const MaxFile = 16 << 20

// container is an exported file; SCHEMA.md documents it.
type container struct {
	Format   string            `json:"format"`
	Version  int               `json:"version"`
	Exported time.Time         `json:"exported"`
	Fit      string            `json:"fit"` // of the program that wrote it: see [diagnose.FitID]
	Jobs     []json.RawMessage `json:"jobs"`
}

// Export writes jobs as one file to hand on, indented so that a person can read it:
// without the shop, the technician, the plate and the odometer.
func Export(jobs []Job, now time.Time) []byte { return write(jobs, now, file) }

// Backup writes jobs as one file that holds everything.
func Backup(jobs []Job, now time.Time) []byte { return write(jobs, now, file|backup) }

func write(jobs []Job, now time.Time, to place) []byte {
	c := container{FileFormat, Version, now.UTC().Truncate(time.Second), diagnose.FitID(), []json.RawMessage{}}
	for _, j := range jobs {
		c.Jobs = append(c.Jobs, j.portion(to))
	}
	b, err := json.MarshalIndent(c, "", "  ")
	if err != nil {
		panic("job: " + err.Error())
	}
	return append(b, '\n')
}

// Imported is what a file held.
type Imported struct {
	Jobs     []Job
	Warnings []refrig.Warning // summed over the jobs
	Failed   int              // jobs in the file that could not be read
	// OtherFit: the file says that it was written under another fit of the model, which
	// may have answered the same readings otherwise.
	OtherFit bool
}

// Import reads an exported file, or a file with a single job. A job in it that
// cannot be read is counted and does not stop the others; if none can be, the
// first one's *[Error] is returned.
func Import(b []byte) (Imported, error) {
	f, err := OpenFile(b)
	if err != nil {
		return Imported{}, err
	}
	for f.Left() > 0 {
		f.Next()
	}
	return f.Imported()
}

// File is one that is read a job at a time: it may hold thousands.
type File struct {
	raw   []json.RawMessage // what is left
	in    Imported
	sum   warnings
	first error
}

// OpenFile finds the jobs in a file that [Import] would read, with its errors.
func OpenFile(b []byte) (*File, error) {
	if len(b) > MaxFile {
		return nil, &Error{What: TooBig, Args: map[string]any{"size": len(b) / 1024, "max": MaxFile / 1024}}
	}
	raw, fit, err := split(b)
	if err != nil {
		return nil, err
	}
	return &File{raw: raw, in: Imported{OtherFit: fit != "" && fit != diagnose.FitID()}}, nil
}

// Left is how many jobs are left to read.
func (f *File) Left() int { return len(f.raw) }

// Next reads one of those that are left; ok is false if it cannot be read.
func (f *File) Next() (j Job, ok bool) {
	j, warn, err := Restore(f.raw[0])
	f.raw = f.raw[1:]
	if err != nil {
		f.in.Failed++
		if f.first == nil {
			f.first = err
		}
		return j, false
	}
	for _, w := range warn {
		f.sum.count(w.Code, int(w.Args["n"]))
	}
	f.in.Jobs = append(f.in.Jobs, j)
	return j, true
}

// Imported is what was read so far. The error is that of the first job if none could be.
func (f *File) Imported() (Imported, error) {
	in := f.in
	in.Warnings = f.sum.list()
	if len(in.Jobs) == 0 && f.first != nil {
		return Imported{}, f.first
	}
	return in, nil
}

// split returns the jobs in a file as they are, and the fit it was written under, "" if
// it does not say.
func split(b []byte) (jobs []json.RawMessage, fit string, err error) {
	var c container
	err = json.Unmarshal(b, &c)
	if err != nil || c.Format != FileFormat {
		if m, err := decodeUpTo(b, MaxFile); err != nil {
			return nil, "", err
		} else if m["format"] == Format {
			return []json.RawMessage{b}, "", nil
		}
		return nil, "", &Error{What: Foreign}
	}
	if c.Version > Version {
		return nil, "", &Error{What: Future, Args: map[string]any{"version": c.Version, "known": Version}}
	}
	if c.Version < 1 {
		return nil, "", &Error{What: Foreign}
	}
	return c.Jobs, c.Fit, nil
}

// Add saves imported jobs. A job that is here already, unchanged, is skipped; one
// that differs from what is here is saved beside it under a new id, so that
// nothing is lost. It stops at the first that cannot be written.
func (s *Store) Add(jobs []Job) (added int, err error) {
	for _, j := range jobs {
		have, _, err := s.Load(j.ID)
		switch {
		case err == nil && have.covers(j):
			continue
		case err == nil || IsUnreadable(err):
			_, err = s.SaveCopy(j)
		default:
			err = s.Save(j)
		}
		if err != nil {
			return added, err
		}
		added++
	}
	return added, nil
}

// covers tells whether j holds all that other does; other may have come without what
// leaves the device only by choice.
func (j Job) covers(other Job) bool {
	for to, from := range map[*string]string{&other.Shop: j.Shop, &other.Plate: j.Plate, &other.Odometer: j.Odometer,
		&other.Technician: j.Technician, &other.OfCar: j.OfCar} {
		*to = cmp.Or(*to, from)
	}
	if other.LeftOut == nil {
		other.LeftOut = j.LeftOut
	}
	other.Learnt = j.Learnt
	other.Before.Sound = other.Before.Sound || j.Before.Sound
	other.After.Sound = other.After.Sound || j.After.Sound
	return string(j.portion(browser)) == string(other.portion(browser))
}

// IsUnreadable tells a job that is here but damaged from one that is not here.
func IsUnreadable(err error) bool {
	e, ok := err.(*Error)
	return ok && e.What != StoreMissing && e.What != StoreDenied
}

// CSV returns the readings of jobs as comma-separated values, one line per
// reading: as typed, and in SI.
func CSV(jobs []Job) string {
	var b strings.Builder
	w := csv.NewWriter(&b)
	w.Write([]string{"job", "title", "created", "visit", "quantity", "as_typed", "unit_selected", "value_SI", "lowest_SI", "highest_SI", "unit_SI", "choice"})
	for _, j := range jobs {
		before, _ := j.Case()
		after, _ := j.CaseAfter()
		j.rows(w, "before", j.Before, before)
		if !j.After.Empty() {
			j.rows(w, "after", j.After, after)
		}
	}
	w.Flush()
	return b.String()
}

func (j Job) rows(w *csv.Writer, visit string, v Visit, c car.Case) {
	head := []string{j.ID, harmless(j.Title), j.Created.Format(time.RFC3339), visit}
	row := func(id present.FieldID, typed, choice, value, lo, hi string) {
		k := field(id).Kind
		name := ""
		if k != unit.Choice {
			name = string(j.Units.For(k))
		}
		w.Write(append(append([]string{}, head...), string(id), harmless(typed), name, value, lo, hi, siUnit(k), choice))
	}
	for _, id := range VisitFields {
		text := v.Text[id]
		if text == "" {
			continue
		}
		value := ""
		if e, p := present.Read(text, field(id), j.Units); p == nil || p.Level != present.Refused {
			value = si(e.Value)
		}
		row(id, text, "", value, "", "")
	}
	for _, q := range Quantities {
		typed, ok := v.Readings[q]
		if !ok {
			continue
		}
		text := typed.Text
		if typed.Swing {
			text = typed.Lo + " to " + typed.Hi
		}
		r, read := c.Readings[q]
		var value, lo, hi string
		if read && r.Choice == "" {
			value = si(r.Value)
			if r.Swing {
				lo, hi = si(r.Lo), si(r.Hi)
			}
		}
		row(present.FieldID(q), text, r.Choice, value, lo, hi)
	}
}

// siUnit names the unit of a kind's SI value for a spreadsheet.
func siUnit(k unit.Kind) string {
	return map[unit.Kind]string{
		unit.GaugePressure: "Pa gauge", unit.AbsolutePressure: "Pa", unit.Temperature: "K",
		unit.Length: "m", unit.Duration: "s", unit.Speed: "1/min", unit.Rate: "1/min",
		unit.Fraction: "1", unit.Mass: "1", // recovered mass is a share of the label charge
	}[k]
}

func si(x float64) string { return strconv.FormatFloat(x, 'g', 6, 64) }

// harmless keeps a spreadsheet from running a text as a formula: what starts
// like one and is no number gets a quotation mark in front.
func harmless(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r", rune(s[0])) {
		return s
	}
	if _, err := strconv.ParseFloat(s, 64); err == nil {
		return s
	}
	return "'" + s
}
