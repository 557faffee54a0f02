package browser

import (
	"errors"
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
	"twoneedles/app/keep"
)

// Storage is what the browser keeps for this page; outside a browser it is memory.
// It waits until that is read, hence not on the goroutine of events.
func Storage() job.Storage {
	if app.IsServer {
		return job.Memory{}
	}
	ready := make(chan *keep.Device)
	keep.Open(localStorage{}, &database{}, func(d *keep.Device) { go func() { ready <- d }() })
	return <-ready
}

// database is the way to static/store.js, whose contract is in static/README.md.
type database struct{ opened bool }

func (*database) store() app.Value { return app.Window().Get("twoneedles").Get("store") }

// All implements [keep.Database]. The first reading was begun by the script while the
// program was on its way.
func (d *database) All(done func([]keep.Record, error), keys ...string) {
	ask, args := "all", make([]any, len(keys))
	for i, key := range keys {
		args[i] = key
	}
	if !d.opened {
		d.opened, ask = true, "early"
	}
	if !d.store().Truthy() {
		done(nil, errors.New("browser: database: the script that leads to it did not arrive"))
		return
	}
	Await(d.store().Call(ask, args...), func(got app.Value) {
		keys, texts, revs := got.Get("keys"), got.Get("texts"), got.Get("revs")
		all := make([]keep.Record, keys.Get("length").Int())
		for i := range all {
			all[i] = keep.Record{Key: keys.Index(i).String(), Text: texts.Index(i).String(), Rev: revs.Index(i).String()}
		}
		done(all, nil)
	}, func(why app.Value) { done(nil, refusal(why)) })
}

// Change implements [keep.Database].
func (d *database) Change(changes []keep.Change, done func([]keep.Outcome, error)) {
	items := make([]any, len(changes))
	for i, c := range changes {
		item := map[string]any{"key": c.Key, "text": c.Text, "base": c.Base, "tab": c.Tab, "seq": c.Seq}
		if c.Gone {
			item["text"] = nil
		}
		items[i] = item
	}
	Await(d.store().Call("change", items), func(got app.Value) {
		out := make([]keep.Outcome, len(changes))
		for i := range out {
			o := got.Index(i)
			out[i] = keep.Outcome{Rev: o.Get("rev").String(), Known: o.Get("known").Truthy(), Missed: o.Get("missed").Truthy()}
			if text := o.Get("text"); !text.IsUndefined() {
				out[i].Lost, out[i].Text = true, text.String()
			}
		}
		done(out, nil)
	}, func(why app.Value) { done(nil, refusal(why)) })
}

// Listen implements [keep.Database]; the listener lives as long as the page.
func (d *database) Listen(changed func([]string), closed func()) {
	d.store().Call("listen", app.FuncOf(func(_ app.Value, args []app.Value) any {
		if args[0].IsNull() {
			closed()
			return nil
		}
		keys := make([]string, args[0].Get("length").Int())
		for i := range keys {
			keys[i] = args[0].Index(i).String()
		}
		changed(keys)
		return nil
	}))
}

// refusal is why the database refuses: a DOMException.
func refusal(why app.Value) error {
	name := "unknown"
	if why.Truthy() && why.Get("name").Truthy() {
		name = why.Get("name").String()
	}
	err := fmt.Errorf("browser: database: %s", name)
	switch name {
	case "QuotaExceededError":
		return fmt.Errorf("%w: %w", job.ErrFull, err)
	case "VersionError":
		return fmt.Errorf("%w: %w", keep.ErrNewer, err)
	}
	return err
}

// localStorage keeps texts as they are. A browser may refuse any of these calls,
// with an exception: a private window, a full disk, a policy.
type localStorage struct{}

// browser is its store. Where that is denied even to look at it throws, and of what Go
// does in JavaScript only calls turn that into a panic; a property read ends the program.
func (localStorage) browser() app.Value {
	return app.Window().Get("Reflect").Call("get", app.Window().Get("self"), "localStorage")
}

func (l localStorage) Get(key string) (value string, ok bool, err error) {
	defer caught(&err)
	v := l.browser().Call("getItem", key)
	if v.IsNull() {
		return "", false, nil
	}
	return v.String(), true, nil
}

func (l localStorage) Set(key, value string) (err error) {
	defer caught(&err)
	l.browser().Call("setItem", key, value)
	return nil
}

func (l localStorage) Remove(key string) (err error) {
	defer caught(&err)
	l.browser().Call("removeItem", key)
	return nil
}

func (l localStorage) Keys() (keys []string, err error) {
	defer caught(&err)
	store := l.browser()
	for i := range store.Get("length").Int() {
		keys = append(keys, store.Call("key", i).String())
	}
	return keys, nil
}

// caught turns an exception of the browser into an error. Every browser's
// message of a full store has the word quota in it.
func caught(err *error) {
	p := recover()
	if p == nil {
		return
	}
	text := fmt.Sprint(p)
	if strings.Contains(strings.ToLower(text), "quota") {
		*err = fmt.Errorf("%w: %s", job.ErrFull, text)
		return
	}
	*err = fmt.Errorf("browser: local storage: %s", text)
}
