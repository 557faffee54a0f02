package site

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
)

// Command is the program's package, from the module's root.
const Command = "./app/cmd/site"

// Compile builds the program of the module at root for the browser and returns
// it, plain. flags are the linker's; [Stripped] is what is shipped.
//
// It needs the go command, and the network where a module is not there yet.
func Compile(root, ldflags string) ([]byte, error) {
	modfile, err := slimModules(root)
	if err != nil {
		return nil, fmt.Errorf("preparing the modules for the browser: %w", err)
	}
	packages, err := linked(root, modfile)
	if err != nil {
		return nil, err
	}
	if err := checkInlined(inlined, packages); err != nil {
		return nil, err
	}
	dir, err := os.MkdirTemp("", "twoneedles-wasm")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(dir)
	out := filepath.Join(dir, "app.wasm")
	// No paths, no commit: the same sources give the same bytes.
	args := []string{"build", "-modfile=" + modfile, "-trimpath", "-buildvcs=false", "-ldflags=" + ldflags, "-o", out}
	args = append(append(args, gcflags()...), Command)
	_, err = run(root, []string{"GOOS=js", "GOARCH=wasm"}, "go", args...)
	if err != nil {
		return nil, err
	}
	return os.ReadFile(out)
}

const (
	Stripped = "-s -w" // without symbols: what is shipped
	Named    = "-w"    // with the names of functions: what [CodeSizes] reads
)

// inlined are the packages whose small functions are copied to where they are
// called, as the compiler does by default: the run time and what computes
// in the path of a keystroke. Everywhere else a call costs nothing that a person
// could notice, and a first visit is a tenth of a megabyte lighter.
var inlined = []string{"runtime", "internal/...", "syscall/js", "math", "math/...", "sync/...", "strconv",
	"unicode/utf8", "twoneedles/refrig/air", "twoneedles/refrig/cycle", "twoneedles/refrig/fast",
	"twoneedles/refrig/diagnose", "twoneedles/refrig/internal/mlp"}

// checkInlined refuses a name of the list that matches no package of the program: a
// package that was renamed would lose its inlining, and a keystroke its speed, without
// a word.
func checkInlined(list []string, packages []pkg) error {
	var lost []string
	for _, name := range list {
		prefix, tree := strings.CutSuffix(name, "/...")
		if !slices.ContainsFunc(packages, func(p pkg) bool {
			return p.ImportPath == prefix || tree && strings.HasPrefix(p.ImportPath, prefix+"/")
		}) {
			lost = append(lost, name)
		}
	}
	if lost != nil {
		return fmt.Errorf("compile.go lists packages to inline that are not in the program: %s", strings.Join(lost, ", "))
	}
	return nil
}

// pkg is a package of the program.
type pkg struct {
	ImportPath string
	Module     *module // nil for one of Go's own
}

// module is a module of which packages are in the program.
type module struct {
	Path, Version, Dir string
	Main               bool
	Replace            *struct{ Dir string }
}

// folder is where the module's files are.
func (m *module) folder() string {
	if m.Replace != nil {
		return m.Replace.Dir
	}
	return m.Dir
}

// linked returns the packages of which the program for the browser is built.
func linked(root, modfile string) ([]pkg, error) {
	out, err := run(root, []string{"GOOS=js", "GOARCH=wasm"}, "go", "list", "-modfile="+modfile, "-deps", "-json=ImportPath,Module", Command)
	if err != nil {
		return nil, err
	}
	var packages []pkg
	for d := json.NewDecoder(bytes.NewReader(out)); ; {
		var p pkg
		switch err := d.Decode(&p); {
		case err == io.EOF:
			return packages, nil
		case err != nil:
			return nil, fmt.Errorf("go list: %w", err)
		}
		packages = append(packages, p)
	}
}

func gcflags() []string {
	flags := []string{"-gcflags=all=-l"}
	for _, p := range inlined {
		flags = append(flags, "-gcflags="+p+"=")
	}
	return flags
}

// WasmExec returns the script that the Go distribution supplies to run its
// programs in a browser; it belongs to the compiler and is never kept with us.
func WasmExec() ([]byte, error) {
	goroot, err := run(".", nil, "go", "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(string(bytes.TrimSpace(goroot)), "lib", "wasm", "wasm_exec.js"))
}

// Root returns the folder of the module that contains the working directory.
func Root() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", errors.New("no go.mod here or above: run this inside the project")
		}
		dir = up
	}
}

// run runs a command in dir and returns what it printed; its error carries what
// the command said about it.
func run(dir string, env []string, name string, args ...string) ([]byte, error) {
	var stdout, stderr bytes.Buffer
	cmd := exec.Command(name, args...)
	cmd.Dir, cmd.Stdout, cmd.Stderr = dir, &stdout, &stderr
	cmd.Env = append(os.Environ(), env...)
	if err := cmd.Run(); err != nil {
		return nil, fmt.Errorf("%s: %w\n%s", cmd, err, stderr.Bytes())
	}
	return stdout.Bytes(), nil
}

// Build makes the parts of the site of the module at root and writes it to out.
func Build(root, out string, tight bool) (version string, err error) {
	parts, err := Make(root)
	if err != nil {
		return "", err
	}
	parts.Tight = tight
	return Assemble(parts, out)
}

// Make compiles the program of the module at root and collects what goes with it.
func Make(root string) (Parts, error) {
	program, err := Compile(root, Stripped)
	if err != nil {
		return Parts{}, err
	}
	wasmExec, err := WasmExec()
	if err != nil {
		return Parts{}, err
	}
	licences, err := Licences(root)
	if err != nil {
		return Parts{}, fmt.Errorf("collecting the licences: %w", err)
	}
	release, err := Release(root)
	if err != nil {
		return Parts{}, err
	}
	words, err := Words()
	if err != nil {
		return Parts{}, err
	}
	return Parts{os.DirFS(filepath.Join(root, "static")), words, program, wasmExec, licences, release, false}, nil
}

var releaseHeading = regexp.MustCompile(`(?m)^### Version (\d+(?:\.\d+)*)\b`)

// Release returns the version for people: the newest one in DEVELOPERS.md of which it
// is said what changed. Two builds of one release differ in the hash beside it.
func Release(root string) (string, error) {
	text, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		return "", err
	}
	_, changes, found := strings.Cut(string(text), "\n## What changed for users\n")
	m := releaseHeading.FindStringSubmatch(changes)
	if !found || m == nil {
		return "", errors.New("DEVELOPERS.md does not say under \"What changed for users\" which version this is")
	}
	return m[1], nil
}
