package site

import (
	"slices"
	"testing"
)

// tiny is a module by hand after the WebAssembly Core Specification 2.0, chapter 5
// and appendix "Name Section": one imported function, two of its own with bodies of
// 2 and 4 bytes, their names, and 3 bytes of data section.
var tiny = slices.Concat(
	[]byte("\x00asm\x01\x00\x00\x00"),
	[]byte{1, 4, 1, 0x60, 0, 0},                    // types: () → ()
	[]byte{2, 7, 1, 1, 'm', 1, 'f', 0, 0},          // imports: m.f of type 0
	[]byte{3, 3, 2, 0, 0},                          // functions: two of type 0
	[]byte{10, 9, 2, 2, 0, 0x0b, 4, 0, 1, 1, 0x0b}, // code: (end), (nop nop end)
	[]byte{11, 3, 0, 0, 0},                         // data
	[]byte{0, 37, 4, 'n', 'a', 'm', 'e', 1, 30, 2}, // names of functions, two:
	append([]byte{1, 14}, "net_url.Values"...),     // 1 after the import
	append([]byte{2, 11}, "os.(*F).Get"...),
)

func TestCodeSizes(t *testing.T) {
	parts, err := CodeSizes(tiny)
	if err != nil {
		t.Fatal(err)
	}
	want := []Part{
		{"os", 4},
		{"net_url", 2},
	}
	for _, w := range want {
		if !slices.Contains(parts, w) {
			t.Errorf("%v lacks %v", parts, w)
		}
	}
	if !slices.IsSortedFunc(parts, func(a, b Part) int { return b.Bytes - a.Bytes }) {
		t.Errorf("%v is not by size", parts)
	}
}

func TestPackageOf(t *testing.T) {
	for function, want := range map[string]string{
		"net_url.__URL_.String":                               "net_url",
		"github.com_maxence-charriere_go-app_v10_pkg_app.Run": "github.com_maxence-charriere_go-app_v10_pkg_app",
		"gonum.org_v1_gonum_stat.Mean":                        "gonum.org_v1_gonum_stat",
		"memeqbody":                                           "runtime",
		"go:buildid":                                          "(made by the compiler)",
		"":                                                    "(unnamed)",
	} {
		if got := packageOf(function); got != want {
			t.Errorf("%q is in %q, want %q", function, got, want)
		}
	}
}

func TestCutProgramIsAnError(t *testing.T) {
	whole := map[int]bool{8: true, 14: true, 23: true, 28: true, 39: true, 44: true} // a section ends here
	for n := range len(tiny) {
		if _, err := CodeSizes(tiny[:n]); (err == nil) != whole[n] {
			t.Errorf("%d of %d bytes: error %v", n, len(tiny), err)
		}
	}
	if _, err := CodeSizes([]byte("<!doctype html>")); err == nil {
		t.Error("a page passes for a program")
	}
}

func FuzzCodeSizes(f *testing.F) {
	f.Add(tiny)
	f.Fuzz(func(t *testing.T, program []byte) {
		CodeSizes(program) // an answer or an error, in bounded time
	})
}
