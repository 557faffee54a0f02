package page

import (
	"fmt"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/job"
)

// DeviceStorage is the browser's local storage; outside a browser it is memory.
func DeviceStorage() job.Storage {
	if app.IsServer {
		return job.Memory{}
	}
	return localStorage{}
}

// localStorage keeps texts as they are. A browser may refuse any of these calls,
// with an exception: a private window, a full disk, a policy.
type localStorage struct{}

func (localStorage) Get(key string) (value string, ok bool, err error) {
	defer caught(&err)
	v := app.Window().Get("localStorage").Call("getItem", key)
	if v.IsNull() {
		return "", false, nil
	}
	return v.String(), true, nil
}

func (localStorage) Set(key, value string) (err error) {
	defer caught(&err)
	app.Window().Get("localStorage").Call("setItem", key, value)
	return nil
}

func (localStorage) Remove(key string) (err error) {
	defer caught(&err)
	app.Window().Get("localStorage").Call("removeItem", key)
	return nil
}

func (localStorage) Keys() (keys []string, err error) {
	defer caught(&err)
	store := app.Window().Get("localStorage")
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
	*err = fmt.Errorf("page: local storage: %s", text)
}
