package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/job"
	"twoneedles/app/page"
)

// Every place is whole: words, ids, labels, no style, its title, its way in.
func TestEveryPlaceIsSound(t *testing.T) {
	var in *rooms
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		in = newRooms(pg)
		return func() app.Composer { return &root{Place: places[0].id, in: in} }
	})
	for _, p := range places {
		b.Show(func() app.Composer { return &root{Place: p.id, in: in} })
		b.Sound(p.id)
		way := p.id
		if aside[way] != "" {
			way = aside[way]
		}
		if b.Text("title") == "" || b.Text("nav-"+way) == "" {
			t.Errorf("%s: no title or no entry in the navigation", p.id)
		}
	}
}

// full is a device without room.
type full struct{ job.Memory }

func (full) Set(string, string) error { return job.ErrFull }

// Where the device refuses to keep the job, that is said above the place, with a way to
// keep it as a file.
func TestWhatIsNotKeptCanBeSaved(t *testing.T) {
	var in *rooms
	view := func() app.Composer { return &root{Place: places[0].id, in: in} }
	b := pagetest.New(t, full{job.Memory{}}, func(pg *page.Page) func() app.Composer {
		in = newRooms(pg)
		return view
	})
	b.Three("31", "211", "88").Show(view).Sound("full device")
	for _, id := range []string{"banner-export", "dismiss"} {
		if b.Text(id) == "" {
			t.Errorf("no %s in the notice: %q", id, b.Text("banner"))
		}
	}
}

// The model and the solver are asked through ask.Questions alone, which guards
// against a panic and drops what is no longer wanted: each of these calls stands in a
// function that is handed to it.
func TestOnlyQuestionsAskTheModel(t *testing.T) {
	asks := map[string]bool{"practice.Draw": true, "practice.Plan": true, ".Mark": true, ".Solve": true, ".Watch": true,
		".Ask": true, ".Plane": true, ".Patterns": true, ".WeatherBands": true, "diagnose.Load": true}
	found := 0
	err := filepath.WalkDir(".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(path, "internal") {
			return err
		}
		files := token.NewFileSet()
		file, err := parser.ParseFile(files, path, nil, 0)
		if err != nil {
			return err
		}
		var walk func(n ast.Node, guarded bool)
		walk = func(n ast.Node, guarded bool) {
			ast.Inspect(n, func(n ast.Node) bool {
				switch n := n.(type) {
				case *ast.FuncLit:
					// A function that is handed the model can only be called by its owner.
					walk(n.Body, guarded || takesModel(n.Type))
					return false
				case *ast.CallExpr:
					sel, ok := n.Fun.(*ast.SelectorExpr)
					if !ok {
						return true
					}
					name := "." + sel.Sel.Name
					if x, ok := sel.X.(*ast.Ident); ok && asks[x.Name+name] {
						name = x.Name + name
					}
					if asks[name] && !guarded && !ofQuestions(sel) && !drawn(sel) {
						t.Errorf("%s: %s is called past ask.Questions", files.Position(n.Pos()), name)
					}
					if asks[name] && guarded {
						found++
					}
				}
				return true
			})
		}
		for _, d := range file.Decls {
			walk(d, false)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if found < 9 { // answer, plane twice, weather, draw, mark, plan, solve, watch
		t.Errorf("only %d calls found: the search is broken", found)
	}
}

// takesModel tells whether a function is handed the model.
func takesModel(f *ast.FuncType) bool {
	for _, p := range f.Params.List {
		star, ok := p.Type.(*ast.StarExpr)
		if !ok {
			continue
		}
		if sel, ok := star.X.(*ast.SelectorExpr); ok && sel.Sel.Name == "Model" {
			return true
		}
	}
	return false
}

// ofQuestions tells whether the call is the one of ask.Questions itself, by the
// names its values have here.
func ofQuestions(sel *ast.SelectorExpr) bool {
	of, ok := sel.X.(*ast.SelectorExpr)
	return ok && (of.Sel.Name == "ask" || of.Sel.Name == "asks" || of.Sel.Name == "answers")
}

// drawn tells whether the call draws a figure instead of asking for its numbers.
func drawn(sel *ast.SelectorExpr) bool {
	of, ok := sel.X.(*ast.Ident)
	return ok && of.Name == "chart"
}
