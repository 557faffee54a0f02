//go:build !js

// Command learn judges the model on files of confirmed jobs, and with -lessons says what
// they would teach it and what that brings (make validate, make learn). The files' format is
// in the doc of package learn. With -keep what was learnt is written where the next build
// embeds it, and what it brings beside the other reports.
package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"os"
	"path/filepath"

	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
)

// Where what was learnt is kept, from the module root.
const (
	lessonsFile = "refrig/internal/nets/fitted/lessons.json"
	reportFile  = "testdata/report/learnt.md"
)

func main() {
	data := flag.String("data", "", "folder of .csv files")
	lessons := flag.Bool("lessons", false, "say what the jobs teach in place of the score")
	keep := flag.Bool("keep", false, "with -lessons: write it where the next build embeds it")
	flag.Parse()
	if *data == "" {
		log.Fatal("learn: which folder? DATA=folder")
	}
	root := ""
	if *keep {
		root = "."
	}
	if err := run(os.Stdout, os.Stderr, os.DirFS(*data), *lessons, root); err != nil {
		log.Fatal(err)
	}
}

// run judges the files of dir, or says what they teach; that is kept below the folder root,
// if one is named.
func run(out, notes io.Writer, dir fs.FS, lessons bool, root string) error {
	files, err := read(notes, dir)
	if err != nil {
		return err
	}
	m, err := diagnose.Load()
	if err != nil {
		return err
	}
	if !lessons {
		return judge(out, m, all(files, -1))
	}
	m = m.Untaught()
	taught, err := json.MarshalIndent(learn.Learn(m, all(files, -1)), "", " ")
	if err != nil {
		return err
	}
	taught = append(taught, '\n')
	var told bytes.Buffer
	if err := tell(&told, m, files); err != nil {
		return err
	}
	if _, err := out.Write(append(told.Bytes(), taught...)); err != nil || root == "" {
		return err
	}
	if err := os.WriteFile(filepath.Join(root, lessonsFile), taught, 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(root, reportFile), told.Bytes(), 0o644)
}

// judge says how m does on jobs.
func judge(out io.Writer, m *diagnose.Model, jobs []learn.Job) error {
	s, err := learn.Validate(m, jobs)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%d confirmed jobs; in brackets 90 %% intervals\n", s.Jobs)
	for _, line := range []struct {
		name string
		v    learn.Share
	}{
		{"likeliest is the one found", s.Top1}, {"found among the first two", s.Top2}, {"calibration error", s.ECE},
		{"wrong claims of 80 %, of all", s.Wrong80}, {"sound: said so", s.SoundCorrect}, {"sound: accused", s.FalseAlarm},
		{"sound: left open", s.SoundOpen}, {"faulty: named", s.Named}, {"faulty: named wrongly", s.Misnamed},
		{"faulty: seen, not named", s.SeenUnnamed}, {"faulty: missed", s.Missed},
	} {
		fmt.Fprintf(out, "%-28s %.3f (%.3f to %.3f)\n", line.name, line.v.Is, line.v.Lo, line.v.Hi)
	}
	fmt.Fprintf(out, "%-28s %.3f bit\n", "log-loss", s.LogLoss)
	return nil
}

// tell says what the files teach and what that brings, each file answered by what the
// others taught: nobody is judged by what he taught himself.
func tell(out io.Writer, m *diagnose.Model, files []file) error {
	t, err := learn.Tell(m, learn.Learn(m, all(files, -1)))
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "# What files of confirmed jobs teach\n\nWritten by `make learn`; do not edit.\n\nSound cars on a 30 °C day with R-134a, before and after: low side %.0f and %.0f kPa, high side %.0f and %.0f kPa, vent %.1f and %.1f °C.\n",
		t.Low[0]/1e3, t.Low[1]/1e3, t.High[0]/1e3, t.High[1]/1e3, t.Vent[0]-273.15, t.Vent[1]-273.15)
	if t.Fault != "" {
		fmt.Fprintf(out, "Changed most: %s, 1 job in %d instead of 1 in %d.\n", t.Fault, t.Is, t.Was)
	}
	fmt.Fprint(out, "\nEach file answered without what was learnt, and with what the other files teach; in brackets 90 % intervals.\n\n"+
		"| file | jobs | log-loss, bit | calibration error | wrong claims of 80 %, of all jobs |\n| --- | --- | --- | --- | --- |\n")
	for i, f := range files {
		others := learn.Learn(m, all(files, i))
		wiser, err := m.With(others)
		if err != nil {
			return err
		}
		var s [2]learn.Score
		for k, m := range []*diagnose.Model{m, wiser} {
			if s[k], err = learn.Validate(m, f.jobs); err != nil {
				return err
			}
		}
		share := func(v learn.Share) string { return fmt.Sprintf("%.3f (%.3f to %.3f)", v.Is, v.Lo, v.Hi) }
		fmt.Fprintf(out, "| %s | %d | %.3f, %.3f | %s, %s | %s, %s |\n", f.name, s[0].Jobs, s[0].LogLoss, s[1].LogLoss,
			share(s[0].ECE), share(s[1].ECE), share(s[0].Wrong80), share(s[1].Wrong80))
	}
	fmt.Fprintln(out)
	return nil
}

// file is one of the folder.
type file struct {
	name string
	jobs []learn.Job
}

// all are the jobs of all files but the one.
func all(files []file, but int) []learn.Job {
	var jobs []learn.Job
	for i, f := range files {
		if i != but {
			jobs = append(jobs, f.jobs...)
		}
	}
	return jobs
}

// read takes every .csv file of dir and reports the lines it cannot take.
func read(notes io.Writer, dir fs.FS) ([]file, error) {
	names, err := fs.Glob(dir, "*.csv")
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("learn: no .csv file in the folder")
	}
	rd := learn.NewReader()
	var files []file
	for _, name := range names {
		f, err := dir.Open(name)
		if err != nil {
			return nil, err
		}
		jobs, refused, err := rd.Read(name, f)
		f.Close()
		if err != nil {
			return nil, err
		}
		for _, r := range refused {
			fmt.Fprintln(notes, r)
		}
		files = append(files, file{name, jobs})
	}
	return files, nil
}
