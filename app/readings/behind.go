package readings

import (
	"twoneedles/app/internal/browser"
	"twoneedles/app/page"
)

// behind are the parts of an answer that nobody sees while he types, because they are off
// the screen: on a phone the ranking, the picture and the earlier visits. They are drawn
// once, with the plan that follows, instead of with the answer as well: half of what the
// browser does at a key is theirs. Where they are on the screen nothing waits, as an answer
// beside the picture of the reading before is a lie.
type behind struct {
	off   map[string]bool // the parts that were off the screen when the job was edited last, by id
	shown map[string]int  // the answer each was drawn with
}

func newBehind() behind { return behind{map[string]bool{}, map[string]int{}} }

// note looks where the parts are, before anything of the page changes: later the browser
// would have to lay it out for that.
func (b *behind) note() {
	for _, id := range []string{"odds", "earlier", "picture"} {
		b.off[id] = !browser.OnScreen(id)
	}
}

// due is the revision of the answer that the part shows now.
func (b *behind) due(id string, a *page.Answer) int {
	if planComes := a.State == page.Answered && !a.Planned; !planComes || !b.off[id] {
		b.shown[id] = a.Rev
	}
	return b.shown[id]
}
