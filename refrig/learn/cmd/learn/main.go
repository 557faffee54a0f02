//go:build !js

// Command learn judges the model on files of confirmed jobs, and with -lessons says what
// they would teach it (make validate, make learn). The files' format is in the doc of
// package learn. Nothing is written: what was learnt goes to the standard output.
package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"log"
	"os"

	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/learn"
)

func main() {
	data := flag.String("data", "", "folder of .csv files")
	lessons := flag.Bool("lessons", false, "print what the jobs teach, as JSON, in place of the score")
	flag.Parse()
	if *data == "" {
		log.Fatal("learn: which folder? DATA=folder")
	}
	if err := run(os.Stdout, os.Stderr, os.DirFS(*data), *lessons); err != nil {
		log.Fatal(err)
	}
}

func run(out, notes io.Writer, dir fs.FS, lessons bool) error {
	jobs, err := read(notes, dir)
	if err != nil {
		return err
	}
	m, err := diagnose.Load()
	if err != nil {
		return err
	}
	if lessons {
		e := json.NewEncoder(out)
		e.SetIndent("", "  ")
		return e.Encode(learn.Learn(m, jobs))
	}
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

// read takes every .csv file of dir and reports the lines it cannot take.
func read(notes io.Writer, dir fs.FS) ([]learn.Job, error) {
	names, err := fs.Glob(dir, "*.csv")
	if err != nil {
		return nil, err
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("learn: no .csv file in the folder")
	}
	rd := learn.NewReader()
	var jobs []learn.Job
	for _, name := range names {
		f, err := dir.Open(name)
		if err != nil {
			return nil, err
		}
		more, refused, err := rd.Read(name, f)
		f.Close()
		if err != nil {
			return nil, err
		}
		for _, r := range refused {
			fmt.Fprintln(notes, r)
		}
		jobs = append(jobs, more...)
	}
	return jobs, nil
}
