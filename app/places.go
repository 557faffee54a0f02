package app

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// place is one page of the tool. Words for it are shell.place.<id>.
type place struct {
	path  string
	id    string
	class string // extra class of <main>
	make  func(*session) app.Composer
}

// places in the order of the work. To add one, write its component in a file of
// its own and add a line here.
var places = []place{
	{"/", "readings", "wide", newReadings},
	{"/job", "job", "", newJob},
	{"/tell", "tell", "", newTell},
	{"/practice", "practice", "wide", newPractice},
	{"/explore", "explore", "wide", newExplore},
	{"/sources", "sources", "", newSources},
}

// placeByID returns the place with the id; an unknown id is a slip in the code.
func placeByID(id string) place {
	for _, p := range places {
		if p.id == id {
			return p
		}
	}
	panic("app: no place " + id)
}
