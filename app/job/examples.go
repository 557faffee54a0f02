package job

import (
	_ "embed"
	"encoding/json"
	"sync"
	"time"

	"twoneedles/refrig/car"
)

// examplesJSON holds invented cars. Their readings are what an earlier model of
// ours and published tables make likely for such a car (judgement); no car was
// measured for them.
//
//go:embed examples.json
var examplesJSON []byte

var examples = sync.OnceValue(func() []Job {
	var raw []json.RawMessage
	if err := json.Unmarshal(examplesJSON, &raw); err != nil {
		panic("job: examples.json: " + err.Error())
	}
	var jobs []Job
	for _, b := range raw {
		j, warn, err := Restore(b)
		if err != nil || len(warn) > 0 {
			panic("job: examples.json: an example is damaged")
		}
		jobs = append(jobs, j)
	}
	return jobs
})

// Examples returns the invented cars as new jobs made now. Their Example names
// them; every title says that they are invented.
func Examples(now time.Time) []Job {
	now = now.UTC().Truncate(time.Second)
	jobs := make([]Job, 0, len(examples()))
	for _, j := range examples() {
		j = j.Clone()
		j.ID, j.Created, j.Updated = NewID(), now, now
		jobs = append(jobs, j)
	}
	return jobs
}

// titleOfExample is the title of the invented car of that name, "" if there is none.
func titleOfExample(name string) string {
	for _, j := range examples() {
		if j.Example == name {
			return j.Title
		}
	}
	return ""
}

// Own returns a new job made now that holds what was typed and chosen in changed and
// is not in invented, the example it began as: who types over an invented number has
// another car, to which none of the invented ones belong.
func Own(now time.Time, changed, invented Job) Job {
	j := New(now, changed.Units)
	j.Shop = changed.Shop
	j.Car = Car{
		Refrigerant: other(changed.Car.Refrigerant, invented.Car.Refrigerant),
		Metering:    other(changed.Car.Metering, invented.Car.Metering),
		Compressor:  other(changed.Car.Compressor, invented.Car.Compressor),
		HighPort:    other(changed.Car.HighPort, invented.Car.HighPort),
		Size:        other(changed.Car.Size, invented.Car.Size),
		Evaporators: other(changed.Car.Evaporators, invented.Car.Evaporators),
	}
	for id, text := range changed.Text {
		j.SetText(id, other(text, invented.Text[id]))
	}
	for id, text := range changed.Before.Text {
		j.Before.SetText(id, other(text, invented.Before.Text[id]))
	}
	j.Before.Recirc = other(changed.Before.Recirc, invented.Before.Recirc)
	j.Before.Doors = other(changed.Before.Doors, invented.Before.Doors)
	j.Before.Engine = changed.Before.Engine // what the fields on screen ask for
	for q, r := range changed.Before.Readings {
		was := invented.Before.Readings[q]
		r.Text, r.Choice = other(r.Text, was.Text), other(r.Choice, was.Choice)
		// A needle that is said to swing takes its steady number for one end.
		r.Lo, r.Hi = other(other(r.Lo, was.Lo), was.Text), other(r.Hi, was.Hi)
		r.Swing = r.Swing && !was.Swing || r.Lo != "" || r.Hi != ""
		j.Before.SetReading(q, r)
	}
	return j
}

// other is what now says if it does not say the same as was.
func other[T comparable](now, was T) (out T) {
	if now != was {
		out = now
	}
	return out
}

// Overwrites tells whether something that the example says of the car, the air and the
// readings before the repair is said otherwise in j, or no more. What j only adds to it
// is a try on the invented car.
func (j Job) Overwrites(example Job) bool {
	was := Own(j.Created, example, j) // what of the example is gone
	return was.Car != (Car{}) || len(was.Text) > 0 || len(was.Before.Text) > 0 || len(was.Before.Readings) > 0 ||
		was.Before.Recirc || was.Before.Doors != "" || swings(j) != swings(example)
}

// swings names the two needles that swing.
func swings(j Job) [2]bool {
	return [2]bool{j.Before.Readings[car.Low].Swing, j.Before.Readings[car.High].Swing}
}
