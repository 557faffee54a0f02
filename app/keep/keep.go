package keep

import (
	"errors"
	"strconv"
	"strings"

	"twoneedles/app/job"
)

// Database is shared by all windows of this device. It answers later, and what it calls
// must not be called before its method has returned.
type Database interface {
	// All gives every record, or the named ones that are there.
	All(done func([]Record, error), keys ...string)
	// Change writes all or, with an error, nothing.
	Change(changes []Change, done func([]Outcome, error))
	// Listen calls changed with keys that other windows wrote or removed, and closed when
	// the database was taken away, as by clearing it.
	Listen(changed func(keys []string), closed func())
}

// Record is a text in the database. Every change gives it a revision that never was.
type Record struct{ Key, Text, Rev string }

// Change is one to a record.
type Change struct {
	Key, Text string
	Gone      bool   // it is to be removed
	Base      string // the revision it was made from, "" if there was none; anyRevision
	Tab       string // the window that made it, as its Seq-th
	Seq       int
}

const anyRevision = "*"

// Outcome is what became of a change.
type Outcome struct {
	Rev   string // of the record now
	Known bool   // a later change of the same window is there already
	Lost  bool   // another window had changed the record: nothing was written,
	Text  string // and this is what stands there
	// Missed says that the record of the revision it was made from is gone: another window
	// removed it, or everything was cleared.
	Missed bool
}

// Watcher hears what happens while the page is open.
type Watcher interface {
	// Changed says that another window wrote or removed what is kept under key.
	Changed(key string)
	// Lost says that another window was first: its text is kept under key, and text was
	// to be. It reports whether it has kept text elsewhere.
	Lost(key, text string) bool
	// Copied says that at the start n texts were found to be of that kind.
	Copied(n int)
	// Trouble says that the database refuses, nil that it takes changes again.
	Trouble(err *job.Error)
	// Cleared says that what was kept under the keys is gone, and only in memory now:
	// setting it writes it again, and so does [Device.KeepAgain].
	Cleared(keys []string)
}

// Device keeps texts by key. Jobs and which of them is open are in memory and in the
// database, everything else in the small store. It is used on one goroutine only.
type Device struct {
	small   job.Storage
	db      Database // nil: shut, and small keeps everything
	tab     string   // this window
	seq     int      // changes made here
	items   map[string]*item
	waiting []string // keys with changes that are not on their way yet
	flying  bool     // changes are on their way
	noted   int      // bytes in notes
	failed  error    // why the database refused last
	copied  int
	run     func(func())
	watcher Watcher
}

// item is what this window has under a key.
type item struct {
	text   string
	gone   bool
	rev    string // of the record as last heard of
	seq    int    // of the last change made here
	waits  bool   // that is not in the database yet
	noted  int    // bytes of its note
	safe   bool   // the note is of the last change
	erased bool   // what was in the database was cleared
}

const (
	notePrefix = "twoneedles.typed." // + window + "." + key
	keyInUse   = "twoneedles.database"
	// mostNoted leaves room in the small store, which holds about 5 MB. What is not
	// noted, as most of a large import, is safe a moment later.
	mostNoted = 1 << 20
	batch     = 200 // changes in one transaction
)

// lasting tells whether a key belongs into the database.
func lasting(key string) bool {
	return key == job.KeyCurrent || strings.HasPrefix(key, job.KeyPrefix)
}

// Follow tells w from now on, on the goroutine of run, what happens.
func (d *Device) Follow(run func(func()), w Watcher) {
	d.run, d.watcher = run, w
	if d.failed != nil {
		d.trouble(true)
	}
	if d.copied > 0 {
		w.Copied(d.copied)
	}
	if d.db != nil {
		d.db.Listen(
			func(keys []string) { d.run(func() { d.changed(keys) }) },
			func() { d.run(d.closed) })
	}
}

// Get implements [job.Storage].
func (d *Device) Get(key string) (string, bool, error) {
	if d.db == nil || !lasting(key) {
		return d.small.Get(key)
	}
	it := d.items[key]
	if it == nil || it.gone {
		return "", false, nil
	}
	return it.text, true, nil
}

// Keys implements [job.Storage].
func (d *Device) Keys() ([]string, error) {
	keys, err := d.small.Keys()
	if d.db == nil {
		return keys, err
	}
	all := make([]string, 0, len(keys)+len(d.items))
	for _, key := range keys { // where they are denied, the others are there still
		if !lasting(key) {
			all = append(all, key)
		}
	}
	for key, it := range d.items {
		if !it.gone {
			all = append(all, key)
		}
	}
	return all, nil
}

// Set implements [job.Storage].
func (d *Device) Set(key, text string) error {
	if d.db == nil || !lasting(key) {
		return d.small.Set(key, text)
	}
	return d.change(key, text, false)
}

// Remove implements [job.Storage].
func (d *Device) Remove(key string) error {
	if d.db == nil || !lasting(key) {
		return d.small.Remove(key)
	}
	return d.change(key, "", true)
}

// item is what this window has under a key, which may be nothing yet.
func (d *Device) item(key string) *item {
	if d.items[key] == nil {
		d.items[key] = &item{gone: true}
	}
	return d.items[key]
}

func (d *Device) change(key, text string, gone bool) error {
	it := d.item(key)
	if it.text != text || it.gone != gone || it.erased {
		d.seq++
		it.text, it.gone, it.seq, it.erased = text, gone, d.seq, false
		d.note(key, it)
		if !it.waits {
			it.waits = true
			d.waiting = append(d.waiting, key)
		}
	}
	d.send()
	if it.waits && !it.safe && d.failed != nil {
		return d.failed
	}
	return nil
}

