package job

import (
	"strconv"
	"strings"
	"testing"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
)

// A keystroke reads the whole job again; a page start reads the words.

func BenchmarkCase(b *testing.B) {
	j := Examples(noon)[2]
	for b.Loop() {
		j.Case()
	}
}

func BenchmarkLink(b *testing.B) {
	j := Examples(noon)[2]
	for b.Loop() {
		j.Link()
	}
}

func BenchmarkRestore(b *testing.B) {
	text := Examples(noon)[2].portion(browser)
	for b.Loop() {
		Restore(text)
	}
}

func BenchmarkLoadWords(b *testing.B) {
	for b.Loop() {
		present.Load("en")
	}
}

// The list of a shop of many years: 5,000 jobs are listed and searched in less than a
// tenth of a second, which is what a hand does not notice (common practice).
func BenchmarkListAndFind5000(b *testing.B) {
	s := NewStore(Memory{})
	for i := range 5000 {
		j := Examples(noon)[i%len(examples())]
		j.Plate, j.Notes = "INV "+strconv.Itoa(i), strings.Repeat("call at five ", 10)
		if err := s.Save(j); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		list, bad, err := s.Entries()
		if len(list) != 5000 || len(bad) > 0 || err != nil {
			b.Fatal(len(list), bad, err)
		}
		if found := Find(list, "inv 4711"); len(found) != 1 {
			b.Fatal(len(found))
		}
	}
}

// One job that teaches, from the device to what it says: the page reads thousands of them
// between the events, a few at a time.
func BenchmarkTeaches(b *testing.B) {
	m, err := diagnose.Load()
	if err != nil {
		b.Fatal(err)
	}
	s := NewStore(Memory{})
	j := Examples(noon)[2]
	j.Example, j.Repair.Cause, j.Repair.FoundAt = "", string(car.Air), j.Created
	j.After = j.Before.clone()
	j.After.Sound = true
	if err := s.Save(j); err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		got, err := s.Look(j.ID)
		if err != nil {
			b.Fatal(err)
		}
		var readings []learn.Job
		for _, k := range got.Teaches() {
			readings = append(readings, learn.Job{Case: k.Of, Found: k.Found, After: k.After})
		}
		if _, ok := learn.Of(m, readings...); !ok || len(readings) != 2 {
			b.Fatal(readings)
		}
	}
}

// What 5,000 jobs teach, once each is known.
func BenchmarkTogether5000(b *testing.B) {
	m, err := diagnose.Load()
	if err != nil {
		b.Fatal(err)
	}
	jobs := make([]learn.Lesson, 5000)
	for i := range jobs {
		jobs[i] = learn.Lesson{Found: i % 20, Sound: [][3]diagnose.Gap{{{By: 2, Sd: 5}, {By: -1, Sd: 8}, {By: 1, Sd: 3}}}}
	}
	for b.Loop() {
		if _, err := learn.Tell(m, learn.Together(m, jobs)); err != nil {
			b.Fatal(err)
		}
	}
}
