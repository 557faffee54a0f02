package keep

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"twoneedles/app/job"
	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/unit"
)

// shelf is a database in memory, with the rules of static/store.js. What it is asked waits
// in line until it is let; then it answers.
type shelf struct {
	records map[string]record
	line    []func()
	windows []*desk
	refuse  error // every question is refused
}

type record struct {
	text, by string
	seq      int
}

func (r record) rev() string { return strings.TrimSpace(fmt.Sprint(r.by, " ", r.seq)) }

// desk is the way of one window to the shelf.
type desk struct {
	*shelf
	changed func([]string)
	closed  func()
	dead    bool
}

func newShelf() *shelf { return &shelf{records: map[string]record{}} }

// do lets what stands in line happen, as far as n goes; all for n < 0.
func (s *shelf) do(n int) {
	for ; n != 0 && len(s.line) > 0; n-- {
		f := s.line[0]
		s.line = s.line[1:]
		f()
	}
}

func (d *desk) later(f func()) { d.line = append(d.line, f) }

// answer lets f happen unless the window is dead by then.
func (d *desk) answer(f func()) {
	d.later(func() {
		if !d.dead {
			f()
		}
	})
}

func (d *desk) All(done func([]Record, error), keys ...string) {
	d.later(func() {
		err := d.refuse
		var all []Record
		for key, r := range d.records {
			if len(keys) == 0 || slices.Contains(keys, key) {
				all = append(all, Record{key, r.text, r.rev()})
			}
		}
		d.answer(func() { done(all, err) })
	})
}

func (d *desk) Change(changes []Change, done func([]Outcome, error)) {
	d.later(func() {
		if err := d.refuse; err != nil {
			d.answer(func() { done(nil, err) })
			return
		}
		out := make([]Outcome, len(changes))
		var changed []string
		for i, c := range changes {
			have, there := d.records[c.Key]
			own := there && have.by == c.Tab
			o := &out[i]
			o.Rev = have.rev()
			switch {
			case own && have.seq >= c.Seq:
				o.Known = true
			case there && !c.Gone && have.text == c.Text, !there && c.Gone:
			case there && !own && c.Base != anyRevision && c.Base != have.rev():
				o.Lost, o.Text = true, have.text
			default:
				o.Missed = !there && c.Base != "" && c.Base != anyRevision
				next := record{c.Text, c.Tab, c.Seq}
				o.Rev = next.rev()
				changed = append(changed, c.Key)
				if c.Gone {
					delete(d.records, c.Key)
				} else {
					d.records[c.Key] = next
				}
			}
		}
		for _, w := range d.windows {
			if w != d && w.changed != nil && len(changed) > 0 {
				w.answer(func() { w.changed(changed) })
			}
		}
		d.answer(func() { done(out, nil) })
	})
}

func (d *desk) Listen(changed func([]string), closed func()) { d.changed, d.closed = changed, closed }

// small is a browser's small store: some room, or denied.
type small struct {
	job.Memory
	room int // characters, no limit if negative
	err  error
}

func newSmall() *small { return &small{Memory: job.Memory{}, room: -1} }

func (s *small) Set(key, text string) error {
	used := 0
	for k, v := range s.Memory {
		if k != key {
			used += len(k) + len(v)
		}
	}
	if s.err == nil && s.room >= 0 && used+len(key)+len(text) > s.room {
		return job.ErrFull
	}
	if s.err != nil {
		return s.err
	}
	return s.Memory.Set(key, text)
}

func (s *small) Get(key string) (string, bool, error) {
	if s.err != nil {
		return "", false, s.err
	}
	return s.Memory.Get(key)
}

func (s *small) Keys() ([]string, error) {
	if s.err != nil {
		return nil, s.err
	}
	return s.Memory.Keys()
}

// window is one window of the page, which hears what happens.
type window struct {
	*Device
	desk    *desk
	heard   []string
	trouble string // code, "" if none
	copied  int
	cleared bool
	lost    []string // as Cleared named them
}

