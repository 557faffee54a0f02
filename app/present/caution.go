package present

import (
	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
)

// Step is a step of the work; its cautions and their sources are in
// refrig/service.
type Step = service.Step

// The steps that the page names.
const (
	StepRead    = service.StepRead
	StepRecover = service.StepRecover
)

// Cautions returns the codes of the cautions of a step on this car, the gravest
// first. What depends on the car is also there while the car is not known.
func Cautions(s Step, c car.Spec) []string {
	var codes []string
	for _, note := range service.Cautions(s, c) {
		codes = append(codes, note.Code)
	}
	return codes
}

// Caution returns the text of a caution: of a step, or of a measurement (the
// Hazard of a diagnose.Next).
func (w *Words) Caution(code string) string { return w.Text("caution."+code, nil) }
