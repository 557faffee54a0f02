package job

import (
	"bytes"
	"compress/flate"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"
	"time"

	"twoneedles/app/present"
	"twoneedles/refrig/car"
	"twoneedles/refrig/unit"
)

var writeLinks = flag.Bool("write-links", false, "write links of this version that are not there yet")

// shared returns j as a link carries it.
func shared(j Job) Job {
	j.ID, j.Created, j.Updated, j.Notes, j.Repair.HoldStart = "", time.Time{}, time.Time{}, "", time.Time{}
	j.Repair.FoundAt = time.Time{}
	j.Before.Log, j.After.Log = Log{}, Log{}
	j.Shop, j.Plate, j.Odometer, j.Technician, j.OfCar = "", "", "", "", ""
	j.LeftOut = nil
	j.Before.Sound, j.After.Sound = false, false
	return j
}

func TestLinkThereAndBack(t *testing.T) {
	jobs := append(Examples(noon), full(t), New(noon, unit.US()))
	for _, j := range jobs {
		text := j.Link()
		if !regexp.MustCompile(`^[A-Za-z0-9._-]+$`).MatchString(text) {
			t.Errorf("%s: a browser would rewrite %q", j.Title, text)
		}
		for _, form := range []string{text, "#" + text, " #" + text + "\n"} {
			k, warn, err := OpenLink(form)
			if err != nil || warn != nil {
				t.Fatalf("%s: %v %v", j.Title, err, warn)
			}
			if k.ID == j.ID || !goodID(k.ID) {
				t.Errorf("%s: a link must make a new job, not overwrite %s", j.Title, j.ID)
			}
			if !reflect.DeepEqual(shared(k), shared(j)) {
				t.Errorf("%s:\n%+v\n%+v", j.Title, k, j)
			}
		}
	}
}

func TestIsLink(t *testing.T) {
	for text, want := range map[string]bool{
		Examples(noon)[0].Link(): true, "#j1.": true, "j27.abc": true,
		"": false, "#": false, "j": false, "job": false, "job.1": false, "#jump.to": false, "x1.a": false, "seed.4": false,
	} {
		if IsLink(text) != want {
			t.Errorf("%q: %v", text, !want)
		}
	}
}

// A QR code is read easily from a phone up to about 600 characters (version 15 to
// 20, judgement); a job with readings must stay well below.
func TestLinksAreShort(t *testing.T) {
	for _, j := range Examples(noon) {
		if n := len(j.Link()); n > 300 {
			t.Errorf("%s: %d characters", j.Title, n)
		}
	}
	n := len(full(t).Link())
	t.Logf("a job with every field filled: %d characters", n)
	if n > 1500 {
		t.Errorf("the fullest job has %d characters", n)
	}
}

// pack packs any bytes as a link.
func pack(b []byte) string {
	var buf bytes.Buffer
	z, _ := flate.NewWriterDict(&buf, flate.BestCompression, link1)
	z.Write(b)
	z.Close()
	return linkPrefix + base64.RawURLEncoding.EncodeToString(buf.Bytes())
}

// A link made by hand may carry the id of a job kept here. It must not replace it.
func TestLinkIsANewJob(t *testing.T) {
	kept := New(noon, unit.US())
	forged, err := json.Marshal(kept)
	if err != nil {
		t.Fatal(err)
	}
	j, _, err := OpenLink(pack(forged))
	if err != nil {
		t.Fatal(err)
	}
	if !strings.Contains(string(forged), kept.ID) || j.ID == kept.ID || !goodID(j.ID) {
		t.Errorf("the link of a job with id %s opens as %s", kept.ID, j.ID)
	}
}

func TestBadLinksAreRefused(t *testing.T) {
	good := Examples(noon)[0].Link()
	bomb := pack(bytes.Repeat([]byte{' '}, 40<<20))
	if len(bomb) > MaxLink {
		t.Fatal("the bomb must pass the first check to test the second")
	}
	for _, c := range []struct{ what, text, code string }{
		{"empty", "", BadLink},
		{"another fragment", "#answer", BadLink},
		{"another version", "j9." + good[3:], BadLink},
		{"cut", good[:len(good)/2], BadPacked},
		{"changed", good[:20] + "AAAA" + good[24:], BadPacked},
		{"signs that are none", good[:10] + "%%%" + good[13:], BadPacked},
		{"a bomb of 40 MB", bomb, TooBig},
		{"huge", linkPrefix + strings.Repeat("A", MaxLink), TooBig},
		{"packed, but foreign", pack([]byte(`{"a":1}`)), Foreign},
		{"packed, but newer", pack([]byte(`{"format":"twoneedles-job","version":99}`)), Future},
		{"packed, but text", pack([]byte("hello")), Damaged},
	} {
		j, _, err := OpenLink(c.text)
		got := codeOf(t, err)
		// A changed byte may still inflate; then the JSON is damaged.
		if got != c.code && !(c.code == BadPacked && (got == Damaged || got == Truncated)) {
			t.Errorf("%s: %q, want %q", c.what, got, c.code)
		}
		if !reflect.DeepEqual(j, Job{}) {
			t.Errorf("%s: something is left of it", c.what)
		}
	}
}

// dictionary1 is the beginning of the SHA-256 of link1.txt.
const dictionary1 = "b68b45192193c510"

// The dictionary of version 1 is part of every link ever passed on.
func TestLinkDictionaryNeverChanges(t *testing.T) {
	sum := sha256.Sum256(link1)
	if got := hex.EncodeToString(sum[:8]); got != dictionary1 {
		t.Errorf("link1.txt has changed (%s): old links would not open. A new packing needs a new prefix and a new file.", got)
	}
}