func (w *window) Changed(key string)         { w.heard = append(w.heard, key) }
func (w *window) Lost(key, text string) bool { w.heard = append(w.heard, "lost "+key); return false }
func (w *window) Copied(n int)               { w.copied = n }
func (w *window) Cleared(keys []string)      { w.cleared, w.lost = true, keys }
func (w *window) Trouble(err *job.Error) {
	w.trouble = ""
	if err != nil {
		w.trouble = err.What
	}
}

// open opens a window and lets everything happen that belongs to it.
func open(t *testing.T, s *shelf, in job.Storage) *window {
	t.Helper()
	w := &window{desk: &desk{shelf: s}}
	s.windows = append(s.windows, w.desk)
	Open(in, w.desk, func(d *Device) { w.Device = d })
	s.do(-1)
	if w.Device == nil {
		t.Fatal("it does not open")
	}
	w.Follow(func(f func()) { f() }, w)
	s.do(-1)
	return w
}

// kill ends the window: it hears nothing more, and what it asked for may happen or not.
func (w *window) kill() { w.desk.dead = true }

func (w *window) says(key string) string {
	text, ok, err := w.Get(key)
	if err != nil {
		return err.Error()
	}
	if !ok {
		return "–"
	}
	return text
}

const one, two = job.KeyPrefix + "one", job.KeyPrefix + "two"

func TestWhatIsSetIsKept(t *testing.T) {
	s, in := newShelf(), newSmall()
	in.Memory["twoneedles.theme"] = "dark"
	w := open(t, s, in)
	for _, text := range []string{"2", "28", "28."} {
		if err := w.Set(one, text); err != nil {
			t.Fatal(err)
		}
		if got := w.says(one); got != text {
			t.Errorf("it reads %q at once, want %q", got, text)
		}
	}
	w.Set(two, "second")
	w.Set(job.KeyCurrent, "one")
	w.Remove(two)
	w.Set("twoneedles.explore", "{}")
	s.do(-1)
	if r := s.records[one]; r.text != "28." {
		t.Errorf("the database holds %+v", r)
	}
	if _, there := s.records[two]; there || s.records[job.KeyCurrent].text != "one" {
		t.Errorf("the database holds %v", s.records)
	}
	delete(in.Memory, keyInUse)
	if want := (job.Memory{"twoneedles.theme": "dark", "twoneedles.explore": "{}"}); !maps.Equal(in.Memory, want) {
		t.Errorf("the small store holds %v, want %v: notes are taken away", in.Memory, want)
	}
	again := open(t, s, in)
	keys, err := again.Keys()
	slices.Sort(keys)
	if got := strings.Join(keys, " "); err != nil || got != strings.Join([]string{job.KeyCurrent, keyInUse, "twoneedles.explore", one, "twoneedles.theme"}, " ") {
		t.Errorf("%v: %s", err, got)
	}
	if again.says(one) != "28." || again.says("twoneedles.theme") != "dark" || again.says(job.KeyCurrent) != "one" {
		t.Error("it is not there after opening again")
	}
}

// A tab killed at any moment after a key leaves the key: in its note, or in the database.
func TestKilledAfterAKey(t *testing.T) {
	for steps := range 8 {
		s, in := newShelf(), newSmall()
		w := open(t, s, in)
		w.Set(one, "2")
		s.do(steps / 2)
		w.Set(one, "28")
		s.do(steps)
		w.kill()
		s.line = nil
		if got := open(t, s, in).says(one); got != "28" {
			t.Errorf("killed after %d steps: %q", steps, got)
		}
	}
}

// A browser that was killed may bring back notes that were taken away already.
func TestAnOldNoteIsKnown(t *testing.T) {
	s, in := newShelf(), newSmall()
	w := open(t, s, in)
	w.Set(one, "2")
	old := maps.Clone(in.Memory)
	s.do(-1)
	w.Set(one, "28")
	s.do(-1)
	maps.Copy(in.Memory, old)
	again := open(t, s, in)
	if again.says(one) != "28" || again.copied != 0 || len(s.records) != 1 {
		t.Errorf("%q, %d copied, %v", again.says(one), again.copied, s.records)
	}
	for key := range in.Memory {
		if strings.HasPrefix(key, notePrefix) {
			t.Errorf("the note %s stays", key)
		}
	}
}

