package job

import (
	"strconv"
	"strings"
	"testing"

	"twoneedles/app/present"
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
