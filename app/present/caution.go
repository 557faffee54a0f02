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
	StepResting = service.StepResting
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

// NewCautions are those of a step that no step before it has, from the first one on,
// and old the others: what was minded a step ago need not stand in the way again. A step
// that adds none has all of its own as new.
func NewCautions(first, s Step, c car.Spec) (fresh, old []string) {
	said := map[string]bool{}
	on := false
	for _, step := range service.Steps() {
		if step == s {
			break
		}
		if on = on || step == first; on {
			for _, code := range Cautions(step, c) {
				said[code] = true
			}
		}
	}
	for _, code := range Cautions(s, c) {
		if said[code] {
			old = append(old, code)
		} else {
			fresh = append(fresh, code)
		}
	}
	if len(fresh) == 0 {
		return old, nil
	}
	return fresh, old
}

// Caution returns the text of a caution: of a step, or of a measurement (the
// Hazard of a diagnose.Next).
func (w *Words) Caution(code string) string { return w.Text("caution."+code, nil) }