// Jobs from before there was a database come in as they are, and leave the small store
// only when the database gave them back.
func TestMigration(t *testing.T) {
	s, in := newShelf(), newSmall()
	for i := range 1500 {
		in.Memory[fmt.Sprint(job.KeyPrefix, i)] = strings.Repeat("x", 10) + fmt.Sprint(i)
	}
	in.Memory[job.KeyPrefix+"rubbish"] = "\x00\xff{"
	in.Memory[job.KeyCurrent] = "7"
	in.Memory["someone.elses"] = "kept"
	before := maps.Clone(in.Memory)

	s.refuse = fmt.Errorf("no room: %w", job.ErrFull) // half way: read, not written
	w := &window{desk: &desk{shelf: s}}
	s.refuse = nil
	Open(in, w.desk, func(d *Device) { w.Device = d })
	s.do(2) // read
	s.refuse = job.ErrFull
	s.do(-1)
	w.Follow(func(f func()) { f() }, w)
	if len(s.records) != 0 || w.says(job.KeyPrefix+"7") != before[job.KeyPrefix+"7"] || w.trouble != job.StoreSpare {
		t.Errorf("without room: %d in the database, %q, %q", len(s.records), w.says(job.KeyPrefix+"7"), w.trouble)
	}
	for key, text := range before {
		if in.Memory[key] != text {
			t.Fatalf("without room %s is taken away", key)
		}
	}

	s.refuse = nil
	w = open(t, s, in)
	for key, text := range before {
		if got := w.says(key); got != text {
			t.Fatalf("%s came in as %q", key, got)
		}
		if _, there := in.Memory[key]; there == lasting(key) {
			t.Fatalf("%s in the small store: %v", key, there)
		}
	}
	if w.trouble != "" || w.copied != 0 || len(s.records) != 1502 {
		t.Errorf("%q, %d copied, %d records", w.trouble, w.copied, len(s.records))
	}
}

// Every layout that was ever released opens, with the two jobs that were made for it by the
// program of its day: testdata/store. A new layout adds its own.
func TestEveryEarlierLayoutOpens(t *testing.T) {
	files, err := filepath.Glob(filepath.Join(reftest.Root(t), "testdata", "store", "*.json"))
	if err != nil || len(files) < 4 {
		t.Fatalf("%v: %d files", err, len(files))
	}
	for _, file := range files {
		name := filepath.Base(file)
		b, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		s, in := newShelf(), newSmall()
		if strings.HasPrefix(name, "small-") {
			err = json.Unmarshal(b, &in.Memory)
		} else {
			var records map[string]struct {
				Text, By string
				Seq      int
			}
			err = json.Unmarshal(b, &records)
			for key, r := range records {
				s.records[key] = record{r.Text, r.By, r.Seq}
			}
		}
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for when := range 2 { // as it was left, and after it was brought up
			store := job.NewStore(open(t, s, in))
			list, bad, err := store.List()
			if err != nil || len(bad) > 0 || len(list) != 2 {
				t.Fatalf("%s, start %d: %d jobs, unreadable %v: %v", name, when, len(list), bad, err)
			}
			found := list[slices.IndexFunc(list, func(j job.Job) bool { return j.Title == "Grey wagon" })]
			if r := found.Before.Readings[car.Low]; r.Lo != "22" || r.Hi != "45" || len(found.Repair.Done) != len(job.Steps) && name != "small-version1.json" {
				t.Errorf("%s: the job is %+v", name, found)
			}
			if at, warn, ok := store.Current(); !ok || at.Title != "Second, empty" || warn != nil {
				t.Errorf("%s: at hand is %q, with %v", name, at.Title, warn)
			}
			for key := range in.Memory {
				if key != keyInUse {
					t.Errorf("%s: %s stays in the small store", name, key)
				}
			}
		}
	}
}

// forgetful is a database that says it has written, and has nothing or the half of it.
type forgetful struct {
	*desk
	half bool
}

func (f forgetful) Change(changes []Change, done func([]Outcome, error)) {
	f.later(func() {
		out := make([]Outcome, len(changes))
		for i, c := range changes {
			if r := (record{c.Text[:len(c.Text)/2], c.Tab, c.Seq}); f.half {
				f.records[c.Key], out[i].Rev = r, r.rev()
			}
		}
		done(out, nil)
	})
}

