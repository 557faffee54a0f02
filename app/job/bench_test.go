package job

import (
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
