//go:build ignore

// Run writes each mutant of the lists it is given, or of all beside it, into a copy of
// the tree, runs the tests that could see it, and says which survive: see README.md.
package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"log"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// mutant is one deliberate error; see README.md.
type mutant struct {
	name, file, from, to, why, first, survives string
	tests                                      []string
}

// site is where a mutant is written in: text[from:to] of a file.
type site struct {
	path     string
	text     []byte
	from, to int
}

func main() {
	log.SetFlags(0)
	only := flag.String("only", "", "run the mutants whose name, file or reason matches this regular expression")
	check := flag.Bool("check", false, "only look whether each mutant can be written in")
	limit := flag.Duration("limit", 5*time.Minute, "how long the tests of one package may run")
	least := flag.Float64("least", 0.95, "fail below this share of killed mutants")
	flag.Parse()
	files := flag.Args()
	if len(files) == 0 {
		files, _ = filepath.Glob("testdata/mutants/*.txt") // the pattern is well formed
	}
	if err := run(files, regexp.MustCompile("(?i)"+*only), *check, *limit, *least); err != nil {
		log.Fatal(err)
	}
}

func run(files []string, only *regexp.Regexp, check bool, limit time.Duration, least float64) error {
	list, err := read(files)
	if err != nil {
		return err
	}
	dir, err := os.MkdirTemp("", "mutants")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	if err := copyTree(dir); err != nil {
		return err
	}
	packages, err := packagesOf(dir)
	if err != nil {
		return err
	}
	sources, err := readSources(dir)
	if err != nil {
		return err
	}
	killed, ran, bad := 0, 0, 0
	var left []string
	for _, m := range list {
		if !only.MatchString(m.name + "\n" + m.file + "\n" + m.why) {
			continue
		}
		at, err := find(m, sources)
		var pkgs []string
		if err == nil {
			pkgs, err = packagesFor(m, packages)
		}
		if err != nil {
			fmt.Printf("CANNOT BE WRITTEN IN  %s: %v\n", m.name, err)
			bad++
			continue
		}
		if check {
			continue
		}
		ran++
		begin := time.Now()
		how, by, err := try(dir, m, at, pkgs, limit)
		if err != nil {
			return err
		}
		switch {
		case how == "killed":
			killed++
		case how == "survived":
			if m.survives != "" {
				how, by = "explained", m.survives
			}
			left = append(left, m.name)
		default:
			bad++
		}
		fmt.Printf("%-15s %-45s %s (%.0f s)\n", how, m.name, by, time.Since(begin).Seconds())
	}
	if ran > 0 {
		fmt.Printf("%d of %d killed, %.1f %%; not: %s\n", killed, ran, 100*float64(killed)/float64(ran), strings.Join(left, "; "))
	}
	if bad > 0 {
		return fmt.Errorf("%d mutants could not be tried: mend the list", bad)
	}
	if ran > 0 && float64(killed) < least*float64(ran) {
		return fmt.Errorf("fewer than %.0f %% killed", 100*least)
	}
	return nil
}

// read parses the lists in files.
func read(names []string) ([]mutant, error) {
	var list []mutant
	for _, name := range names {
		b, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		for n, line := range strings.Split(string(b), "\n") {
			if line == "" || strings.HasPrefix(line, "#") {
				continue
			}
			key, value, ok := strings.Cut(line, ": ")
			if key == "mutant" {
				list = append(list, mutant{})
			}
			if !ok || len(list) == 0 {
				return nil, fmt.Errorf("%s:%d: %q", name, n+1, line)
			}
			m := &list[len(list)-1]
			switch key {
			case "mutant":
				m.name = value
			case "file":
				m.file = value
			case "from":
				m.from = value
			case "to":
				m.to = value
			case "tests":
				m.tests = strings.Fields(value)
			case "why":
				m.why = value
			case "first":
				m.first = value
			case "survives":
				m.survives = value
			default:
				return nil, fmt.Errorf("%s:%d: unknown key %q", name, n+1, key)
			}
		}
	}
	if len(list) == 0 {
		return nil, errors.New("no mutants: run this from the top of the tree")
	}
	for _, m := range list {
		if m.name == "" || m.file == "" || m.from == "" || m.to == "" || len(m.tests) == 0 || m.why == "" {
			return nil, fmt.Errorf("mutant %q lacks a line", m.name)
		}
	}
	return list, nil
}

