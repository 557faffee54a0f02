package reftest

import (
	"bufio"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Table is a reference table: comment lines that begin with "# ", a line of
// column names that end in their unit, and rows.
type Table struct {
	Header []string // comment lines without "# "
	names  []string
	rows   [][]string
	file   string
	t      testing.TB
}

// Row is one row of a [Table].
type Row struct {
	table *Table
	index int
}

// ReadTable reads testdata/<path>, testdata being the one at the module's root.
// A missing file, an empty table and a ragged row end the test: a test over
// nothing would pass.
func ReadTable(t testing.TB, path string) *Table {
	t.Helper()
	name := filepath.Join(Root(t), "testdata", filepath.FromSlash(path))
	f, err := os.Open(name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	tab := &Table{file: path, t: t}
	var body strings.Builder
	sc := bufio.NewScanner(f)
	for sc.Scan() {
		if c, ok := strings.CutPrefix(sc.Text(), "#"); ok {
			tab.Header = append(tab.Header, strings.TrimSpace(c))
			continue
		}
		body.WriteString(sc.Text() + "\n")
	}
	if err := sc.Err(); err != nil {
		t.Fatal(err)
	}
	recs, err := csv.NewReader(strings.NewReader(body.String())).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", path, err)
	}
	if len(tab.Header) == 0 {
		t.Fatalf("%s: no line beginning with # that says where the table is from", path)
	}
	if len(recs) < 2 {
		t.Fatalf("%s: no rows", path)
	}
	tab.names, tab.rows = recs[0], recs[1:]
	return tab
}

// Rows returns every row.
func (tab *Table) Rows() []Row {
	r := make([]Row, len(tab.rows))
	for i := range r {
		r[i] = Row{tab, i}
	}
	return r
}

// Text returns the cell in the named column; an unknown name ends the test.
func (r Row) Text(column string) string {
	r.table.t.Helper()
	for i, n := range r.table.names {
		if n == column {
			return r.table.rows[r.index][i]
		}
	}
	r.table.t.Fatalf("%s: no column %q, have %q", r.table.file, column, r.table.names)
	return ""
}

// Num returns the number in the named column, as printed.
func (r Row) Num(column string) float64 {
	r.table.t.Helper()
	x, err := strconv.ParseFloat(r.Text(column), 64)
	if err != nil {
		r.table.t.Fatalf("%s: row %d, column %s: %v", r.table.file, r.index+1, column, err)
	}
	return x
}

// String names the row in messages: file and first two cells.
func (r Row) String() string {
	c := r.table.rows[r.index]
	return fmt.Sprintf("%s row %d (%s)", r.table.file, r.index+1, strings.Join(c[:min(2, len(c))], ", "))
}

// Root returns the folder of the module's go.mod, seen from the package under
// test.
func Root(t testing.TB) string {
	t.Helper()
	dir, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		if up == dir {
			t.Fatal("no go.mod above the package under test")
		}
		dir = up
	}
}
