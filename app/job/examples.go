package job

import (
	_ "embed"
	"encoding/json"
	"sync"
	"time"
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
		j.ID, j.Created, j.Updated = newID(), now, now
		jobs = append(jobs, j)
	}
	return jobs
}
