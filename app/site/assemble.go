package site

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html"
	"io/fs"
	"maps"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"github.com/andybalholm/brotli"
)

// Places are the routes below the start page. Each gets a folder with a page of
// its own, so that a deep link works on a host that knows nothing of our routes
// (every host serves job/index.html for /job, most by way of /job/).
var Places = []string{"job", "jobs", "tell", "practice", "explore", "learn", "sources", "saturation"}

// templates are the files of static/ in which [Assemble] fills in {{NAME}}s.
var templates = []string{"index.html", "boot.js", "sw.js"}

// Parts are what a site is put together from.
type Parts struct {
	Static   fs.FS                        // the content of static/
	Words    map[string]map[string]string // texts by key by language: see [Words]
	Program  []byte                       // app.wasm, plain
	WasmExec []byte                       // Go's script: see [WasmExec]
	Licences []byte                       // of everything else: see [Licences]
	Release  string                       // the version for people: see [Release]
	Tight    bool                         // pack the program as small as can be: a minute instead of seconds, an eighth less
}

// Assemble writes the site into the folder out, replacing it, and returns its
// version. The folder is complete or, on error, what it was before.
func Assemble(parts Parts, out string) (version string, err error) {
	files, version, err := plan(parts)
	if err != nil {
		return "", err
	}
	fresh, err := os.MkdirTemp(filepath.Dir(filepath.Clean(out)), "."+filepath.Base(out)+"-")
	if err != nil {
		return "", err
	}
	defer os.RemoveAll(fresh)
	if err := os.Chmod(fresh, 0o755); err != nil { // MkdirTemp's is private
		return "", err
	}
	for name, text := range files {
		if err := writeFile(filepath.Join(fresh, filepath.FromSlash(name)), text); err != nil {
			return "", err
		}
	}
	if err := os.RemoveAll(out); err != nil {
		return "", err
	}
	return version, os.Rename(fresh, out)
}

// commentLines are lines of a script that are nothing but a comment: 8 kB of a first visit
// to a host that packs nothing. They stay in the tree, where they are read.
var commentLines = regexp.MustCompile(`(?m)^[ \t]*//.*\n`)

// readStatic returns the files of static/ by their path, with the styles put together in
// one; and the script that unpacks the program, of which all are one too.
func readStatic(static fs.FS) (files map[string][]byte, unpack []byte, err error) {
	files = map[string][]byte{}
	err = fs.WalkDir(static, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || path.Ext(name) == ".md" || path.Ext(name) == ".go" {
			return err
		}
		text, err := fs.ReadFile(static, name)
		if err != nil {
			return err
		}
		switch { // WalkDir goes in name order
		case path.Dir(name) == "css":
			files["style.css"] = append(append(files["style.css"], text...), '\n')
		case path.Dir(name) == "unpack":
			unpack = append(append(unpack, text...), '\n')
		case path.Ext(name) == ".js":
			files[name] = commentLines.ReplaceAll(text, nil)
		default:
			files[name] = text
		}
		return nil
	})
	for _, name := range templates {
		if err == nil && files[name] == nil {
			err = fmt.Errorf("static/%s is missing", name)
		}
	}
	return files, unpack, err
}