func TestMigrationIsVerified(t *testing.T) {
	for _, half := range []bool{false, true} {
		s, in := newShelf(), newSmall()
		in.Memory[one] = "old"
		Open(in, forgetful{&desk{shelf: s}, half}, func(*Device) {})
		s.do(-1)
		if in.Memory[one] != "old" {
			t.Errorf("half of it there: %v; the only copy was taken away", half)
		}
	}
}

// An older version of the page in another window goes on writing where it always did.
func TestOlderVersionBeside(t *testing.T) {
	s, in := newShelf(), newSmall()
	in.Memory[one] = "old"
	w := open(t, s, in)
	in.Memory[one] = "typed in the older version"
	w.Set(one, "typed in the newer")
	s.do(-1)
	w = open(t, s, in)
	if got := texts(s); w.copied != 1 || got != "typed in the newer, typed in the older version" {
		t.Errorf("%d copied: %s", w.copied, got)
	}
	if w = open(t, s, in); w.copied != 0 {
		t.Error("copied again at the next start")
	}
}

func texts(s *shelf) string {
	var list []string
	for _, r := range s.records {
		list = append(list, r.text)
	}
	slices.Sort(list)
	return strings.Join(list, ", ")
}

func TestTwoWindows(t *testing.T) {
	s, in := newShelf(), newSmall()
	a, b := open(t, s, in), open(t, s, in)
	a.Set(one, "by a")
	s.do(-1)
	if b.says(one) != "by a" || !slices.Equal(b.heard, []string{one}) {
		t.Errorf("b reads %q and heard %v", b.says(one), b.heard)
	}
	b.Set(one, "by b") // seen before: no conflict
	s.do(-1)
	if a.says(one) != "by b" || texts(s) != "by b" {
		t.Errorf("a reads %q; %s", a.says(one), texts(s))
	}
	a.Set(one, "by a at once") // neither has heard of the other
	b.Set(one, "by b at once")
	s.do(-1)
	if got := texts(s); got != "by a at once, by b at once" || a.says(one) != b.says(one) {
		t.Errorf("kept are %s; a reads %q, b %q", got, a.says(one), b.says(one))
	}
	a.Remove(one) // b has it open and goes on
	s.do(-1)
	if b.says(one) != "–" {
		t.Errorf("b reads %q after a deleted it", b.says(one))
	}
	b.Set(one, "back")
	s.do(-1)
	if a.says(one) != "back" {
		t.Errorf("a reads %q", a.says(one))
	}
	a.Remove(one) // while b types: what was typed stays
	b.Set(one, "typed meanwhile")
	s.do(-1)
	if a.says(one) != "typed meanwhile" || b.says(one) != "typed meanwhile" {
		t.Errorf("a reads %q, b %q", a.says(one), b.says(one))
	}
	b.Set(one, "typed first")
	a.Remove(one)
	s.do(-1)
	if a.says(one) != "typed first" || b.says(one) != "typed first" {
		t.Errorf("removed over what was just typed: a reads %q, b %q", a.says(one), b.says(one))
	}
}

// A start in a second window, while the first one types, makes no copies.
func TestNotesOfALivingWindow(t *testing.T) {
	for steps := range 6 {
		s, in := newShelf(), newSmall()
		a := open(t, s, in)
		a.Set(one, "1")
		s.do(-1)
		a.Set(one, "12")
		s.do(steps)
		a.Set(one, "123")
		b := open(t, s, in)
		a.Set(one, "1234")
		s.do(-1)
		if b.copied != 0 || texts(s) != "1234" || b.says(one) != "1234" {
			t.Errorf("after %d steps: %d copied, %s, b reads %q", steps, b.copied, texts(s), b.says(one))
		}
	}
}

