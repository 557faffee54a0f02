// Package ask is the only way to the model and the solver: questions are numbered, so
// that what nobody wants any more is dropped, one is worked on at a time, and a panic below
// becomes an error of its question. It knows the events of the page and nothing that is on
// it.
package ask
