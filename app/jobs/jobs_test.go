package jobs

import (
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/diagnose"
)

type shown struct {
	*pagetest.Screen
	place *Place
}

// pickup shows the list with one job at hand, which somebody made his own.
func pickup(t *testing.T) shown {
	t.Helper()
	var place *Place
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		place = New(pg)
		return place.View
	})
	b.Do(func() {
		b.Page.Replace(b.Page.Example("old_pickup_half_charge"))
		b.Page.Job.SetText(present.MassIn, "2 lb")
		b.Page.Job.Plate, b.Page.Job.Technician = "INV 471", "Ada (invented)"
		b.Page.Edited()
	})
	return shown{b, place}
}

func TestListOpensCopiesDeletesAndBringsBack(t *testing.T) {
	b := pickup(t)
	first := b.Page.Job.ID
	b.Do(func() { b.place.duplicate(first) })
	copied := b.Page.Job.ID
	if copied == first || b.Page.Typed(page.TextOf(present.MassIn)) != "2 lb" {
		t.Fatal("no copy on the bench")
	}
	b.Do(func() { b.place.delete(copied) })
	if b.Page.Job.ID == copied || !b.Page.Job.Before.Empty() {
		t.Error("the deleted job is still on the bench")
	}
	b.Do(func() { b.place.undoDelete() })
	b.Do(func() { b.place.open(copied) })
	if b.Page.Job.ID != copied || b.Page.Typed(page.TextOf(present.MassIn)) != "2 lb" {
		t.Error("the job did not come back whole")
	}
	b.Sound("the list")
	b.Do(func() { b.place.query = "no such car"; b.place.rev++ })
	b.Has("jobs", "No job matches")
}

// A job is listed by the best name it has, and its needles as far as they were read.
func TestListSaysWhatIsThere(t *testing.T) {
	for _, c := range []struct{ title, car, plate, low, high, name, about, not string }{
		{"", "", "", "", "", "Unnamed job", ", needles not read; 0 of", " and "},
		{"", "Grey wagon (invented)", "", "", "", "Grey wagon (invented)", ", needles not read; 0 of", "Unnamed job"},
		{"", "", "INV 9", "30", "", "INV 9", ", low side 30 psi; 0 of", "·"},
		{"", "Grey wagon (invented)", "INV 9", "", "210", "Grey wagon (invented)", ", high side 210 psi; 0 of", "Without"},
		{"Second visit", "Grey wagon (invented)", "INV 9", "30", "210", "Second visit", ", 30 and 210 psi; 0 of", "Grey"},
	} {
		b := pickup(t)
		b.Do(func() {
			b.Page.NewJob()
			j := &b.Page.Job
			j.Title, j.OfCar, j.Plate = c.title, c.car, c.plate
		}).Enter("low", c.low).Enter("high", c.high)
		id := b.Page.Job.ID
		for _, at := range []string{"at hand", "on the shelf"} {
			html := b.HTML()
			item := html[strings.Index(html, `data-job="`+id):]
			item = item[:strings.Index(item, "<button")]
			for _, want := range []string{">" + c.name + "<", c.about} {
				if !strings.Contains(item, want) {
					t.Errorf("%+v, %s: %q is not in %s", c, at, want, item)
				}
			}
			if strings.Contains(item, c.not) {
				t.Errorf("%+v, %s: %q is in %s", c, at, c.not, item)
			}
			b.Do(b.Page.NewJob)
		}
	}
}

// A file of many jobs comes in a few at a time, so that the page lives; all of it comes.
func TestAFileOfManyJobs(t *testing.T) {
	b := pickup(t)
	var many []job.Job
	for range 600 {
		j := job.New(b.Page.Job.Created, b.Page.Job.Units)
		j.Title, j.Notes = "Invented", strings.Repeat("call at five ", 100)
		many = append(many, j)
	}
	before, at := 0, 0
	count := func() int { list, _ := b.Page.Entries(); return len(list) }
	before = count()
	b.Do(func() {
		b.place.importText(string(job.Export(many, b.Page.Job.Created)))
		at = count() - before
	})
	if at == 0 || at == 600 {
		t.Errorf("%d of 600 jobs in the first event", at)
	}
	if n := count() - before; n != 600 || !strings.Contains(b.place.said, "600 jobs brought in") {
		t.Errorf("%d came in, and it says %q", n, b.place.said)
	}
}

func TestImportLosesNothing(t *testing.T) {
	b := pickup(t)
	file := string(job.Export([]job.Job{b.Page.Job}, b.Page.Job.Created))
	here := b.Page.Job.ID
	text := func() string { return string(job.Export([]job.Job{b.Page.Job}, b.Page.Job.Created)) }
	for name, c := range map[string]struct{ file, want string }{
		"cut":     {file[:len(file)/2], "breaks off"},
		"foreign": {`{"hello": "world"}`, "not a job from this tool"},
		"no JSON": {"<script>alert(1)</script>", "cannot be read"},
		"future":  {strings.Replace(file, `"version": 2`, `"version": 99`, 1), "newer version"},
		"huge":    {strings.Repeat("x", job.MaxFile+1), "too large"},
		"empty":   {"", "breaks off"},
	} {
		b.Do(func() { b.place.importText(c.file) })
		if !strings.Contains(b.place.said, c.want) {
			t.Errorf("%s: it says %q, want %q", name, b.place.said, c.want)
		}
		if b.Page.Job.ID != here || text() != file {
			t.Errorf("%s changed the job", name)
		}
	}
	b.Do(func() { b.place.importText(file) })
	if !strings.Contains(b.place.said, "already") || strings.Contains(b.place.said, "another fit") {
		t.Errorf("the same job again: %q", b.place.said)
	}
	b.Do(func() { b.place.importText(strings.Replace(file, diagnose.FitID(), "00000000", 1)) })
	if !strings.Contains(b.place.said, "already") || !strings.Contains(b.place.said, "written with another fit") {
		t.Errorf("the same job out of a file of another fit: %q", b.place.said)
	}
	// A changed one lies beside the old one, is opened, and its markup is text.
	evil := strings.Replace(file, "Example: old pickup", `<img src=x onerror=alert(1)>`, 1)
	b.Do(func() { b.place.importText(evil) })
	if b.Page.Job.ID == here || len(b.place.list) != 2 {
		t.Errorf("%d jobs after a changed one came in", len(b.place.list))
	}
	if html := regexp.MustCompile(` aria-label="(?:[^"\\]|\\.)*"`).ReplaceAllString(b.WithoutControls(), ""); strings.Contains(html, "<img") {
		t.Error("markup of a title reached the page")
	}
}
