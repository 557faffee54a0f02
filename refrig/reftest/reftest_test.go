package reftest

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// recorder is a testing.TB that remembers failures instead of reporting them.
type recorder struct {
	testing.TB
	failed []string
}

func (r *recorder) Helper()             {}
func (r *recorder) Logf(string, ...any) {}
func (r *recorder) Errorf(format string, args ...any) {
	r.failed = append(r.failed, fmt.Sprintf(format, args...))
}

func TestCloseRefusesWhatIsFar(t *testing.T) {
	for _, c := range []struct {
		name           string
		got, want, tol float64
		ok             bool
	}{
		{"equal", 1, 1, 0, true},
		{"at the tolerance", 1.5, 1, 0.5, true},
		{"beyond", 1.6, 1, 0.5, false},
		{"NaN got", math.NaN(), 1, 1e9, false},
		{"NaN wanted", 1, math.NaN(), 1e9, false},
		{"infinite", math.Inf(1), 1, 1e9, false},
	} {
		for _, f := range []func(testing.TB, string, float64, float64, float64, string){Close, CloseRel} {
			r := &recorder{TB: t}
			f(r, "x", c.got, c.want, c.tol, "reason given")
			if ok := len(r.failed) == 0; ok != c.ok {
				t.Errorf("%s: passed is %v, want %v", c.name, ok, c.ok)
			}
			if !c.ok && !strings.Contains(r.failed[0], "reason given") {
				t.Errorf("%s: the failure does not say the reason: %s", c.name, r.failed[0])
			}
		}
	}
}

func TestWorst(t *testing.T) {
	var empty, nan, fine Worst
	nan.See(math.NaN(), "here")
	fine.See(-0.5, "there")
	fine.See(0.1, "elsewhere")
	r := &recorder{TB: t}
	empty.Within(r, "a", 1, "")
	nan.Within(r, "b", 1, "")
	fine.Within(r, "c", 0.4, "")
	if len(r.failed) != 3 || !strings.Contains(r.failed[2], "there") {
		t.Errorf("nothing seen, NaN and a negative deviation must fail: %q", r.failed)
	}
	r.failed = nil
	fine.Within(r, "c", 0.5, "")
	if len(r.failed) != 0 {
		t.Error(r.failed)
	}
}

func TestGolden(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "go.mod"), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	file := filepath.Join(dir, "testdata", "golden", "a", "x.txt")
	r := &recorder{TB: t}
	Golden(r, "a/x.txt", "one\ntwo\n")
	if len(r.failed) != 1 || !strings.Contains(r.failed[0], "missing") {
		t.Errorf("a missing file must fail: %q", r.failed)
	}
	if err := os.Rename(file+".got", file); err != nil {
		t.Fatal(err)
	}
	r.failed = nil
	Golden(r, "a/x.txt", "one\nTWO\n")
	if len(r.failed) != 1 || !strings.Contains(r.failed[0], "line 2") {
		t.Errorf("want a failure at line 2: %q", r.failed)
	}
	r.failed = nil
	Golden(r, "a/x.txt", "one\ntwo\n")
	if len(r.failed) != 0 {
		t.Error(r.failed)
	}
	if _, err := os.Stat(file + ".got"); !os.IsNotExist(err) {
		t.Error("a passing test leaves its .got behind")
	}
}

func TestReadTable(t *testing.T) {
	tab := ReadTable(t, "eos/psat_R290.csv")
	if len(tab.Rows()) != 21 || !strings.Contains(tab.Header[0], "R290") {
		t.Fatalf("%d rows, header %q", len(tab.Rows()), tab.Header)
	}
	// First row of the file, read by eye.
	if r := tab.Rows()[0]; r.Num("T_K") != 233 || r.Text("p_Pa") != "110402.6492" {
		t.Errorf("%s: %v %v", r, r.Num("T_K"), r.Text("p_Pa"))
	}
}
