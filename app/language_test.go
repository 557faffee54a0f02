package app

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"twoneedles/app/internal/pagetest"
	"twoneedles/app/internal/pseudo"
	"twoneedles/app/job"
	"twoneedles/app/page"
	"twoneedles/app/present"
	"twoneedles/refrig/unit"
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

// Another language reaches everything that is on screen, without a reload; what was
// typed and opened stays. What would still be English afterwards either does not come
// from the words or was not drawn again.
func TestAnotherLanguageReachesEverything(t *testing.T) {
	english, err := present.Own("en")
	if err != nil {
		t.Fatal(err)
	}
	long := present.NewWords(pseudo.Long, pseudo.Languages(english)[pseudo.Long])
	var in *rooms
	b := pagetest.New(t, job.Memory{}, func(pg *page.Page) func() app.Composer {
		in = newRooms(pg)
		return func() app.Composer { return &root{Place: places[0].id, in: in} }
	})
	b.Do(func() { in.page.Lend(in.page.Example("small_hatchback_poor_air")) }).Do(func() { in.page.SetUnit(unit.GaugePressure, unit.Bar) })
	for _, p := range places {
		b.Do(func() { in.page.UseWords(present.English()) })
		b.Show(func() app.Composer { return &root{Place: p.id, in: in} })
		if left := stillEnglish(b.HTML()); len(left) < 10 {
			t.Fatalf("%s: only %v is English before: the search is broken", p.id, left)
		}
		b.Do(func() { in.page.UseWords(long) })
		b.Sound(p.id)
		for _, text := range stillEnglish(b.HTML()) {
			t.Errorf("%s: still English: %q", p.id, text)
		}
		// The list of jobs shows needles as they were typed.
		for _, m := range named.FindAllStringSubmatch(lasting.ReplaceAllString(b.WithoutControls(), ""), -1) {
			if text := m[1] + m[2]; p.id != "jobs" && pointed.MatchString(text) {
				t.Errorf("%s: a decimal point: %q", p.id, text)
			}
		}
	}
}

// An invented car that is stored is called at the next start by its name in the
// language that is spoken then.
func TestExampleIsNamedAtTheNextStart(t *testing.T) {
	device := job.Memory{}
	b := pagetest.New(t, device, nil)
	b.Do(func() {
		b.Page.Lend(b.Page.Example("small_hatchback_poor_air"))
		b.Page.Job.Title = "Beispiel"
		b.Page.Tried()
		b.Page.Save()
	})
	again := pagetest.New(t, device, nil)
	if want := present.English().T("example.small_hatchback_poor_air"); again.Page.Job.Title != want {
		t.Errorf("it is called %q, want %q", again.Page.Job.Title, want)
	}
}

var (
	named   = regexp.MustCompile(`(?:aria-label|title|placeholder|alt)="([^"]*)"|>([^<>]+)<`)
	lasting = regexp.MustCompile(`(?s)<select[^>]*\sid="(?:tell-)?language".*?</select>|<ul class="refs">.*?</ul>|<strong>.*?</strong>|<a class="cite".*?</a>|data-[a-z]+="[^"]*"`)
	pointed = regexp.MustCompile(`(?:^|[ –−])\d+\.\d+(?:$|[ –])`)
	plain   = regexp.MustCompile(`[A-Za-z]*[aeiou][A-Za-z]*`)
)

// stillEnglish lists the texts with a word of English letters alone: the long language
// has an accent on every vowel. Names of languages and of printed sources last.
func stillEnglish(html string) []string {
	var left []string
	for _, m := range named.FindAllStringSubmatch(lasting.ReplaceAllString(html, ""), -1) {
		for _, w := range regexp.MustCompile(`[\pL]+`).FindAllString(m[1]+m[2], -1) {
			if len(w) > 3 && plain.FindString(w) == w {
				left = append(left, strings.TrimSpace(m[1]+m[2]))
				break
			}
		}
	}
	return left
}
