package site

import (
	"crypto/sha256"
	"embed"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
)

// The go command will not overlay files of a downloaded module, so the build for
// the browser copies two modules beside the sources, puts our stand-ins in and
// points a second go.mod at the copies. Native builds and tests use the originals.

//go:embed slim/goapp/*.go slim/uuid/uuid.go
var standIns embed.FS

// slimmed is a module of which the browser gets a part.
type slimmed struct {
	module   string
	keep     []string          // folders copied, test files left out
	as       string            // folder of our stand-ins in slim/, and of the copy
	into     string            // folder of the copy they go to
	replaces map[string]string // original file → SHA-256 of what the stand-in was written against
}

var slimmedModules = []slimmed{
	{
		module: "github.com/maxence-charriere/go-app/v10",
		keep:   []string{"pkg/app", "pkg/errors"},
		as:     "goapp",
		into:   "pkg/app",
		replaces: map[string]string{
			"pkg/app/http.go":     "0601189a9f611378e9b24ab4bdf42780a03cbf95c1bbebd4171b523ddbe9a32d",
			"pkg/app/resource.go": "6b52ab4ec2f4171d403384bffe159e9ec22699933e768ef5868f2851a1b84baa",
			"pkg/app/storage.go":  "fd53ce1bb002f4751f5f6fcba3c921f6ee0f03d252a6172aa342c3e503875ea8",
			"pkg/app/crypto.go":   "c0fc14126207dc9fa15fb8869bd882874486654919835dc35d5bef8a6122aa97",
		},
	},
	// Nothing of the original is kept: our file is the whole module.
	{module: "github.com/google/uuid", as: "uuid", into: "."},
}

// alongside are the files that every copy needs: licences ask to go along.
var alongside = []string{"go.mod", "LICENSE"}

// slimModules makes the copies, once for each state of the project's modules, and
// returns the path of the go.mod that uses them, relative to root. Relative,
// because the paths of replaced modules are written into the program.
func slimModules(root string) (string, error) {
	gomod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		return "", err
	}
	gosum, err := os.ReadFile(filepath.Join(root, "go.sum"))
	if err != nil {
		return "", err
	}
	rel := path.Join(".cache", "slim-"+slimKey(gomod, gosum))
	if _, err := os.Stat(filepath.Join(root, rel)); err == nil {
		return path.Join(rel, "slim.mod"), nil
	}
	if err := os.MkdirAll(filepath.Join(root, ".cache"), 0o777); err != nil {
		return "", err
	}
	tmp, err := os.MkdirTemp(filepath.Join(root, ".cache"), "making-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(tmp)
	for _, s := range slimmedModules {
		if err := s.copy(root, filepath.Join(tmp, s.as)); err != nil {
			return "", fmt.Errorf("%s: %w", s.module, err)
		}
		gomod = fmt.Appendf(gomod, "\nreplace %s => ./%s\n", s.module, path.Join(rel, s.as))
	}
	if err := os.WriteFile(filepath.Join(tmp, "slim.mod"), gomod, 0o666); err != nil {
		return "", err
	}
	if err := os.WriteFile(filepath.Join(tmp, "slim.sum"), gosum, 0o666); err != nil {
		return "", err
	}
	err = os.Rename(tmp, filepath.Join(root, rel))
	if err != nil && !isDir(filepath.Join(root, rel)) { // another build may have made it meanwhile
		return "", err
	}
	return path.Join(rel, "slim.mod"), nil
}

// slimKey names the state of everything a copy is made of.
func slimKey(gomod, gosum []byte) string {
	h := sha256.New()
	h.Write(gomod)
	h.Write(gosum)
	fmt.Fprint(h, slimmedModules, alongside)
	fs.WalkDir(standIns, ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			text, _ := standIns.ReadFile(name)
			h.Write(text)
		}
		return err
	})
	return hex.EncodeToString(h.Sum(nil))[:12]
}

func (s slimmed) copy(root, to string) error {
	out, err := run(root, nil, "go", "mod", "download", "-json", s.module)
	if err != nil {
		return err
	}
	var original struct{ Dir string }
	if err := json.Unmarshal(out, &original); err != nil {
		return err
	}
	for file, want := range s.replaces {
		text, err := os.ReadFile(filepath.Join(original.Dir, file))
		if err != nil {
			return err
		}
		if got := fmt.Sprintf("%x", sha256.Sum256(text)); got != want {
			return fmt.Errorf("%s is not the file our stand-in was written against (SHA-256 %s): compare it with app/site/slim/%s and change the sum", file, got, s.as)
		}
	}
	for _, file := range alongside {
		if err := copyFile(filepath.Join(original.Dir, file), filepath.Join(to, file)); err != nil {
			return err
		}
	}
	for _, dir := range s.keep {
		files, err := filepath.Glob(filepath.Join(original.Dir, dir, "*.go"))
		if err != nil {
			return err
		}
		for _, file := range files {
			if strings.HasSuffix(file, "_test.go") {
				continue
			}
			if err := copyFile(file, filepath.Join(to, dir, filepath.Base(file))); err != nil {
				return err
			}
		}
	}
	stand, err := fs.Sub(standIns, path.Join("slim", s.as))
	if err != nil {
		return err
	}
	return fs.WalkDir(stand, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(stand, name)
		if err != nil {
			return err
		}
		return writeFile(filepath.Join(to, s.into, name), text)
	})
}

func copyFile(from, to string) error {
	text, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	return writeFile(to, text)
}

// writeFile writes a file and the folders above it.
func writeFile(name string, text []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		return err
	}
	return os.WriteFile(name, text, 0o666)
}

func isDir(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}
