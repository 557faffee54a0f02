// Takes the place of a file of go-app and has its types: see the licence in resource.go.

package app

// BrowserStorage is what go-app keeps the states in that were asked to last. No state of
// ours is, and the original reads the browser's store at every start: where that is denied
// the reading throws, and what Go reads of JavaScript ends the program when it throws.
type BrowserStorage interface {
	Set(k string, v any) error
	Get(k string, v any) error
	Del(k string)
	Len() int
	Clear()
	ForEach(f func(k string))
	Contains(k string) bool
}

// nothing keeps nothing.
type nothing struct{}

func newJSStorage(string) BrowserStorage { return nothing{} }
func newMemoryStorage() BrowserStorage   { return nothing{} }

func (nothing) Set(string, any) error  { return nil }
func (nothing) Get(string, any) error  { return nil }
func (nothing) Del(string)             {}
func (nothing) Len() int               { return 0 }
func (nothing) Clear()                 {}
func (nothing) ForEach(func(k string)) {}
func (nothing) Contains(string) bool   { return false }
