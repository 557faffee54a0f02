package job

import (
	"bytes"
	"compress/flate"
	_ "embed"
	"encoding/base64"
	"encoding/json"
	"io"
	"strings"

	"twoneedles/refrig"
)

// linkPrefix marks a link and its packing: JSON, deflated with the preset
// dictionary link1.txt, base64url. Another packing gets another prefix; this one
// stays readable for ever.
const linkPrefix = "j1."

// MaxLink is the longest link that is read, in characters. A full job has about
// a thousand.
const MaxLink = 64 << 10

// link1 is a job with the names and values that most jobs hold; text that
// resembles it packs to a third. It must never change.
//
//go:embed link1.txt
var link1 []byte

// Link packs what the policy lets into a link to the whole job as text for a URL
// fragment: only letters, digits, ".", "-" and "_".
func (j Job) Link() string { return j.pack(link) }

// LinkNamed is [Job.Link] with the shop, the technician, the plate and the odometer.
func (j Job) LinkNamed() string { return j.pack(link | named) }

// LinkSheet is [Job.Link] with the shop, which heads the customer's sheet.
func (j Job) LinkSheet() string { return j.pack(link | sheet) }

// LinkReadings packs the car's kind, the weather and the readings before the repair,
// and nothing else: no name, no shop, nothing of the repair.
func (j Job) LinkReadings() string { return j.pack(readings) }

func (j Job) pack(to place) string {
	var b bytes.Buffer
	z, err := flate.NewWriterDict(&b, flate.BestCompression, link1)
	if err != nil {
		panic("job: " + err.Error()) // the level is a constant
	}
	z.Write(j.portion(to)) // a bytes.Buffer takes everything
	z.Close()
	return linkPrefix + base64.RawURLEncoding.EncodeToString(b.Bytes())
}

// IsLink tells whether a fragment claims to be a job of this or another version,
// so that the page can tell it from a fragment of its own.
func IsLink(fragment string) bool {
	version, _, ok := strings.Cut(strings.TrimPrefix(fragment, "#"), ".")
	return ok && len(version) > 1 && version[0] == 'j' && strings.Trim(version[1:], "0123456789") == ""
}

// OpenLink reads the fragment of a link as a new job: it gets an id of its own,
// so that it never replaces a job kept here. The error is an *[Error].
func OpenLink(fragment string) (Job, []refrig.Warning, error) {
	text := strings.TrimPrefix(strings.TrimSpace(fragment), "#")
	if len(text) > MaxLink {
		return Job{}, nil, &Error{What: TooBig, Args: map[string]any{"size": len(text) / 1024, "max": MaxLink / 1024}}
	}
	packed, ok := strings.CutPrefix(text, linkPrefix)
	if !ok {
		return Job{}, nil, &Error{What: BadLink}
	}
	raw, err := base64.RawURLEncoding.DecodeString(packed)
	if err != nil {
		return Job{}, nil, &Error{What: BadPacked, Err: err}
	}
	// Deflate can grow a thousandfold: read no more than a job may hold.
	z := flate.NewReaderDict(bytes.NewReader(raw), link1)
	b, err := io.ReadAll(io.LimitReader(z, MaxBytes+1))
	if err != nil {
		return Job{}, nil, &Error{What: BadPacked, Err: err}
	}
	j, warn, err := Restore(b)
	if err != nil {
		return Job{}, nil, err
	}
	j.ID = NewID()
	if j.Title == "" { // readings alone carry no name, but an invented car must be called one
		j.Title = titleOfExample(j.Example)
	}
	return j, warn, nil
}

// portion returns the JSON of what may go to p, with sorted keys.
func (j Job) portion(p place) []byte {
	j.Format, j.Version = Format, Version
	b, err := json.Marshal(j)
	if err != nil {
		panic("job: " + err.Error()) // texts, numbers and times in a sane year
	}
	var m map[string]any
	if err := json.Unmarshal(b, &m); err != nil {
		panic("job: " + err.Error())
	}
	kept, _ := keep(m, "", p)
	b, err = json.Marshal(kept)
	if err != nil {
		panic("job: " + err.Error())
	}
	return b
}
