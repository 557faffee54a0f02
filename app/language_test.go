package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"
)

// go-app draws a panel again when one of its exported fields has changed: without Lang
// it would go on speaking the language before.
func TestEveryPanelCarriesTheLanguage(t *testing.T) {
	panels, made := map[string]bool{}, 0 // by package and name
	each := func(f func(pkg string, n ast.Node, at token.Position)) {
		err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() && (d.Name() == "site" || d.Name() == "internal" || d.Name() == "browsertest") {
				if d != nil && d.IsDir() {
					return fs.SkipDir
				}
				return err
			}
			if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, nil, 0)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if n != nil {
					f(file.Name.Name, n, set.Position(n.Pos()))
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	each(func(pkg string, n ast.Node, at token.Position) {
		spec, ok := n.(*ast.TypeSpec)
		if !ok {
			return
		}
		body, ok := spec.Type.(*ast.StructType)
		if !ok || spec.Name.Name == "root" {
			return // the root is drawn after every event
		}
		compo, lang := false, false
		for _, field := range body.Fields.List {
			if sel, ok := field.Type.(*ast.SelectorExpr); ok && len(field.Names) == 0 && sel.Sel.Name == "Compo" {
				compo = true
			}
			for _, name := range field.Names {
				lang = lang || name.Name == "Lang"
			}
		}
		if compo {
			panels[pkg+"."+spec.Name.Name] = true
		}
		if compo && !lang {
			t.Errorf("%s: %s has no field Lang", at, spec.Name.Name)
		}
	})
	each(func(pkg string, n ast.Node, at token.Position) {
		lit, ok := n.(*ast.CompositeLit)
		if !ok {
			return
		}
		name := ""
		switch typ := lit.Type.(type) {
		case *ast.Ident:
			name = pkg + "." + typ.Name
		case *ast.SelectorExpr:
			if x, ok := typ.X.(*ast.Ident); ok {
				name = x.Name + "." + typ.Sel.Name
			}
		}
		if !panels[name] {
			return
		}
		made++
		for _, e := range lit.Elts {
			if kv, ok := e.(*ast.KeyValueExpr); ok {
				if key, ok := kv.Key.(*ast.Ident); ok && key.Name == "Lang" {
					return
				}
			}
		}
		t.Errorf("%s: %s is made without Lang", at, name)
	})
	if len(panels) < 25 || made < 25 {
		t.Fatalf("only %d panels, made %d times: the search is broken", len(panels), made)
	}
}