// Links of every released version still open and still mean the same:
// testdata/links/v<n>_<what>.txt holds a link and, after a blank line, what must
// be in it, a line each.
func TestOldLinksStillOpen(t *testing.T) {
	dir := filepath.Join("..", "..", "testdata", "links")
	if *writeLinks {
		writeMissingLinks(t, dir)
	}
	files, _ := filepath.Glob(filepath.Join(dir, "v*_*.txt"))
	if len(files) < 5 {
		t.Fatalf("only %d links in %s", len(files), dir)
	}
	for _, name := range files {
		b, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		text, want, ok := strings.Cut(string(b), "\n\n")
		if !ok {
			t.Fatalf("%s has no expectation", name)
		}
		j, warn, err := OpenLink(text)
		if err != nil || warn != nil {
			t.Errorf("%s: %v %v", name, err, warn)
			continue
		}
		if got := describe(j); got != want {
			t.Errorf("%s says\n%s\nwant\n%s", name, got, want)
		}
	}
}

// describe lists what a link must carry, by hand and not by way of its JSON.
func describe(j Job) string {
	var b strings.Builder
	line := func(name, value string) {
		if value != "" {
			fmt.Fprintf(&b, "%s: %s\n", name, value)
		}
	}
	line("title", j.Title)
	line("units", fmt.Sprint(j.Units.Pressure, " ", j.Units.Temperature, " ", j.Units.Mass))
	line("car", strings.Join(strings.Fields(fmt.Sprint(j.Car.Refrigerant, " ", j.Car.Metering, " ", j.Car.Compressor, " ", j.Car.HighPort, " ", j.Car.Size, " ", j.Car.Evaporators)), " "))
	line("label charge", j.Text[present.LabelCharge])
	for _, v := range []struct {
		name string
		Visit
	}{{"before", j.Before}, {"after", j.After}} {
		for _, id := range VisitFields {
			line(v.name+" "+string(id), v.Text[id])
		}
		for _, q := range Quantities {
			r := v.Readings[q]
			text := r.Text + r.Choice
			if r.Swing {
				text = r.Lo + " … " + r.Hi
			}
			line(v.name+" "+string(q), text)
		}
	}
	line("done", strings.Join(j.Repair.Done, " "))
	line("parts", strings.Join(j.Repair.Parts, " "))
	line("cause", j.Repair.Cause)
	line("work", strings.ReplaceAll(j.Repair.Work, "\n", " / "))
	for _, h := range j.Repair.Hold {
		line("hold", h.Time+" → "+h.Pressure)
	}
	return b.String()
}

// writeMissingLinks adds links of the present version; it never rewrites one.
func writeMissingLinks(t *testing.T, dir string) {
	jobs := map[string]Job{"empty": New(noon, unit.US()), "everything": full(t)}
	for _, j := range Examples(noon) {
		jobs[j.Example] = j
	}
	hand := New(noon, unit.Metric())
	hand.Title = "Größe 7, crème & 日本 “quoted” <b>"
	hand.Before.SetText(present.Ambient, "35,5")
	hand.Before.SetReading(car.Low, Reading{Text: "in 12"})
	hand.Before.SetReading(car.High, Reading{Text: ">35"})
	jobs["odd_signs"] = hand
	for what, j := range jobs {
		name := filepath.Join(dir, fmt.Sprintf("v%d_%s.txt", Version, what))
		if _, err := os.Stat(name); err == nil {
			continue
		}
		if err := os.WriteFile(name, []byte(j.Link()+"\n\n"+describe(j)), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// FuzzOpenLink: no fragment can panic or allocate without bound.
func FuzzOpenLink(f *testing.F) {
	f.Add(Examples(noon)[0].Link())
	f.Add("j1.")
	f.Add("#j1.AAAA")
	f.Fuzz(func(t *testing.T, text string) {
		if _, _, err := OpenLink(text); err != nil {
			codeOf(t, err)
		}
	})
}

// A link to the readings carries what the answer depends on, and nothing of the person,
// the shop, the repair or the car's name.
func TestLinkOfReadingsHoldsReadingsAlone(t *testing.T) {
	j := full(t)
	k, warn, err := OpenLink(j.LinkReadings())
	if err != nil || warn != nil {
		t.Fatal(err, warn)
	}
	want := Job{Format: Format, Version: Version, ID: k.ID, Example: j.Example, Units: j.Units, Car: j.Car, Before: j.Before, Past: j.Past, Table: j.Table, Learnt: j.Learnt}
	for _, id := range []present.FieldID{present.LabelCharge, present.ServiceLow, present.ServiceHigh, present.Soak, present.RestingHigh} {
		want.SetText(id, j.Text[id])
	}
	want.Before.Log = Log{}
	want.Before.Sound = false
	want.Repair.Soaked = true // how the car rested, not what was done
	if !reflect.DeepEqual(k, want) {
		t.Errorf("it holds\n%+v\nwant\n%+v", k, want)
	}
	one, _ := j.Case()
	other, _ := k.Case()
	if !reflect.DeepEqual(one, other) {
		t.Errorf("the model sees\n%+v\nand by the link\n%+v", one, other)
	}
}

// An invented car stays called one.
func TestLinkOfReadingsNamesTheExample(t *testing.T) {
	for _, j := range Examples(noon) {
		if k, _, err := OpenLink(j.LinkReadings()); err != nil || k.Title != j.Title || k.Example != j.Example {
			t.Errorf("%q came as %q: %v", j.Title, k.Title, err)
		}
	}
}
