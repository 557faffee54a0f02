package refrig_test

import (
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"twoneedles/refrig/reftest"
)

// large lists the tracked files that may weigh more than fileLimit, and why.
var large = map[string]string{}

// fileLimit is in bytes, a judgement: ten times the largest text we keep, and less
// than a screenshot of a whole page, which is what strays into a tree by accident.
const fileLimit = 300e3

// A clone carries every file of every commit for ever.
func TestTrackedFilesAreSmall(t *testing.T) {
	if runtime.GOOS == "js" {
		t.Skip("no git in the browser's runtime; the native run does it")
	}
	root := reftest.Root(t)
	if _, err := os.Stat(filepath.Join(root, ".git")); err != nil {
		t.Skip("not a git working tree: nothing is tracked here")
	}
	cmd := exec.Command("git", "ls-files", "-z")
	cmd.Dir = root
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	names := strings.Split(strings.TrimSuffix(string(out), "\x00"), "\x00")
	if len(names) < 100 {
		t.Fatalf("git lists only %d files", len(names))
	}
	excused := map[string]bool{}
	for _, name := range names {
		info, err := os.Lstat(filepath.Join(root, filepath.FromSlash(name)))
		if os.IsNotExist(err) { // deleted, not yet committed
			continue
		}
		if err != nil {
			t.Fatal(err)
		}
		if float64(info.Size()) <= fileLimit {
			continue
		}
		if large[name] == "" {
			t.Errorf("%s weighs %d bytes, over %.0f: is it meant to be tracked? If so, say why in the list", name, info.Size(), float64(fileLimit))
		}
		excused[name] = true
	}
	for name := range large {
		if !excused[name] {
			t.Errorf("%s need not be in the list of large files", name)
		}
	}
}