// copyTree copies what git knows or would take into dir.
func copyTree(dir string) error {
	out, err := exec.Command("git", "ls-files", "-z", "--cached", "--others", "--exclude-standard").Output()
	if err != nil {
		return fmt.Errorf("git ls-files: %w", err)
	}
	for _, name := range strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00") {
		b, err := os.ReadFile(name)
		if errors.Is(err, os.ErrNotExist) {
			continue // deleted but not yet committed
		}
		if err != nil {
			return err
		}
		to := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(to), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(to, b, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// packagesOf lists the packages below dir, as paths from it, those in a browser aside.
func packagesOf(dir string) ([]string, error) {
	cmd := exec.Command("go", "list", "-f", "{{.Dir}}", "./...")
	cmd.Dir = dir
	out, err := cmd.Output()
	if err != nil {
		return nil, fmt.Errorf("go list: %w", err)
	}
	root, err := filepath.EvalSymlinks(dir)
	if err != nil {
		return nil, err
	}
	var list []string
	for _, d := range strings.Fields(string(out)) {
		rel, err := filepath.Rel(root, d)
		if err != nil {
			return nil, err
		}
		if !strings.Contains(rel, "browsertest") && !strings.Contains(rel, "/site") {
			list = append(list, filepath.ToSlash(rel))
		}
	}
	return list, nil
}

// packagesFor returns the packages that m names, in its order.
func packagesFor(m mutant, packages []string) ([]string, error) {
	var out []string
	for _, t := range m.tests {
		name, below := strings.CutSuffix(t, "/...")
		found := 0
		for _, p := range packages {
			inside := below && (strings.HasPrefix(p, name+"/") || strings.Contains(p, "/"+name+"/"))
			if p != name && !strings.HasSuffix(p, "/"+name) && !inside {
				continue
			}
			found++
			if !slices.Contains(out, "./"+p) {
				out = append(out, "./"+p)
			}
		}
		if found == 0 && len(m.tests) == 1 {
			return nil, fmt.Errorf("no package %s", t)
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no package of %v", m.tests)
	}
	return out, nil
}

func readSources(dir string) (map[string][]byte, error) {
	out := map[string][]byte{}
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
			strings.Contains(path, "testdata") {
			return err
		}
		out[path], err = os.ReadFile(path)
		return err
	})
	return out, err
}

// find returns where m is to be written in: the one place that holds its text in
// files of its name, or else in any file.
func find(m mutant, sources map[string][]byte) (site, error) {
	words := strings.Fields(m.from)
	for i := range words {
		words[i] = regexp.QuoteMeta(words[i])
	}
	text := regexp.MustCompile(strings.Join(words, `\s+`))
	var here, all []site
	for path, b := range sources {
		for _, at := range text.FindAllIndex(b, -1) {
			s := site{path, b, at[0], at[1]}
			all = append(all, s)
			if filepath.Base(path) == m.file {
				here = append(here, s)
			}
		}
	}
	if len(here) == 0 {
		here = all
	}
	if len(here) != 1 {
		return site{}, fmt.Errorf("its text occurs %d times, not once: %s", len(here), m.from)
	}
	return here[0], nil
}

// try writes m in, runs the tests of pkgs until one fails, those of m.first before the
// others, and takes m out again. It returns what became of m, and by which test.
func try(dir string, m mutant, at site, pkgs []string, limit time.Duration) (how, by string, err error) {
	changed := slices.Concat(at.text[:at.from], []byte(m.to), at.text[at.to:])
	if err := os.WriteFile(at.path, changed, 0o644); err != nil {
		return "", "", err
	}
	defer func() {
		if e := os.WriteFile(at.path, at.text, 0o644); e != nil && err == nil {
			err = e
		}
	}()
	if m.first != "" {
		for _, p := range pkgs {
			if how, by := test(dir, p, "^("+m.first+")$", limit); how != "survived" {
				return how, by, nil
			}
		}
	}
	for _, p := range pkgs {
		if how, by := test(dir, p, ".", limit); how != "survived" {
			return how, by, nil
		}
	}
	return "survived", "", nil
}

// test runs the tests of package p that match only and tells what becomes of a mutant.
func test(dir, p, only string, limit time.Duration) (how, by string) {
	ctx, cancel := context.WithTimeout(context.Background(), 2*limit+5*time.Minute) // the rest is for compiling
	defer cancel()
	cmd := exec.CommandContext(ctx, "go", "test", "-short", "-failfast", "-vet=off", "-ldflags=-w", "-run", only, "-timeout", limit.String(), p)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOGC=400") // compile in less time, with more memory
	cmd.WaitDelay = 5 * time.Second
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	failed := cmd.Run()
	switch text := out.String(); {
	case ctx.Err() != nil:
		return "too slow", p
	case failed == nil:
		return "survived", ""
	case strings.Contains(text, "[build failed]"):
		fmt.Println(text)
		return "does not compile", p
	case strings.Contains(text, "panic: test timed out"):
		return "killed", p + " (never ended)"
	default:
		return "killed", p + " " + firstFailure(text)
	}
}

// firstFailure names the first test that failed.
func firstFailure(out string) string {
	for _, line := range strings.Split(out, "\n") {
		if name, ok := strings.CutPrefix(strings.TrimSpace(line), "--- FAIL: "); ok {
			return strings.Fields(name)[0]
		}
	}
	return ""
}
