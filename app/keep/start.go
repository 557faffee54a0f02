package keep

import (
	"errors"
	"strconv"
	"strings"

	"twoneedles/app/job"
)

// A start: what the database holds is read, and what the small store holds for it is
// brought in.

// Open reads the database and brings in what the small store holds for it; then it calls
// done.
func Open(small job.Storage, db Database, done func(*Device)) {
	d := &Device{small: small, db: db, tab: job.NewID(), items: map[string]*item{}, run: func(f func()) { f() }}
	db.All(func(all []Record, err error) {
		if err != nil {
			d.db = nil
			if _, used, _ := small.Get(keyInUse); used || errors.Is(err, ErrNewer) {
				d.failed = err
			}
			done(d)
			return
		}
		if _, used, err := small.Get(keyInUse); err == nil && !used {
			_ = small.Set(keyInUse, "1") // without it a database that is shut one day is taken for one never used
		}
		d.take(all)
		d.bringIn(func() { done(d) })
	})
}

// ErrNewer is wrapped by a [Database] that a newer version of the page has changed.
var ErrNewer = errors.New("the database has a newer layout")

// take puts what the database holds in the place of what is in memory.
func (d *Device) take(all []Record) {
	for _, r := range all {
		if lasting(r.Key) {
			d.items[r.Key] = &item{text: r.Text, rev: r.Rev}
		}
	}
}

// found is a text that the small store holds for the database: a note, or a job from
// before there was one.
type found struct {
	at, raw string // its key in the small store, and what is there
	change  Change
}

// find looks through the small store.
func (d *Device) find() (list []found) {
	keys, err := d.small.Keys()
	if err != nil {
		return nil // denied: it holds nothing
	}
	for _, at := range keys {
		raw, ok, err := d.small.Get(at)
		if err != nil || !ok {
			continue
		}
		f := found{at: at, raw: raw}
		switch tab, key, _ := strings.Cut(strings.TrimPrefix(at, notePrefix), "."); {
		case lasting(at):
			d.seq++
			f.change = Change{Key: at, Text: raw, Tab: d.tab, Seq: d.seq}
		case strings.HasPrefix(at, notePrefix) && lasting(key):
			head, text, _ := strings.Cut(raw, "\n")
			seq, base, _ := strings.Cut(head, " ")
			f.change = Change{Key: key, Text: text, Base: base, Tab: tab}
			if f.change.Seq, err = strconv.Atoi(seq); err != nil {
				continue // not ours
			}
		default:
			continue
		}
		if f.change.Key == job.KeyCurrent {
			f.change.Base = anyRevision
		}
		list = append(list, f)
	}
	return list
}

// bringIn brings what find finds into the database. A text is taken from the small store
// only after the database has given it back.
func (d *Device) bringIn(done func()) {
	list := d.find()
	if len(list) == 0 {
		done()
		return
	}
	again := func(out []Outcome) {
		d.db.All(func(all []Record, err error) {
			if err == nil {
				d.take(all)
				d.tidy(list, out)
			}
			done()
		})
	}
	d.give(list, func(out []Outcome, err error) {
		if err != nil { // no room: they stay where they are, and are seen
			for _, f := range list {
				d.items[f.change.Key] = &item{text: f.change.Text, rev: f.change.Base}
			}
			d.failed = err
			done()
			return
		}
		var beside []found
		for i, o := range out {
			if f := &list[i]; o.Lost {
				d.seq++
				f.change = Change{Key: job.KeyPrefix + job.NewID(), Text: f.change.Text, Tab: d.tab, Seq: d.seq}
				beside = append(beside, *f)
			}
		}
		if len(beside) == 0 {
			again(out)
			return
		}
		d.copied = len(beside)
		d.give(beside, func(_ []Outcome, err error) {
			d.failed = err
			again(out)
		})
	})
}

func (d *Device) give(list []found, then func([]Outcome, error)) {
	changes := make([]Change, len(list))
	for i, f := range list {
		changes[i] = f.change
	}
	d.db.Change(changes, then)
}

// tidy takes from the small store what the database has given back.
func (d *Device) tidy(list []found, out []Outcome) {
	for i, f := range list {
		it := d.items[f.change.Key]
		if it == nil || it.text != f.change.Text && !out[i].Known && it.rev == out[i].Rev {
			continue
		}
		if raw, ok, err := d.small.Get(f.at); err == nil && ok && raw == f.raw {
			_ = d.small.Remove(f.at) // what stays is brought in again
		}
	}
}
