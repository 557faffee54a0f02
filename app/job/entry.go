package job

import (
	"cmp"
	"encoding/json"
	"slices"
	"strconv"
	"strings"
	"time"

	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// Entry is what a list shows of a job, and by what it is found. The store keeps it in
// front of the job, as one line: thousands of lines are read in the time of a few jobs.
type Entry struct {
	ID                 string
	Title, Plate       string
	Created, Updated   time.Time
	Low, High          string // as typed; a swing has both ends
	Pressure           unit.Unit
	Steps              int    // of [Steps], ticked off
	OfCar              string // name of its car
	Cause              string // id of the condition found
	SoundThen, SoundAt bool   // the visit before, the visit after was of a sound car

	found string // all that is searched, in small letters
}

// Name is what the job is called, else its car, else the plate; "" if none has a name.
func (e Entry) Name() string { return cmp.Or(e.Title, e.OfCar, e.Plate) }

// entryMark begins a line of this form. Another form gets another mark; a line with a
// mark that is not known is made anew from its job.
const entryMark = "e1"

// Entry is the entry of j.
func (j Job) Entry() Entry {
	needle := func(q car.Quantity) string {
		r := j.Before.Readings[q]
		switch {
		case !r.Swing:
			return r.Text
		case r.Lo == "" || r.Hi == "":
			return r.Lo + r.Hi
		}
		return r.Lo + "\u2013" + r.Hi
	}
	return Entry{
		ID: j.ID, Title: j.Title, Plate: j.Plate, Created: j.Created, Updated: j.Updated,
		Low: needle(car.Low), High: needle(car.High), Pressure: j.Units.For(unit.GaugePressure),
		Steps: len(j.Repair.Done), OfCar: j.OfCar, Cause: j.Repair.Cause,
		SoundThen: j.Before.Sound, SoundAt: j.After.Sound,
		found: strings.ToLower(strings.Join([]string{j.Title, j.OfCar, j.Plate, j.Technician, j.Shop, j.Example, j.Repair.Work, j.Notes}, " ")),
	}
}

var lineSafe = strings.NewReplacer("\t", " ", "\n", " ", "\r", " ")

// line writes e as one line.
func (e Entry) line() string {
	flag := func(on bool) string { return map[bool]string{true: "1"}[on] }
	fields := []string{
		entryMark, e.Title, e.Plate, strconv.FormatInt(e.Created.Unix(), 36), strconv.FormatInt(e.Updated.Unix(), 36),
		e.Low, e.High, string(e.Pressure), strconv.Itoa(e.Steps), e.OfCar, e.Cause,
		flag(e.SoundThen), flag(e.SoundAt), e.found,
	}
	for i, f := range fields {
		fields[i] = lineSafe.Replace(f)
	}
	return strings.Join(fields, "\t")
}

// entryOf reads a line.
func entryOf(id, line string) (e Entry, ok bool) {
	var f [14]string
	for i := range f {
		var more bool
		if f[i], line, more = strings.Cut(line, "\t"); more == (i == len(f)-1) {
			return Entry{}, false
		}
	}
	if f[0] != entryMark {
		return Entry{}, false
	}
	created, err1 := strconv.ParseInt(f[3], 36, 64)
	updated, err2 := strconv.ParseInt(f[4], 36, 64)
	steps, err3 := strconv.Atoi(f[8])
	if err1 != nil || err2 != nil || err3 != nil {
		return Entry{}, false
	}
	return Entry{
		ID: id, Title: f[1], Plate: f[2], Created: time.Unix(created, 0).UTC(), Updated: time.Unix(updated, 0).UTC(),
		Low: f[5], High: f[6], Pressure: unit.Unit(f[7]), Steps: steps, OfCar: f[9], Cause: f[10],
		SoundThen: f[11] != "", SoundAt: f[12] != "", found: f[13],
	}, true
}

// Entries lists every job, the latest first, and the ids of those that cannot be read.
// What cannot be read is left as it is.
func (s *Store) Entries() (list []Entry, unreadable []string, err error) {
	keys, err := s.at.Keys()
	if err != nil {
		err = storeError(err)
	}
	if len(s.listed) == 0 { // a map that grows by thousands takes as long as reading
		s.listed = make(map[string]*listed, len(keys))
	}
	all := make([]*Entry, 0, len(keys)+len(s.unsaved)) // an entry is some 300 bytes to move
	for id, j := range s.unsaved {
		e := j.Entry()
		e.ID = id
		all = append(all, &e)
	}
	for _, key := range keys {
		id, ok := strings.CutPrefix(key, KeyPrefix)
		if _, twice := s.unsaved[id]; !ok || twice {
			continue
		}
		e, err := s.entry(id, key)
		if err != nil {
			unreadable = append(unreadable, id)
			continue
		}
		all = append(all, e)
	}
	slices.Sort(unreadable)
	slices.SortFunc(all, latestFirst)
	list = make([]Entry, len(all))
	for i, e := range all {
		list[i] = *e
	}
	return list, unreadable, err
}

func latestFirst(a, b *Entry) int {
	if c := b.Updated.Compare(a.Updated); c != 0 {
		return c
	}
	return strings.Compare(a.ID, b.ID)
}

// entry is that of the job id, which is kept under key. It is read only.
func (s *Store) entry(id, key string) (*Entry, error) {
	text, ok, err := s.at.Get(key)
	switch {
	case err != nil:
		return nil, storeError(err)
	case !ok:
		return nil, &Error{What: StoreMissing}
	}
	if known := s.listed[id]; known != nil && known.text == text { // the very same string: found equal without looking
		return &known.entry, nil
	}
	line, _, _ := strings.Cut(text, "\n")
	if e, ok := entryOf(id, line); ok {
		known := &listed{text, e}
		s.listed[id] = known
		return &known.entry, nil
	}
	j, _, err := Restore([]byte(jobPart(text)))
	j.ID = id
	e := j.Entry()
	return &e, err
}

// listed is an entry and the text it was read from.
type listed struct {
	text  string
	entry Entry
}

// stored is a job as the store keeps it: its line, then itself. Everything may stay in
// the browser, so it is written without asking the policy: that happens at every key.
func (j Job) stored() string {
	j.Format, j.Version = Format, Version
	b, err := json.Marshal(j)
	if err != nil {
		panic("job: " + err.Error()) // texts, numbers and times in a sane year
	}
	return j.Entry().line() + "\n" + string(b)
}

// jobPart is the job in what is stored. Before there were lines it stood alone.
func jobPart(text string) string {
	if line, rest, ok := strings.Cut(text, "\n"); ok && !strings.HasPrefix(line, "{") {
		return rest
	}
	return text
}

// Find returns the entries that hold every word of query in title, car, plate,
// technician, shop, example, work or notes, in any case. An empty query finds all.
func Find(list []Entry, query string) []Entry {
	words := strings.Fields(strings.ToLower(query))
	if len(words) == 0 {
		return list
	}
	var out []Entry
	for _, e := range list {
		if !slices.ContainsFunc(words, func(w string) bool { return !strings.Contains(e.found, w) }) {
			out = append(out, e)
		}
	}
	return out
}

// SameCar tells whether two names are of one car, however they are written.
func SameCar(a, b string) bool {
	plain := func(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }
	return plain(a) != "" && plain(a) == plain(b)
}
