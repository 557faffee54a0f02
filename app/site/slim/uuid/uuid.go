// Package uuid stands in for github.com/google/uuid in the build for the browser.
// go-app uses one function of it, to tell browser tabs apart; the original links
// cryptographic random numbers, big integers and an SQL driver's interface.
package uuid

import "math/rand/v2"

// NewString returns a random version 4 UUID (RFC 9562, section 5.4). The runtime
// seeds the generator from the browser's cryptographic random numbers; it is good
// for names, not for secrets.
func NewString() string {
	const digits = "0123456789abcdef"
	id := []byte("xxxxxxxx-xxxx-4xxx-yxxx-xxxxxxxxxxxx")
	for i, c := range id {
		switch c {
		case 'x':
			id[i] = digits[rand.IntN(16)]
		case 'y':
			id[i] = digits[8+rand.IntN(4)]
		}
	}
	return string(id)
}
