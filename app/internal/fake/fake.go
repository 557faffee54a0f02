// Package fake is the real model made to misbehave, for tests of the page: it
// fails, stops or dawdles when it is told to.
package fake

import (
	"time"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Engine answers as the model it wraps does, unless it is told otherwise.
type Engine struct {
	*diagnose.Model
	Fail    error         // every question fails with it
	Panic   bool          // every answer stops the program instead
	Slow    time.Duration // a plan takes so much longer
	Asked   int           // how often an answer was asked for
	Planned int           // how often a plan was
}

// New wraps the model that the page itself loads.
func New() (*Engine, error) {
	m, err := diagnose.Load()
	return &Engine{Model: m}, err
}

// Answer is the model's, or a failure.
func (e *Engine) Answer(c car.Case) (diagnose.Report, error) {
	e.Asked++
	if e.Panic {
		panic("fake: told to")
	}
	if e.Fail != nil {
		return diagnose.Report{}, e.Fail
	}
	return e.Model.Answer(c)
}

// Next is the model's plan, late, or a failure.
func (e *Engine) Next(c car.Case) ([]diagnose.Next, error) {
	e.Planned++
	time.Sleep(e.Slow)
	if e.Fail != nil {
		return nil, e.Fail
	}
	return e.Model.Next(c)
}
