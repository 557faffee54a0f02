//go:build !js

package browsertest

import (
	"fmt"
	"path/filepath"
	"testing"

	"twoneedles/app/site"
)

// Every place on a phone and on a laptop, light and dark: something is there,
// nothing hangs over the side, and a picture of it is left in .cache/shots for a
// person to look at. The README's picture is made of two of them.
func TestLooksOfEveryPlace(t *testing.T) {
	server := Serve(t, Site(t), "/")
	browser := Launch(t)
	for _, place := range append([]string{""}, site.Places...) {
		name, address := place, place
		if name == "" {
			name, address = "readings", "#example"
		}
		page := browser.Open(server.URL + address)
		page.WaitRunning()
		if place == "" {
			page.WaitText("#answer", " in ") // odds in words: the example is answered
		}
		page.WaitPlace(name)
		for _, look := range Looks {
			page.SetLook(look)
			page.Wait("no part of "+name+" over the side",
				fmt.Sprintf("document.documentElement.clientWidth === %[1]d && document.documentElement.scrollWidth <= %[1]d", look.Screen.Width))
			page.Screenshot(name + "-" + look.Name)
		}
		page.Close()
	}
}

func TestPicturesStayOutOfTheTree(t *testing.T) {
	root := t.TempDir()
	home := filepath.Join(root, ".cache", "shots")
	for wish, want := range map[string]string{ // "" is an error
		"":                                  home,
		home:                                home,
		filepath.Join(home, "today"):        filepath.Join(home, "today"),
		filepath.Join(root, "..", "beside"): filepath.Join(filepath.Dir(root), "beside"),
		root + "-beside":                    root + "-beside",
		"1":                                 "",
		"./shots":                           "",
		"../shots":                          "",
		root:                                "",
		filepath.Join(root, "app", "shots"): "",
		filepath.Join(root, ".cache"):       "",
	} {
		if got, err := shots(wish, root); got != want || (err == nil) != (want != "") {
			t.Errorf("SHOTS=%q: pictures go to %q (%v), want %q", wish, got, err, want)
		}
	}
}