// plan returns every file of the site by its path.
func plan(parts Parts) (files map[string][]byte, version string, err error) {
	files, unpack, err := readStatic(parts.Static)
	if err != nil {
		return nil, "", err
	}
	files["wasm_exec.js"], files[LicencesFile] = parts.WasmExec, parts.Licences
	words, languages, err := wordFiles(parts.Words)
	if err != nil {
		return nil, "", err
	}
	files["unpack.js"] = unpack
	maps.Copy(files, words)
	version = versionOf(files, parts)
	for name := range words {
		delete(files, name) // it travels packed
	}
	delete(files, "unpack.js") // not stored: it is used before there is a store
	packed, err := packTight(parts.Program, parts.Tight)
	if err != nil {
		return nil, "", err
	}
	saidLater := asJSON(saidIn(files["index.html"], languages, parts.Words))
	if files["index.html"], err = inWords(files["index.html"], parts.Words[english]); err != nil {
		return nil, "", err
	}
	if template := files[manifestFile(english)]; template != nil {
		translated, err := manifests(template, languages, parts.Words)
		if err != nil {
			return nil, "", err
		}
		maps.Copy(files, translated)
	}
	values := map[string]string{
		"LANGUAGES":    asJSON(languages),
		"SAID":         saidLater,
		"NOSCRIPT":     withoutScript(languages, parts.Words),
		"DESCRIPTION":  html.EscapeString(parts.Words[english]["start.description"]),
		"VERSION":      version,
		"RELEASE":      parts.Release,
		"POLICY":       policy,
		"WASM_SIZE":    strconv.Itoa(len(parts.Program)),
		"WASM_SUM":     sum(parts.Program),
		"WASM_BR_SUM":  sum(packed),
		"WASM_BR_SIZE": strconv.Itoa(len(packed)),
	}
	worker := files["sw.js"]
	delete(files, "sw.js") // filled in last: it lists the others
	for _, name := range templates {
		if name == "sw.js" {
			continue
		}
		if files[name], err = fill(name, files[name], values); err != nil {
			return nil, "", err
		}
	}
	// The words of a language are stored where that is chosen; its manifest is small and
	// always there.
	sums, later := map[string]string{"app.wasm": sum(parts.Program)}, map[string]string{}
	for name, text := range files {
		sums[name] = sum(text)
	}
	for _, l := range languages {
		if l.Code == english {
			sums[wordsFile(l.Code)] = l.Sum
			continue
		}
		later[wordsFile(l.Code)] = l.Sum
	}
	values["FILES"], values["LATER"] = asJSON(sums), asJSON(later)
	if files["sw.js"], err = fill("sw.js", worker, values); err != nil {
		return nil, "", err
	}

	for name, text := range words {
		if files[name+".gz"], err = pack(text); err != nil {
			return nil, "", err
		}
	}
	files["app.wasm.br"] = packed
	files["unpack.js"] = unpack
	if files[LicencesFile+".gz"], err = pack(parts.Licences); err != nil {
		return nil, "", err
	}
	files["404.html"] = files["index.html"]
	for _, place := range Places {
		files[place+"/index.html"] = oneFolderDown(files["index.html"])
	}
	return files, version, nil
}

// asJSON writes texts and lists of them, maps in the order of their keys.
func asJSON(v any) string {
	text, err := json.Marshal(v)
	if err != nil {
		panic("site: " + err.Error())
	}
	return string(text)
}

// versionOf names the contents: 48 bits, enough that two builds of one project
// never meet by accident.
func versionOf(files map[string][]byte, parts Parts) string {
	h := sha256.New()
	fmt.Fprintf(h, "release %s\npolicy %s\n", parts.Release, policy)
	for _, name := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(h, "%s %s\n", name, sum(files[name]))
	}
	fmt.Fprintf(h, "app.wasm %s\n", sum(parts.Program))
	return hex.EncodeToString(h.Sum(nil))[:12]
}

func sum(text []byte) string {
	s := sha256.Sum256(text)
	return hex.EncodeToString(s[:])
}

// packTight compresses with brotli, a fifth smaller than gzip (even in the quick
// way). Not every browser unpacks it by itself; static/unpack does for those.
func packTight(plain []byte, tight bool) ([]byte, error) {
	quality := 9
	if tight {
		quality = brotli.BestCompression
	}
	var buf bytes.Buffer
	z := brotli.NewWriterLevel(&buf, quality)
	if _, err := z.Write(plain); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

// pack compresses with an empty gzip header: no name, no time.
func pack(plain []byte) ([]byte, error) {
	var buf bytes.Buffer
	z, err := gzip.NewWriterLevel(&buf, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(plain); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return buf.Bytes(), nil
}

var placeholder = regexp.MustCompile(`\{\{[A-Za-z_.]+\}\}`)

// fill puts the values in the place of their {{NAME}}s and refuses a name it does
// not know: a page with a hole in it must not be built.
func fill(name string, text []byte, values map[string]string) ([]byte, error) {
	var unknown []string
	text = placeholder.ReplaceAllFunc(text, func(hole []byte) []byte {
		value, ok := values[string(hole[2:len(hole)-2])]
		if !ok {
			unknown = append(unknown, string(hole))
		}
		return []byte(value)
	})
	if unknown != nil {
		return nil, fmt.Errorf("static/%s: unknown %s", name, strings.Join(unknown, ", "))
	}
	return text, nil
}

var relative = regexp.MustCompile(`(href|src)="([a-z])`)

// oneFolderDown returns the page with the files named in its head one level up.
func oneFolderDown(page []byte) []byte {
	head, body, _ := bytes.Cut(page, []byte("</head>"))
	head = relative.ReplaceAll(head, []byte(`$1="../$2`))
	return slices.Concat(head, []byte("</head>"), body)
}
