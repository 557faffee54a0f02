package job

import (
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

// device is a storage with a size, or one that denies everything.
type device struct {
	Memory
	room   int // characters left; a negative room is no limit
	denied bool
}

var errDenied = errors.New("the operation is insecure")

func (d *device) Get(key string) (string, bool, error) {
	if d.denied {
		return "", false, errDenied
	}
	return d.Memory.Get(key)
}

func (d *device) Set(key, value string) error {
	if d.denied {
		return errDenied
	}
	used := 0
	for k, v := range d.Memory {
		if k != key {
			used += len(k) + len(v)
		}
	}
	if d.room >= 0 && used+len(key)+len(value) > d.room {
		return fmt.Errorf("setItem: %w", ErrFull)
	}
	return d.Memory.Set(key, value)
}

func (d *device) Remove(key string) error {
	if d.denied {
		return errDenied
	}
	return d.Memory.Remove(key)
}

func (d *device) Keys() ([]string, error) {
	if d.denied {
		return nil, errDenied
	}
	return d.Memory.Keys()
}

func titles(jobs []Job) string {
	var s []string
	for _, j := range jobs {
		s = append(s, j.Title)
	}
	return strings.Join(s, ", ")
}

func titled(title string, at time.Time) Job {
	j := New(at, unit.US())
	j.Title = title
	return j
}

func TestJobsSurviveClosing(t *testing.T) {
	m := Memory{"someone.elses": "kept", "twoneedles.theme": "dark"}
	s := NewStore(m)
	jobs := []Job{titled("one", noon), titled("two", noon.Add(time.Hour)), full(t)}
	for _, j := range jobs {
		if err := s.Save(j); err != nil {
			t.Fatal(err)
		}
	}
	if err := s.SetCurrent(jobs[2].ID); err != nil {
		t.Fatal(err)
	}

	s = NewStore(m) // the page is opened again
	list, bad, err := s.List()
	if err != nil || len(bad) > 0 || titles(list) != "two, Grey wagon, one" && titles(list) != "Grey wagon, two, one" {
		t.Errorf("%v %v %s", err, bad, titles(list))
	}
	j, warn, ok := s.Current()
	if !ok || warn != nil || !reflect.DeepEqual(j, jobs[2]) {
		t.Errorf("the open job comes back as %+v", j)
	}
	if m["someone.elses"] != "kept" || m["twoneedles.theme"] != "dark" {
		t.Error("what is not a job was touched")
	}
}

func titlesOf(list []Entry) string {
	var jobs []Job
	for _, e := range list {
		jobs = append(jobs, Job{Title: e.Title})
	}
	return titles(jobs)
}

// The line in front of a stored job says what the job says, whatever was typed; a job
// stored before there were lines is listed too.
func TestEntryIsTheJobs(t *testing.T) {
	odd := full(t)
	odd.Title, odd.Notes = "tab\there", "two\nlines"
	odd.Plate = "e1\te1"
	device := Memory{}
	s := NewStore(device)
	for _, j := range []Job{full(t), odd, New(noon, unit.US())} {
		if err := s.Save(j); err != nil {
			t.Fatal(err)
		}
		e, err := s.entry(j.ID, KeyPrefix+j.ID)
		want := j.Entry()
		want.Title, want.Plate, want.found = lineSafe.Replace(want.Title), lineSafe.Replace(want.Plate), lineSafe.Replace(want.found)
		if err != nil || !reflect.DeepEqual(*e, want) {
			t.Errorf("%+v\nwant %+v: %v", e, want, err)
		}
		if k, _, err := s.Load(j.ID); err != nil || !reflect.DeepEqual(k, j) && j.Title != odd.Title {
			t.Errorf("the job came back as %+v: %v", k, err)
		}
	}
	old := full(t)
	device[KeyPrefix+old.ID] = string(old.portion(browser))
	if e, err := s.entry(old.ID, KeyPrefix+old.ID); err != nil || !reflect.DeepEqual(*e, old.Entry()) {
		t.Errorf("%+v: %v", e, err)
	}
}

// What is stored is written without asking the policy where it may go: it must be whole.
func TestEverythingMayStayInTheBrowser(t *testing.T) {
	for path, where := range policy {
		if where&browser == 0 {
			t.Errorf("%s may not", path)
		}
	}
	for _, j := range append(Examples(noon), full(t), New(noon, unit.US())) {
		k, warn, err := Restore([]byte(jobPart(j.stored())))
		if err != nil || warn != nil || string(k.portion(browser)) != string(j.portion(browser)) {
			t.Errorf("%s comes back as %+v: %v %v", j.Title, k, warn, err)
		}
	}
}

// A list that was read before tells what was written since.
func TestListIsReadAgainWhereItChanged(t *testing.T) {
	m := Memory{}
	s := NewStore(m)
	j := titled("one", noon)
	for _, title := range []string{"one", "two"} {
		j.Title = title
		if err := s.Save(j); err != nil {
			t.Fatal(err)
		}
		if list, _, _ := s.Entries(); titlesOf(list) != title {
			t.Errorf("the list holds %s, want %s", titlesOf(list), title)
		}
	}
	j.Title = "three, by another window"
	m[KeyPrefix+j.ID] = j.stored()
	if list, _, _ := s.Entries(); titlesOf(list) != j.Title {
		t.Errorf("the list holds %s, want %s", titlesOf(list), j.Title)
	}
}

// What leaves the device only by choice does not leave without it.
func TestNamesLeaveByChoiceAlone(t *testing.T) {
	j := full(t)
	names := []string{j.Shop, j.Plate, j.Odometer, j.Technician, j.OfCar}
	for what, c := range map[string]struct {
		in   func() (Job, error)
		want string
	}{
		"a link":               {func() (Job, error) { k, _, err := OpenLink(j.Link()); return k, err }, "|||||"},
		"a link with names":    {func() (Job, error) { k, _, err := OpenLink(j.LinkNamed()); return k, err }, strings.Join(names[:4], "|") + "||"},
		"the customer's sheet": {func() (Job, error) { k, _, err := OpenLink(j.LinkSheet()); return k, err }, j.Shop + "|||||"},
		"a link to readings":   {func() (Job, error) { k, _, err := OpenLink(j.LinkReadings()); return k, err }, "|||||"},
		"a file":               {func() (Job, error) { return first(Import(Export([]Job{j}, noon))) }, "||||" + "|" + j.Notes},
		"a backup":             {func() (Job, error) { return first(Import(Backup([]Job{j}, noon))) }, strings.Join(names, "|") + "|" + j.Notes},
	} {
		k, err := c.in()
		if of := !k.Updated.IsZero(); of != (what == "the customer's sheet" || what == "a file" || what == "a backup") {
			t.Errorf("%s holds its day: %v", what, of)
		}
		if got := strings.Join([]string{k.Shop, k.Plate, k.Odometer, k.Technician, k.OfCar, k.Notes}, "|"); err != nil || got != c.want {
			t.Errorf("%s holds %q, want %q: %v", what, got, c.want, err)
		}
	}
}

func first(in Imported, err error) (Job, error) {
	if err != nil {
		return Job{}, err
	}
	return in.Jobs[0], nil
}

// A job that comes back without its names is the one that is here; one with another
// plate is not.
func TestImportKnowsAJobWithoutItsNames(t *testing.T) {
	s, j := NewStore(Memory{}), full(t)
	if err := s.Save(j); err != nil {
		t.Fatal(err)
	}
	bare, err := first(Import(Export([]Job{j}, noon)))
	if n, err2 := s.Add([]Job{bare}); n != 0 || err != nil || err2 != nil {
		t.Errorf("%d added: %v %v", n, err, err2)
	}
	j.Plate = "another"
	if n, err := s.Add([]Job{j}); n != 1 || err != nil {
		t.Errorf("%d added: %v", n, err)
	}
}

func TestDifference(t *testing.T) {
	j := full(t)
	for want, change := range map[string]func(*Job){
		"":                         func(j *Job) { j.Updated, j.Learnt = j.Updated.Add(time.Hour), 7 },
		"Title":                    func(j *Job) { j.Title += "x" },
		"Before.Readings.low.Text": func(j *Job) { j.Before.SetReading(car.Low, Reading{Text: "29", Swing: true, Lo: "22", Hi: "45"}) },
		"After.Readings.vent.Text": func(j *Job) { j.After.SetReading(car.Vent, Reading{}) },
		"Text.label_charge":        func(j *Job) { j.SetText(present.LabelCharge, "2") },
		"Repair.Hold":              func(j *Job) { j.Repair.Hold[1].Time = "6 min" },
		"Created":                  func(j *Job) { j.Created = j.Created.Add(time.Hour) },
	} {
		k := j.Clone()
		change(&k)
		if got := Difference(j, k); got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := Difference(k, j); got != want {
			t.Errorf("the other way %q, want %q", got, want)
		}
	}
}

func TestFind(t *testing.T) {
	a, b := titled("Blue van, Łódź", noon), titled("Grey wagon", noon)
	b.Repair.Work, b.Notes = "new condenser fan", "call at five"
	list := []Entry{a.Entry(), b.Entry()}
	for query, want := range map[string]string{
		"": "Blue van, Łódź, Grey wagon", "van": "Blue van, Łódź", "ŁÓDŹ": "Blue van, Łódź", "fan grey": "Grey wagon",
		"five": "Grey wagon", "fan blue": "", "  ": "Blue van, Łódź, Grey wagon",
	} {
		if got := titlesOf(Find(list, query)); got != want {
			t.Errorf("%q finds %q, want %q", query, got, want)
		}
	}
}

func TestDuplicateIsANewJob(t *testing.T) {
	s := NewStore(Memory{})
	j := full(t)
	j.Repair.FoundAt, j.Before.Sound, j.After.Sound = noon, true, true
	s.Save(j)
	later := noon.Add(48 * time.Hour)
	k, err := s.Duplicate(j.ID, later)
	if err != nil || k.ID == j.ID || !k.Created.Equal(later) || k.Title != j.Title {
		t.Fatalf("%v %+v", err, k)
	}
	if len(k.Teaches()) > 0 || len(k.SoundVisits()) > 0 || k.Repair.Cause != j.Repair.Cause {
		t.Errorf("what was found once is found again: %+v, %+v", k.Teaches(), k.SoundVisits())
	}
	k.Before.Readings[car.Low] = Reading{Text: "99"}
	if have, _, _ := s.Load(j.ID); have.Before.Readings[car.Low].Text == "99" {
		t.Error("the copy shares its readings with the original")
	}
	if _, err := s.Duplicate("nope", later); codeOf(t, err) != StoreMissing {
		t.Errorf("got %v", err)
	}
}

func TestDeleteCanBeUndone(t *testing.T) {
	m := Memory{}
	s := NewStore(m)
	j := full(t)
	s.Save(j)
	m[KeyPrefix+"broken"] = "{"
	before := maps.Clone(m)
	for _, id := range []string{j.ID, "broken"} { // what cannot be read can be brought back too
		undo, err := s.Delete(id)
		if err != nil {
			t.Fatal(err)
		}
		if _, _, err := s.Load(id); codeOf(t, err) != StoreMissing {
			t.Errorf("%s is still there: %v", id, err)
		}
		if err := undo(); err != nil || !maps.Equal(m, before) {
			t.Errorf("undo: %v", err)
		}
	}
	if _, err := s.Delete("nope"); codeOf(t, err) != StoreMissing {
		t.Errorf("got %v", err)
	}
	if err := s.Save(j); err != nil {
		t.Errorf("after undo the job cannot be saved: %v", err)
	}
}

// Storage full or denied: said at once, work goes on in memory, export holds
// everything, and room makes it whole again.
func TestWorkGoesOnWithoutRoom(t *testing.T) {
	d := &device{Memory: Memory{}, room: -1}
	s := NewStore(d)
	old := titled("old", noon)
	s.Save(old)
	j := titled("new", noon)
	for _, c := range []struct {
		what string
		set  func()
		code string
	}{
		{"full", func() { d.room = 1 }, StoreFull},
		{"denied", func() { d.room, d.denied = -1, true }, StoreDenied},
	} {
		c.set()
		err := s.Save(j)
		if codeOf(t, err) != c.code {
			t.Fatalf("%s: %v", c.what, err)
		}
		var e *Error
		if errors.As(err, &e) && !present.English().Has("error."+e.What+".next") {
			t.Errorf("%s: nothing is said", c.what)
		}
		if k, _, err := s.Load(j.ID); err != nil || k.Title != "new" || s.Unsaved() != 1 {
			t.Errorf("%s: the job is not in memory: %v", c.what, err)
		}
		list, _, _ := s.List()
		if !strings.Contains(titles(list), "new") {
			t.Errorf("%s: the list holds %s", c.what, titles(list))
		}
	}
	d.denied = false
	list, _, err := s.List()
	if err != nil || titles(list) != "new, old" && titles(list) != "old, new" {
		t.Errorf("%v %s", err, titles(list))
	}
	if err := s.Save(j); err != nil || s.Unsaved() != 0 {
		t.Errorf("with room: %v, %d unsaved", err, s.Unsaved())
	}
}

func TestUnsavedJobCanBeDeletedAndBroughtBack(t *testing.T) {
	d := &device{Memory: Memory{}, room: 1}
	s := NewStore(d)
	j := titled("new", noon)
	s.Save(j)
	undo, err := s.Delete(j.ID)
	if err != nil || s.Unsaved() != 0 {
		t.Fatal(err)
	}
	if err := undo(); err != nil || s.Unsaved() != 1 {
		t.Errorf("%v, %d unsaved", err, s.Unsaved())
	}
}

// What another window saved is never overwritten.
func TestTwoWindows(t *testing.T) {
	m := Memory{}
	a, b := NewStore(m), NewStore(m)
	j := titled("wagon", noon)
	if err := a.Save(j); err != nil {
		t.Fatal(err)
	}
	k, _, _ := b.Load(j.ID)
	k.Title = "wagon, seen by b"
	if err := b.Save(k); err != nil {
		t.Fatal(err)
	}
	a.List() // looking at the list must not make a's old state look fresh
	j.Title = "wagon, seen by a"
	err := a.Save(j)
	if codeOf(t, err) != StoreChanged {
		t.Fatalf("got %v", err)
	}
	copied, err := a.SaveCopy(j)
	if err != nil {
		t.Fatal(err)
	}
	list, _, _ := a.List()
	got := strings.Split(titles(list), ", seen by ")
	if len(list) != 2 || len(got) != 3 || copied.ID == j.ID {
		t.Errorf("the list holds %s", titles(list))
	}
	// Saving the same text twice is no conflict.
	if err := b.Save(k); err != nil {
		t.Error(err)
	}
	// A job that was never loaded here but is there is not overwritten either.
	if err := NewStore(m).Save(j); codeOf(t, err) != StoreChanged {
		t.Errorf("got %v", err)
	}
}

// A damaged job is named, harms no other and stays as it is.
func TestDamagedJobsStay(t *testing.T) {
	m := Memory{KeyPrefix + "cut": `{"format":"twoneedles-job","ver`, KeyPrefix + "newer": `{"format":"twoneedles-job","version":9}`}
	s := NewStore(m)
	s.Save(titled("good", noon))
	list, bad, err := s.List()
	if err != nil || titles(list) != "good" || !slices.Equal(bad, []string{"cut", "newer"}) {
		t.Errorf("%v %v %s", err, bad, titles(list))
	}
	if len(m) != 3 {
		t.Error("something was removed")
	}
	if _, _, ok := s.Current(); ok {
		t.Error("a job is open that nobody opened")
	}
	m[KeyCurrent] = "cut"
	if _, _, ok := s.Current(); ok {
		t.Error("a damaged job is open")
	}
}

func TestExportAndImport(t *testing.T) {
	a := NewStore(Memory{})
	jobs := append(Examples(noon), full(t))
	for _, j := range jobs {
		a.Save(j)
	}
	b := Backup(jobs, noon)
	in, err := Import(b)
	if err != nil || in.Failed != 0 || in.Warnings != nil || len(in.Jobs) != len(jobs) {
		t.Fatalf("%v, %d failed, %v, %d jobs", err, in.Failed, in.Warnings, len(in.Jobs))
	}
	for i := range jobs {
		if !reflect.DeepEqual(in.Jobs[i], jobs[i]) {
			t.Errorf("%s changed on the way", jobs[i].Title)
		}
	}
	// Into the same store: nothing to add, whatever was learnt then. Changed: beside, not instead.
	in.Jobs[1].Learnt = 34
	if n, err := a.Add(in.Jobs); n != 0 || err != nil {
		t.Errorf("%d added again, %v", n, err)
	}
	in.Jobs[0].Title = "changed elsewhere"
	if n, err := a.Add(in.Jobs); n != 1 || err != nil {
		t.Errorf("%d added, %v", n, err)
	}
	if j, _, _ := a.Load(jobs[0].ID); j.Title != jobs[0].Title {
		t.Error("an import replaced a job")
	}
	// Into an empty store: all, under their ids.
	c := NewStore(Memory{})
	if n, err := c.Add(in.Jobs); n != len(jobs) || err != nil {
		t.Errorf("%d added, %v", n, err)
	}
	if j, _, err := c.Load(jobs[1].ID); err != nil || j.Title != jobs[1].Title {
		t.Errorf("%v", err)
	}
	// A store without room says how far it came.
	d := NewStore(&device{Memory: Memory{}, room: 1500})
	if n, err := d.Add(in.Jobs); codeOf(t, err) != StoreFull || n == 0 || n == len(jobs) {
		t.Errorf("%d added, %v", n, err)
	}
	if !json.Valid(b) || !strings.Contains(string(b), "\n  ") {
		t.Error("an export is JSON that a person can read")
	}
}

func TestImportOfOddFiles(t *testing.T) {
	good := string(titled("good", noon).portion(file))
	for _, c := range []struct {
		what, text, code string
		jobs, failed     int
	}{
		{"one job alone", good, "", 1, 0},
		{"no jobs", `{"format":"twoneedles-jobs","version":1,"jobs":[]}`, "", 0, 0},
		{"a bad one among good", `{"format":"twoneedles-jobs","version":1,"jobs":[` + good + `,{"format":"x"},7,` + good + `]}`, "", 2, 2},
		{"only bad ones", `{"format":"twoneedles-jobs","version":1,"jobs":[{"format":"x"}]}`, Foreign, 0, 0},
		{"a newer file", `{"format":"twoneedles-jobs","version":3,"jobs":[]}`, Future, 0, 0},
		{"no version", `{"format":"twoneedles-jobs","jobs":[]}`, Foreign, 0, 0},
		{"jobs that are no list", `{"format":"twoneedles-jobs","version":1,"jobs":7}`, Foreign, 0, 0},
		{"another program's file", `{"format":"other"}`, Foreign, 0, 0},
		{"an empty file", ``, Truncated, 0, 0},
		{"a picture", "\x89PNG\r\n", Damaged, 0, 0},
		{"cut off", string(Export([]Job{full(t)}, noon))[:400], Truncated, 0, 0},
		{"huge", strings.Repeat(" ", MaxFile+1), TooBig, 0, 0},
	} {
		in, err := Import([]byte(c.text))
		if codeOf(t, err) != c.code || len(in.Jobs) != c.jobs || in.Failed != c.failed {
			t.Errorf("%s: %v, %d jobs, %d failed", c.what, err, len(in.Jobs), in.Failed)
		}
	}
}

func FuzzImport(f *testing.F) {
	f.Add(Export(Examples(noon)[:2], noon))
	f.Add([]byte(`{"format":"twoneedles-jobs","version":1,"jobs":[null,[],{}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		if _, err := Import(b); err != nil {
			codeOf(t, err)
		}
	})
}

func TestCSV(t *testing.T) {
	j := full(t)
	j.Title = `=HYPERLINK("x")`
	j.Before = Visit{}
	j.Before.SetText(present.Ambient, "95")
	j.Before.SetReading(car.Low, Reading{Swing: true, Lo: "22", Hi: "45"})
	j.Before.SetReading(car.High, Reading{Text: "-12"})
	j.Before.SetReading(car.Vent, Reading{Text: "@cmd, \"x\"\n"})
	j.Before.SetReading(car.SightGlass, Reading{Choice: "bubbles"})
	j.After = Visit{}
	j.After.SetReading(car.Low, Reading{Text: "33"})
	rows, err := csv.NewReader(strings.NewReader(CSV([]Job{j}))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, r := range rows[1:] {
		if r[1] != `'=HYPERLINK("x")` || r[0] != j.ID {
			t.Errorf("row %q", r)
		}
		got = append(got, strings.Join(r[3:], "|"))
	}
	want := []string{ // 22, 33.5, 45 and −12 psi in Pa by hand, six digits
		"before|ambient|95|F|308.15|||K|",
		"before|low|22 to 45|psi|230974|151685|310264|Pa gauge|",
		"before|high|-12|psi|-82737.1|||Pa gauge|",
		"before|vent|'@cmd, \"x\"\n|F||||K|",
		"before|sight_glass||||||" + "|bubbles",
		"after|low|33|psi|227527|||Pa gauge|",
	}
	if !slices.Equal(got, want) {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	for _, r := range rows {
		for _, cell := range r {
			if cell != "" && strings.ContainsRune("=+@", rune(cell[0])) {
				t.Errorf("a spreadsheet would run %q", cell)
			}
		}
	}
}

// A job that cannot be read is handed out as it is; one of a newer version as a file that
// the newer version reads.
func TestRawOfTheUnreadable(t *testing.T) {
	newer := `{"format":"twoneedles-job","version":99}`
	for _, c := range []struct {
		kept, raw, ending string
		unreadable        bool
	}{
		{"half of {\nand more", "half of {\nand more", "txt", true},
		{"", "", "txt", true},
		{newer, newer, "json", true},
		{New(noon, unit.US()).Entry().line() + "\n" + newer, newer, "json", true},
	} {
		m := Memory{KeyPrefix + "a": c.kept, KeyCurrent: "a"}
		s := NewStore(m)
		raw, ending, err := s.Raw("a")
		if id, is := s.Unreadable(); raw != c.raw || ending != c.ending || err != nil || is != c.unreadable || is && id != "a" {
			t.Errorf("%q: %q.%s, %v; %q unreadable: %v", c.kept, raw, ending, err, id, is)
		}
	}
	m := Memory{KeyCurrent: "gone"}
	if _, is := NewStore(m).Unreadable(); is {
		t.Error("a job that is not there is called unreadable")
	}
	s := NewStore(m)
	if err := s.Save(New(noon, unit.US())); err != nil {
		t.Fatal(err)
	}
	for key := range m {
		if id, ok := strings.CutPrefix(key, KeyPrefix); ok {
			m[KeyCurrent] = id
		}
	}
	if _, is := s.Unreadable(); is {
		t.Error("a sound job is called unreadable")
	}
}
