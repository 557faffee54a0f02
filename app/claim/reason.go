package claim

import (
	"slices"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
)

// Reason puts one reading's part in the answer into a line, with a sign that
// repeats its direction.
func Reason(v present.Voice, e diagnose.Evidence, r diagnose.Report) (line, sign string) {
	w := v.Words
	leader := r.Ranking[0].ID
	// Below a quarter of a natural log unit the odds move by less than a third
	// (judgement): not worth a claim.
	const little = 0.25
	weight := e.AgainstHealthy
	if leader == car.Healthy {
		weight = e.AgainstNext
	}
	effect := w.T("readings.effect.little")
	sign = "·"
	switch {
	case weight > little:
		effect, sign = w.T("readings.effect.for"), "+"
	case weight < -little && e.Favours != leader && slices.ContainsFunc(r.Ranking[:open(r.Ranking)], func(c diagnose.Ranked) bool { return c.ID == e.Favours }):
		effect, sign = w.T("readings.effect.against", "other", w.InText(e.Favours)), "−"
	case weight < -little:
		effect, sign = w.T("readings.effect.against_plain"), "−"
	}
	key := "readings.why_plain"
	args := map[string]any{"quantity": w.QuantityName(e.Quantity), "value": v.Reading(e.Quantity, e.Reading), "effect": effect}
	if e.HasExpected {
		key = [...]string{"readings.why_below", "readings.why_inside", "readings.why_above"}[e.Place+1]
		if AtEdge(v, e) {
			key = "readings.why_edge"
		}
		if e.Quantity == car.Cycling && e.Expected.Hi < seldom {
			key = "readings.why_keeps_on"
		}
		args["range"] = v.Range(e.Expected.Lo, e.Expected.Hi, e.Quantity.Info().Kind)
	}
	return w.Text(key, args), sign
}

// seldom is a rate of clutch engagements, 1/min, below which nobody sees one in a
// minute's look: such a clutch stays on.
const seldom = 0.5

// AtEdge tells whether a reading outside its band looks the same as the end of it:
// to say that 52 is below 52 to 67 helps nobody.
func AtEdge(v present.Voice, e diagnose.Evidence) bool {
	end := e.Expected.Lo
	if e.Place > 0 {
		end = e.Expected.Hi
	}
	a, _ := v.Number(e.Reading.Value, e.Quantity.Info().Kind)
	b, _ := v.Number(end, e.Quantity.Info().Kind)
	return e.Place != 0 && !e.Reading.Swing && a == b
}
