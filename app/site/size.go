package site

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/andybalholm/brotli"
)

// WriteSizes prints what the files of an assembled site weigh and of which
// packages the program is made. named is the program built with [Named].
func WriteSizes(w io.Writer, site fs.FS, named []byte) error {
	files := map[string][]byte{}
	err := fs.WalkDir(site, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || strings.Count(name, "/") > 0 && strings.HasSuffix(name, ".html") || name == "404.html" {
			return err // copies of index.html: nobody loads two
		}
		files[name], err = fs.ReadFile(site, name)
		return err
	})
	if err != nil {
		return err
	}
	program, err := io.ReadAll(brotli.NewReader(bytes.NewReader(files["app.wasm.br"])))
	if err != nil {
		return fmt.Errorf("app.wasm.br: %w", err)
	}
	delete(files, "app.wasm.br")
	files["app.wasm"] = program
	delete(files, LicencesFile+".gz")

	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(t, "file\tplain\tgzip -9\tbrotli -q 11\t")
	for _, name := range slices.Sorted(maps.Keys(files)) {
		packed, err := pack(files[name])
		if err != nil {
			return err
		}
		tight, err := packTight(files[name], true)
		if err != nil {
			return err
		}
		fmt.Fprintf(t, "%s\t%d\t%d\t%d\t\n", name, len(files[name]), len(packed), len(tight))
	}
	t.Flush()

	parts, err := CodeSizes(named)
	if err != nil {
		return err
	}
	fmt.Fprintln(w, "\nWhat the program is made of, in bytes of its plain form:")
	total := 0
	for _, p := range parts {
		total += p.Bytes
	}
	const shown = 40
	for i, p := range parts {
		if i == shown {
			rest := 0
			for _, p := range parts[shown:] {
				rest += p.Bytes
			}
			fmt.Fprintf(t, "%d\t%4.1f %%\t %d more\n", rest, 100*float64(rest)/float64(total), len(parts)-shown)
			break
		}
		fmt.Fprintf(t, "%d\t%4.1f %%\t %s\n", p.Bytes, 100*float64(p.Bytes)/float64(total), p.Name)
	}
	return t.Flush()
}

// Part is a package, or a section that is not code, with its share of a program.
type Part struct {
	Name  string
	Bytes int
}

// CodeSizes returns the code of each package of a WebAssembly program, and its
// other sections, largest first. The program must still hold the names of its
// functions. The layout is that of the WebAssembly Core Specification 2.0,
// chapter 5 and appendix "Name Section".
func CodeSizes(program []byte) ([]Part, error) {
	if !bytes.HasPrefix(program, []byte("\x00asm\x01\x00\x00\x00")) {
		return nil, errors.New("not a WebAssembly program of version 1")
	}
	sizes := map[string]int{}
	var bodies []int // code bytes of each function the program defines
	names := map[uint64]string{}
	imported := uint64(0)
	r := &reader{b: program[8:]}
	for len(r.b) > 0 && r.err == nil {
		id := r.take(1)
		s := &reader{b: r.take(r.number())}
		if r.err != nil {
			break
		}
		switch kind := id[0]; {
		case kind == 2:
			imported = s.imports()
			sizes["(imports)"] += len(s.b)
		case kind == 10:
			for n := s.number(); n > 0 && s.err == nil; n-- {
				bodies = append(bodies, len(s.take(s.number())))
			}
		case kind == 0 && string(s.take(s.number())) == "name":
			names = s.functionNames()
		case kind == 11:
			sizes["(data: types, tables of the runtime, embedded files)"] += len(s.b)
		default:
			sizes["(other sections)"] += len(s.b)
		}
		r.err = cmp.Or(r.err, s.err)
	}
	if r.err != nil {
		return nil, r.err
	}
	for i, n := range bodies {
		sizes[packageOf(names[imported+uint64(i)])] += n
	}
	parts := make([]Part, 0, len(sizes))
	for name, n := range sizes {
		parts = append(parts, Part{name, n})
	}
	slices.SortFunc(parts, func(a, b Part) int {
		return cmp.Or(cmp.Compare(b.Bytes, a.Bytes), cmp.Compare(a.Name, b.Name))
	})
	return parts, nil
}

// packageOf cuts a function's name, as Go writes it into WebAssembly, down to its
// package: "net_url.__URL_.String" is in "net_url" (slashes have become "_").
func packageOf(function string) string {
	if function == "" {
		return "(unnamed)"
	}
	for _, prefix := range []string{"type_.eq", "type_.hash", "go:", "go_"} {
		if strings.HasPrefix(function, prefix) {
			return "(made by the compiler)"
		}
	}
	from := 0
	if domain := domainPrefix.FindString(function); domain != "" {
		from = len(domain) // its dot is not the one we look for
	}
	dot := strings.IndexByte(function[from:], '.')
	if dot < 0 {
		return "runtime"
	}
	return function[:from+dot]
}

var domainPrefix = regexp.MustCompile(`^[a-z]+\.(com|org|in)_`)

// reader reads the binary format; after an error everything it gives is empty.
type reader struct {
	b   []byte
	err error
}

var errCut = errors.New("the WebAssembly program is cut short")

func (r *reader) take(n uint64) []byte {
	if r.err != nil || n > uint64(len(r.b)) {
		r.err = cmp.Or(r.err, errCut)
		r.b = nil
		return make([]byte, min(n, 1))
	}
	out := r.b[:n]
	r.b = r.b[n:]
	return out
}

// number reads an unsigned LEB128.
func (r *reader) number() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.err = cmp.Or(r.err, errCut)
		r.b = nil
		return 0
	}
	r.b = r.b[n:]
	return v
}

// imports counts the functions among the imports; they come first in the
// numbering of functions. Go imports nothing else.
func (r *reader) imports() uint64 {
	c := *r
	return c.number()
}

// functionNames reads the second part of the name section.
func (r *reader) functionNames() map[uint64]string {
	names := map[uint64]string{}
	for len(r.b) > 0 && r.err == nil {
		part := r.take(1)[0]
		s := &reader{b: r.take(r.number())}
		if part != 1 {
			continue
		}
		for n := s.number(); n > 0 && s.err == nil; n-- {
			i := s.number()
			names[i] = string(s.take(s.number()))
		}
		r.err = cmp.Or(r.err, s.err)
	}
	return names
}
