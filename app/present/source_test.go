package present

import (
	"go/ast"
	goparser "go/parser"
	gotoken "go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Reading codes from the Go source, so that words and codes cannot drift apart.

// sourceFiles calls f with every Go file below dir that is no test.
func sourceFiles(t *testing.T, dir string, f func(fset *gotoken.FileSet, file *ast.File)) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		fset := gotoken.NewFileSet()
		file, err := goparser.ParseFile(fset, path, nil, 0)
		if err == nil {
			f(fset, file)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
}

// text returns a string literal, or the literal a sum begins with.
func text(e ast.Expr) (s string, prefix, ok bool) {
	for {
		sum, isSum := e.(*ast.BinaryExpr)
		if !isSum {
			break
		}
		e, prefix = sum.X, true
	}
	lit, isLit := e.(*ast.BasicLit)
	if !isLit || lit.Kind != gotoken.STRING {
		return "", false, false
	}
	s, err := strconv.Unquote(lit.Value)
	return s, prefix, err == nil
}

// stringConstants returns the untyped string constants of one file by name.
func stringConstants(t *testing.T, dir, name string) map[string]string {
	t.Helper()
	return constants(t, dir, func(typ ast.Expr, file string) bool { return typ == nil && file == name })
}

// typedConstants returns the values of the constants of a named type in dir.
func typedConstants(t *testing.T, dir, typeName string) map[string]string {
	t.Helper()
	return constants(t, dir, func(typ ast.Expr, _ string) bool {
		id, ok := typ.(*ast.Ident)
		return ok && id.Name == typeName
	})
}

func constants(t *testing.T, dir string, want func(typ ast.Expr, file string) bool) map[string]string {
	t.Helper()
	found := map[string]string{}
	sourceFiles(t, dir, func(fset *gotoken.FileSet, file *ast.File) {
		name := filepath.Base(fset.Position(file.Pos()).Filename)
		for _, d := range file.Decls {
			g, ok := d.(*ast.GenDecl)
			if !ok || g.Tok != gotoken.CONST {
				continue
			}
			for _, s := range g.Specs {
				v := s.(*ast.ValueSpec)
				if !want(v.Type, name) || len(v.Values) != len(v.Names) {
					continue
				}
				for i := range v.Names {
					if s, prefix, ok := text(v.Values[i]); ok && !prefix && ast.IsExported(v.Names[i].Name) {
						found[v.Names[i].Name] = s
					}
				}
			}
		}
	})
	if len(found) == 0 {
		t.Fatalf("no constants found in %s: the search is broken", dir)
	}
	return found
}

// codeUse is a warning code in the source; prefix if it is completed at run time.
type codeUse struct {
	code   string
	prefix bool
	where  string
}

var codeForm = regexp.MustCompile(`^[a-z][a-z0-9_]*$`)

// warningCodes finds every code of a refrig.Warning: in Code: "…" of a composite
// literal, and as the first argument of the helpers warn, ask and add. The codes
// of app/job are constants named Warn….
func warningCodes(t *testing.T) []codeUse {
	t.Helper()
	var found []codeUse
	sourceFiles(t, filepath.Join("..", "..", "refrig"), func(fset *gotoken.FileSet, file *ast.File) {
		take := func(e ast.Expr) {
			if s, prefix, ok := text(e); ok && codeForm.MatchString(s) {
				found = append(found, codeUse{s, prefix, fset.Position(e.Pos()).String()})
			}
		}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.CallExpr:
				name := ""
				switch f := n.Fun.(type) {
				case *ast.Ident:
					name = f.Name
				case *ast.SelectorExpr:
					name = f.Sel.Name
				}
				if (name == "warn" || name == "ask" || name == "add") && len(n.Args) > 0 {
					take(n.Args[0])
				}
			case *ast.CompositeLit:
				if isWarning(n.Type) {
					takeCode(n, take)
				}
				if list, ok := n.Type.(*ast.ArrayType); ok && isWarning(list.Elt) {
					for _, e := range n.Elts {
						if lit, ok := e.(*ast.CompositeLit); ok {
							takeCode(lit, take)
						}
					}
				}
			}
			return true
		})
	})
	for name, code := range constants(t, filepath.Join("..", "job"), func(typ ast.Expr, _ string) bool { return typ == nil }) {
		if strings.HasPrefix(name, "Warn") {
			found = append(found, codeUse{code, false, "app/job." + name})
		}
	}
	return found
}

func isWarning(e ast.Expr) bool {
	sel, ok := e.(*ast.SelectorExpr)
	return ok && sel.Sel.Name == "Warning"
}

func takeCode(lit *ast.CompositeLit, take func(ast.Expr)) {
	for _, e := range lit.Elts {
		if kv, ok := e.(*ast.KeyValueExpr); ok {
			if id, ok := kv.Key.(*ast.Ident); ok && id.Name == "Code" {
				take(kv.Value)
			}
		}
	}
}
