package job_test

import (
	"fmt"
	"time"

	"twoneedles/app/job"
	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// A job holds what was typed; the case is read from it, with what was assumed.
func ExampleJob_Case() {
	j := job.New(time.Now(), unit.US())
	j.Before.SetText(present.Ambient, "95")
	j.Before.SetReading(car.Low, job.Reading{Swing: true, Lo: "22", Hi: "45"})
	j.Before.SetReading(car.High, job.Reading{Text: "15 bar"})
	c, problems := j.Case()
	fmt.Printf("%.0f…%.0f Pa and %.0f Pa at %.2f K\n",
		c.Readings[car.Low].Lo, c.Readings[car.Low].Hi, c.Readings[car.High].Value, c.Weather.Ambient)
	v := present.Voice{Words: present.English(), Units: j.Units}
	for _, p := range problems {
		fmt.Println(p.Field, "–", v.Problem(&p).What)
	}
	// Output:
	// 151685…310264 Pa and 1500000 Pa at 308.15 K
	// humidity – Assuming 50 %.
	// altitude – Assuming 0 ft.
	// rpm – Assuming 1500 rpm.
	// blower – Assuming 100 %.
}

// A link holds the job in its fragment and makes a new job where it is opened.
func ExampleJob_Link() {
	j := job.New(time.Now(), unit.US())
	j.Title = "Grey wagon"
	j.Notes = "private"
	k, _, err := job.OpenLink(j.Link())
	fmt.Println(k.Title, k.Notes == "", k.ID == j.ID, err)
	// Output: Grey wagon true false <nil>
}

// A link that was cut says so and changes nothing.
func ExampleOpenLink() {
	_, _, err := job.OpenLink("j1.ZZZZ")
	m := present.Voice{Words: present.English(), Units: unit.US()}.Error(err)
	fmt.Println(m.What)
	fmt.Println(m.Next)
	// Output:
	// The job in this link cannot be read.
	// Copy the whole link again, or scan its code again.
}
