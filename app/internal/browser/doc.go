// Package browser is what the page needs of its browser and go-app leaves to it: focus and
// scroll, handing things on, printing, files, notifications, and the storage of the device.
// Outside a browser all of it does nothing, and the storage is memory.
//
// A browser may lack any of this, refuse it, or throw where it is asked for: nothing here
// panics, and who asks is told what became of it.
package browser
