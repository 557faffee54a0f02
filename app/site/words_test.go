package site

import (
	"encoding/json"
	"strings"
	"testing"
	"testing/fstest"
)

// Every language has a file, a manifest and its place in the list; the page itself is
// written in English, and for want of JavaScript in all of them.
func TestLanguagesOfTheSite(t *testing.T) {
	static := small()
	static["index.html"] = &fstest.MapFile{Data: []byte(`<meta content="{{DESCRIPTION}}"><p class="x" data-words="start.noscript"></p><i data-label="a" id="y"></i><noscript>{{NOSCRIPT}}</noscript>`)}
	static["manifest.webmanifest"] = &fstest.MapFile{Data: []byte(`{"lang": "{{LANGUAGE}}", "dir": "{{DIRECTION}}", "description": "{{start.description}}"}`)}
	parts := partsOf(static, program)
	parts.Words["en-GB"] = map[string]string{"language.name": "British", "language.base": "en", "a": "won"}
	files, _, err := plan(parts)
	if err != nil {
		t.Fatal(err)
	}
	want := `<meta content="what it does"><p class="x" data-words="start.noscript">needs &lt;it&gt;</p><i data-label="a" aria-label="one" id="y"></i>` +
		`<noscript><p lang="en">needs &lt;it&gt;</p><p lang="eo">bezonas</p></noscript>`
	if got := string(files["index.html"]); got != want {
		t.Errorf("the page is\n%s\nwant\n%s", got, want)
	}
	for name, want := range map[string]string{
		"manifest.webmanifest":       `{"lang": "en", "dir": "ltr", "description": "what it does"}`,
		"manifest-eo.webmanifest":    `{"lang": "eo", "dir": "ltr", "description": "kion ĝi faras"}`,
		"manifest-en-GB.webmanifest": `{"lang": "en-GB", "dir": "ltr", "description": "what it does"}`,
	} {
		if got := string(files[name]); got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	var list []language
	boot := string(files["boot.js"]) // the list stands first
	if err := json.Unmarshal([]byte(boot[strings.Index(boot, "["):strings.Index(boot, "]")+1]), &list); err != nil {
		t.Fatal(err)
	}
	if len(list) != 3 || list[0].Code != "en" || list[1].Code != "en-GB" || list[1].Base != "en" || list[1].Dir != "ltr" || list[2].Name != "Esperanto" {
		t.Errorf("the languages are %+v", list)
	}
	for _, l := range list {
		if got := sum(unzipped(t, files["words-"+l.Code+".json.gz"])); got != l.Sum {
			t.Errorf("the words of %s have the sum %s, listed %s", l.Code, got, l.Sum)
		}
	}
	if _, said, _ := strings.Cut(boot, " said "); said != `{"en-GB":{"a":"won"},"eo":{"a":"unu","start.noscript":"bezonas"}}` {
		t.Errorf("before their words come the languages say %s", said)
	}
	if got := string(unzipped(t, files["words-en-GB.json.gz"])); strings.Contains(got, "description") {
		t.Errorf("a language with a base holds all of that: %s", got)
	}
}

// A text that the page names and no file has must not be built, nor a site without
// English.
func TestWordsThatAreMissingAreRefused(t *testing.T) {
	static := small()
	static["index.html"] = &fstest.MapFile{Data: []byte(`<p data-words="no.such"></p>`)}
	if _, _, err := plan(partsOf(static, program)); err == nil || !strings.Contains(err.Error(), "no.such") {
		t.Errorf("a missing text: %v", err)
	}
	parts := partsOf(small(), program)
	delete(parts.Words, "en")
	if _, _, err := plan(parts); err == nil {
		t.Error("a site without English is built")
	}
}
