package app

import "twoneedles/app/internal/fake"

// loadEngine loads the model.
func loadEngine() (Engine, error) { return &fake.Engine{}, nil }