// note writes a change down where a killed tab leaves it. A removal is not noted: what
// comes back can be removed again.
func (d *Device) note(key string, it *item) {
	if it.gone {
		d.forget(key, it)
		return
	}
	text := strconv.Itoa(it.seq) + " " + it.rev + "\n" + it.text
	it.safe = d.noted-it.noted+len(text) <= mostNoted && d.small.Set(notePrefix+d.tab+"."+key, text) == nil
	if it.safe {
		d.noted += len(text) - it.noted
		it.noted = len(text)
	}
}

// forget takes the note away.
func (d *Device) forget(key string, it *item) {
	if it.noted > 0 {
		_ = d.small.Remove(notePrefix + d.tab + "." + key) // one that stays is known to be old
		d.noted -= it.noted
		it.noted = 0
	}
	it.safe = false
}

// send brings waiting changes on their way, unless some are: then they follow.
func (d *Device) send() {
	if d.flying || len(d.waiting) == 0 {
		return
	}
	n := min(len(d.waiting), batch)
	changes := make([]Change, n)
	for i, key := range d.waiting[:n] {
		it := d.items[key]
		changes[i] = Change{Key: key, Text: it.text, Gone: it.gone, Base: it.rev, Tab: d.tab, Seq: it.seq}
		if key == job.KeyCurrent {
			changes[i].Base = anyRevision
		}
	}
	d.waiting = d.waiting[n:]
	d.flying = true
	d.db.Change(changes, func(out []Outcome, err error) { d.run(func() { d.landed(changes, out, err) }) })
}

func (d *Device) landed(changes []Change, out []Outcome, err error) {
	d.flying = false
	if err != nil {
		safe := true
		for _, c := range changes {
			d.waiting = append(d.waiting, c.Key)
			it := d.items[c.Key]
			safe = safe && (it.safe || it.gone)
		}
		d.failed = err
		d.trouble(safe)
		return // the next change tries again
	}
	if d.failed != nil {
		d.failed = nil
		d.trouble(true)
	}
	missed := false
	for i, c := range changes {
		it, o := d.items[c.Key], out[i]
		it.rev = o.Rev
		missed = missed || o.Missed
		switch {
		case o.Lost:
			d.lost(c.Key, it, o.Text)
		case it.seq != c.Seq: // changed again meanwhile
			d.waiting = append(d.waiting, c.Key)
		default:
			it.waits = false
			d.forget(c.Key, it)
		}
	}
	if missed {
		d.closed()
	}
	d.send()
}

// trouble says why the database refuses; safe is whether the small store holds what was
// typed here.
func (d *Device) trouble(safe bool) {
	if d.watcher == nil {
		return
	}
	if d.failed == nil {
		d.watcher.Trouble(nil)
		return
	}
	what := job.StoreDenied
	switch {
	case errors.Is(d.failed, ErrNewer):
		what = job.StoreNewer
	case d.db == nil:
		what = job.StoreShut
	case safe:
		what = job.StoreSpare
	case errors.Is(d.failed, job.ErrFull):
		what = job.StoreFull
	}
	d.watcher.Trouble(&job.Error{What: what, Err: d.failed})
}

// lost gives way to what another window wrote, and keeps beside it what was typed here.
func (d *Device) lost(key string, it *item, theirs string) {
	mine, gone := it.text, it.gone
	it.text, it.gone, it.waits = theirs, false, false
	switch {
	case gone || mine == theirs:
		if d.watcher != nil {
			d.watcher.Changed(key)
		}
	case d.watcher != nil && d.watcher.Lost(key, mine):
	default:
		_ = d.change(job.KeyPrefix+job.NewID(), mine, false) // where it fails it is in memory
	}
	if !it.waits {
		d.forget(key, it)
	}
}

// changed reads again what other windows wrote. What waits here is compared when it lands.
func (d *Device) changed(keys []string) {
	var ask []string
	for _, key := range keys {
		if it := d.items[key]; lasting(key) && (it == nil || !it.waits) {
			ask = append(ask, key)
		}
	}
	if len(ask) == 0 {
		return
	}
	d.db.All(func(all []Record, err error) {
		d.run(func() {
			if err != nil {
				return // the next change made here finds out
			}
			there := map[string]Record{}
			for _, r := range all {
				there[r.Key] = r
			}
			for _, key := range ask {
				d.heard(key, there)
			}
		})
	}, ask...)
}

func (d *Device) heard(key string, there map[string]Record) {
	it := d.item(key)
	r, ok := there[key]
	if it.waits || !ok && it.gone || ok && !it.gone && r.Text == it.text {
		if ok && !it.waits {
			it.rev = r.Rev
		}
		return
	}
	it.text, it.gone = r.Text, !ok
	if ok {
		it.rev = r.Rev
	}
	d.watcher.Changed(key)
}

// closed looks whether the database was cleared. What was in it is still in memory, and
// stays there unless somebody sets it again: who cleared it may have meant to.
func (d *Device) closed() {
	if d.watcher == nil {
		return
	}
	d.db.All(func(all []Record, err error) {
		d.run(func() {
			there := map[string]bool{}
			for _, r := range all {
				there[r.Key] = true
			}
			known := 0
			var lost []string
			for key, it := range d.items {
				if it.gone {
					continue
				}
				known++
				if !there[key] && !it.waits {
					lost = append(lost, key)
				}
			}
			if err != nil || len(lost) == 0 || 2*len(lost) < known { // another window may have removed one
				return
			}
			for _, key := range lost {
				d.items[key].erased = true
			}
			d.watcher.Cleared(lost)
		})
	})
}

// KeepAgain writes what was cleared and is still in memory.
func (d *Device) KeepAgain() {
	for key, it := range d.items {
		if it.erased {
			_ = d.change(key, it.text, false) // a refusal is said by the watcher
		}
	}
}