func TestRefused(t *testing.T) {
	full := fmt.Errorf("quota: %w", job.ErrFull)
	for _, c := range []struct {
		what         string
		small        *small
		refuse       error
		trouble      string
		set          bool // a later Set says so itself
		afterClosing string
	}{
		{"no room in the database", newSmall(), full, job.StoreSpare, false, "typed on"},
		{"a broken disk", newSmall(), errors.New("unknown"), job.StoreSpare, false, "typed on"},
		{"no room anywhere", &small{Memory: job.Memory{}, room: 0}, full, job.StoreFull, true, "first"},
		{"nothing allowed", &small{Memory: job.Memory{}, err: errors.New("denied")}, errors.New("no"), job.StoreDenied, true, "first"},
	} {
		s := newShelf()
		w := open(t, s, c.small)
		w.Set(one, "first")
		s.do(-1)
		s.refuse = c.refuse
		w.Set(one, "typed")
		s.do(-1)
		err := w.Set(one, "typed on")
		s.do(-1)
		if w.trouble != c.trouble || (err != nil) != c.set || w.says(one) != "typed on" {
			t.Errorf("%s: %q, %v, it reads %q", c.what, w.trouble, err, w.says(one))
		}
		s.refuse = nil
		if got := open(t, s, c.small).says(one); got != c.afterClosing {
			t.Errorf("%s: closed and opened with room it reads %q, want %q", c.what, got, c.afterClosing)
		}
		w.Set(job.KeyCurrent, "one") // any change tries again
		s.do(-1)
		if w.trouble != "" {
			t.Errorf("%s: with room, %q", c.what, w.trouble)
		}
		if got := open(t, s, c.small).says(one); got != "typed on" {
			t.Errorf("%s: tried again and opened it reads %q", c.what, got)
		}
	}
}

// What is refused again and again is one job, of this window.
func TestRefusedJobIsNoOtherWindows(t *testing.T) {
	s, in := newShelf(), newSmall()
	w := open(t, s, in)
	store := job.NewStore(w)
	j := job.New(time.Now(), unit.US())
	save := func(title string) error {
		j.Title = title
		err := store.Save(j)
		s.do(-1)
		return err
	}
	if err := save("first"); err != nil {
		t.Fatal(err)
	}
	s.refuse, in.room = fmt.Errorf("quota: %w", job.ErrFull), 0
	_ = save("told") // by the watcher
	for _, title := range []string{"typed", "typed on", "typed further"} {
		var e *job.Error
		if err := save(title); !errors.As(err, &e) || e.What != job.StoreFull {
			t.Errorf("%s: %v", title, err)
		}
	}
	s.refuse = nil
	if err := save("with room"); err != nil && w.trouble != "" {
		t.Errorf("with room: %v, %s", err, w.trouble)
	}
	if got := texts(s); len(s.records) != 1 || !strings.Contains(got, "with room") {
		t.Errorf("kept are %s", got)
	}
}

// A database that does not open leaves the small store, as it was before there was one.
func TestShut(t *testing.T) {
	for _, c := range []struct {
		used bool
		err  error
		want string
	}{{false, errors.New("denied"), ""}, {true, errors.New("denied"), job.StoreShut}, {false, fmt.Errorf("%w: 2", ErrNewer), job.StoreNewer}} {
		s, in := newShelf(), newSmall()
		if c.used {
			w := open(t, s, in)
			w.Set(two, "in the database")
			s.do(-1)
		}
		s.refuse = c.err
		w := open(t, s, in)
		if w.trouble != c.want {
			t.Errorf("%+v: %q", c, w.trouble)
		}
		if err := w.Set(one, "typed meanwhile"); err != nil || w.says(one) != "typed meanwhile" || in.Memory[one] == "" {
			t.Errorf("%+v: %v, %v", c, err, in.Memory)
		}
		s.refuse = nil
		w = open(t, s, in)
		if w.says(one) != "typed meanwhile" || c.used && w.says(two) != "in the database" {
			t.Errorf("%+v: with the database back %q and %q", c, w.says(one), w.says(two))
		}
	}
}

