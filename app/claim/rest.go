package claim

import (
	"strings"

	"twoneedles/app/present"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/service"
	"twoneedles/refrig/unit"
)

// AtRest is what two needles at rest say, and what to do then. need is what is missing
// of the input, as job.Job.AtRest lists it.
func AtRest(v present.Voice, in service.RestingInput, need []string) Claim {
	w := v.Words
	if len(need) > 0 {
		return Claim{Bar: w.T("readings.rest.need_" + need[0])}
	}
	r, err := service.AtRest(in)
	if err != nil {
		m := v.Error(err)
		return Claim{Title: m.What, Technician: m.Why, Step: Step{Text: m.Next}, Bar: m.What}
	}
	key := "job.rest." + string(r.Finding)
	said := Claim{Title: w.T(key + ".short"), Technician: w.Text(key+".says", nil), Step: Step{Text: w.T("readings.rest.then_" + string(r.Finding))}}
	said.Customer = w.T("verdict.engine.customer")
	if r.Saturation != nil {
		said.Technician = w.T("readings.two_sentences", "first", said.Technician, "second", w.T("readings.rest.saturation",
			"value", v.Quantity(r.Saturation.Value, unit.GaugePressure), "range", v.Range(r.Saturation.Lo, r.Saturation.Hi, unit.GaugePressure)))
	}
	said.Bar = w.T("readings.two_sentences", "first", ended(said.Title), "second", said.Step.Text)
	return said
}

// ended is a title as a sentence.
func ended(title string) string {
	if strings.HasSuffix(title, "?") {
		return title
	}
	return title + "."
}

// Engine is what can be said of two needles that stand together before it is known
// whether the engine runs: off, they should; running, nothing pumps.
func Engine(w *present.Words) Claim {
	title, act := w.T("verdict.engine.name"), w.T("verdict.engine.act")
	return Claim{AskEngine: true, Verdict: diagnose.CannotTell, Title: title, Technician: w.T("verdict.engine.tech"),
		Customer: w.T("verdict.engine.customer"), Step: Step{Text: act}, Bar: w.T("readings.two_sentences", "first", ended(title), "second", act)}
}
