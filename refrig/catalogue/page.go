package catalogue

import (
	"embed"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"twoneedles/refrig/car"
)

// CataloguePage is what a person can read about one condition. Its sections are
// plain text: paragraphs and list items, no other markup; a key of the
// bibliography stands in square brackets, as in [CFR82]. Pressures are gauge.
type CataloguePage struct {
	ID      car.ConditionID
	Title   string
	OneLine string
	Needles []Block // what the needles show; its items start with the kind of car
	Why     []Block // the physics
	Next    []Block // what to check next
	Before  []Block // cautions, and who decides
	Sources []PageSource
}

// Block is one paragraph of a page or one item of a list in it.
type Block struct {
	Text string
	Item bool
}

// PageSource is one line of a page's sources.
type PageSource struct {
	// Key is a key of the bibliography, or "" for what the trade commonly does
	// and for what this tool's own model computes; Name then says which.
	Key, Name string
	For       string // what the page takes from it
	Mark      string // "read", "coefficients read", "memory" or "computed"
}

// headings are the sections of a page, in order; none may be missing or empty.
var headings = []string{"In one line", "What the needles show", "Why", "Check next", "Before you act", "Sources"}

//go:embed pages/*.md
var catalogueFS embed.FS

// Texts returns the text of every page, in English. The page in the browser takes its
// pages from the words of its language and must not call it: the linker then leaves
// these out.
func Texts() map[car.ConditionID]string {
	files, err := catalogueFS.ReadDir("pages")
	if err != nil {
		panic("catalogue: " + err.Error())
	}
	texts := map[car.ConditionID]string{}
	for _, f := range files {
		b, err := catalogueFS.ReadFile("pages/" + f.Name())
		if err != nil {
			panic("catalogue: " + err.Error())
		}
		texts[car.ConditionID(strings.TrimSuffix(f.Name(), ".md"))] = string(b)
	}
	return texts
}

// Page returns the English page of id. The error says that there is none.
func Page(id car.ConditionID) (CataloguePage, error) {
	text, ok := Texts()[id]
	if !ok {
		return CataloguePage{}, fmt.Errorf("the catalogue has no page %q", id)
	}
	return Parse(id, text)
}

// Pages returns every page in the alphabetical order of the conditions' names.
func Pages() []CataloguePage {
	texts := Texts()
	var pages []CataloguePage
	for _, id := range slices.Sorted(maps.Keys(texts)) {
		p, err := Parse(id, texts[id])
		if err != nil { // the pages are part of the program and tested
			panic("catalogue: " + err.Error())
		}
		pages = append(pages, p)
	}
	return pages
}

// Parse reads one page, in any language, and refuses everything that is not exactly a title
// and the headings, in order, each with text under it. Headings, marks and the names
// of what is no source are signs that stay as they are in every language.
func Parse(id car.ConditionID, text string) (CataloguePage, error) {
	fail := func(format string, args ...any) (CataloguePage, error) {
		return CataloguePage{}, fmt.Errorf("%s.md: %s", id, fmt.Sprintf(format, args...))
	}
	parts := strings.Split("\n"+text, "\n## ")
	title, ok := strings.CutPrefix(strings.TrimSpace(parts[0]), "# ")
	if !ok || strings.Contains(title, "\n") {
		return fail("want one line \"# Title\" before the first section")
	}
	if len(parts)-1 != len(headings) {
		return fail("has %d sections, want %d", len(parts)-1, len(headings))
	}
	var sections [][]Block
	for i, part := range parts[1:] {
		heading, body, _ := strings.Cut(part, "\n")
		if heading != headings[i] {
			return fail("section %d is %q, want %q", i+1, heading, headings[i])
		}
		blocks := parseBlocks(body)
		if len(blocks) == 0 {
			return fail("section %q is empty", heading)
		}
		sections = append(sections, blocks)
	}
	if len(sections[0]) != 1 || sections[0][0].Item {
		return fail("section %q must be one paragraph", headings[0])
	}
	p := CataloguePage{ID: id, Title: title, OneLine: sections[0][0].Text,
		Needles: sections[1], Why: sections[2], Next: sections[3], Before: sections[4]}
	for _, b := range sections[5] {
		s, err := parseSource(b)
		if err != nil {
			return fail("%v", err)
		}
		p.Sources = append(p.Sources, s)
	}
	return p, nil
}

// parseBlocks splits a section into paragraphs and list items. A line that
// follows text without a blank line continues it.
func parseBlocks(body string) (blocks []Block) {
	open := false
	for line := range strings.Lines(body) {
		line = strings.TrimSpace(line)
		item, isItem := strings.CutPrefix(line, "- ")
		switch {
		case line == "":
			open = false
		case isItem:
			blocks, open = append(blocks, Block{Text: item, Item: true}), true
		case open:
			blocks[len(blocks)-1].Text += " " + line
		default:
			blocks, open = append(blocks, Block{Text: line}), true
		}
	}
	return blocks
}

var sourceLine = regexp.MustCompile(`^(?:\[([A-Z][A-Za-z0-9]+)\] |(common practice|this tool's model): )(.+) \((read|coefficients read|memory|computed)\)$`)

func parseSource(b Block) (PageSource, error) {
	m := sourceLine.FindStringSubmatch(b.Text)
	if m == nil || !b.Item {
		return PageSource{}, fmt.Errorf("source %q is not \"- [Key] what for (mark)\"", b.Text)
	}
	return PageSource{Key: m[1], Name: m[2], For: m[3], Mark: m[4]}, nil
}