func TestCleared(t *testing.T) {
	s, in := newShelf(), newSmall()
	w := open(t, s, in)
	w.Set(one, "first")
	w.Set(two, "second")
	s.do(-1)
	w.desk.closed() // by the browser, which kept everything
	s.do(-1)
	if w.cleared {
		t.Fatal("it is said to be cleared, and is all there")
	}
	clear(s.records)
	clear(in.Memory)
	w.desk.closed()
	s.do(-1)
	if !w.cleared || w.says(one) != "first" || w.says(two) != "second" || len(w.lost) != 2 {
		t.Errorf("cleared %v, %q, %q; lost %v", w.cleared, w.says(one), w.says(two), w.lost)
	}
	w.Set(one, "first") // the same text again
	s.do(-1)
	if texts(s) != "first" {
		t.Errorf("kept again: %s", texts(s))
	}

	w.cleared = false // where the browser does not say so, the next key finds out
	clear(s.records)
	w.Set(one, "typed on")
	s.do(-1)
	if !w.cleared || w.says(two) != "second" || texts(s) != "typed on" || !slices.Equal(w.lost, []string{two}) {
		t.Errorf("cleared %v, %q, %s; lost %v", w.cleared, w.says(two), texts(s), w.lost)
	}
	w.KeepAgain()
	s.do(-1)
	if texts(s) != "second, typed on" {
		t.Errorf("all kept again: %s", texts(s))
	}

	w.Set(job.KeyCurrent, "one") // the one job is written with the next key, and which it is too
	w.Remove(two)
	s.do(-1)
	w.cleared = false
	clear(s.records)
	w.Set(one, "typed further")
	s.do(-1)
	w.Set(job.KeyCurrent, "one")
	s.do(-1)
	if !w.cleared || texts(s) != "one, typed further" {
		t.Errorf("cleared %v, %s", w.cleared, texts(s))
	}
}

// A large import leaves the small store room.
func TestNotesHaveALimit(t *testing.T) {
	s, in := newShelf(), newSmall()
	w := open(t, s, in)
	for i := range 3000 {
		if err := w.Set(fmt.Sprint(job.KeyPrefix, i), strings.Repeat("x", 1000)); err != nil {
			t.Fatal(err)
		}
	}
	size := 0
	for _, text := range in.Memory {
		size += len(text)
	}
	if size > mostNoted+100 || size < mostNoted/2 {
		t.Errorf("%d bytes of notes", size)
	}
	s.do(-1)
	if len(s.records) != 3000 || len(in.Memory) != 1 {
		t.Errorf("%d records, %d left in the small store", len(s.records), len(in.Memory))
	}
}

// Windows open, type, delete, are killed in any order. Afterwards every text that was the
// last one typed in its window is found, unless that very window, or another that had seen
// it, replaced or removed it.
func TestNothingTypedIsLost(t *testing.T) {
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 1))
		s, in := newShelf(), newSmall()
		type typist struct {
			*window
			last map[string]string // key → what it typed there last
		}
		var open2 []*typist
		owed := map[string]bool{} // texts that must be found
		n := 0
		arrive := func() {
			w := open(t, s, in)
			open2 = append(open2, &typist{w, map[string]string{}})
		}
		arrive()
		for range 60 {
			w := open2[r.IntN(len(open2))]
			key := []string{one, two}[r.IntN(2)]
			switch k := r.IntN(12); {
			case k < 6:
				n++
				text := fmt.Sprint(seed, "-", n)
				delete(owed, w.says(key)) // seen, and replaced by intent
				w.Set(key, text)
				owed[text] = true
			case k < 7:
				delete(owed, w.says(key))
				w.Remove(key)
			case k < 10:
				s.do(r.IntN(4))
			case k < 11 && len(open2) < 4:
				arrive()
			case len(open2) > 1:
				w.kill()
				open2 = slices.DeleteFunc(open2, func(o *typist) bool { return o == w })
			}
		}
		for _, w := range open2 {
			if r.IntN(2) == 0 {
				w.kill()
			}
		}
		s.do(-1)
		open(t, s, in)
		found := texts(s)
		for text := range owed {
			if !strings.Contains(", "+found+",", ", "+text+",") {
				t.Fatalf("seed %d: %s was typed and is not among %s", seed, text, found)
			}
		}
		for key := range in.Memory {
			if strings.HasPrefix(key, notePrefix) {
				t.Fatalf("seed %d: the note %s stays", seed, key)
			}
		}
	}
}
