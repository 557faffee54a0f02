package app

import "twoneedles/refrig/diagnose"

// loadEngine loads the model.
func loadEngine() (Engine, error) { return diagnose.Load() }
