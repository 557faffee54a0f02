package repair

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"twoneedles/app/present"
	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/reftest"
	"twoneedles/refrig/service"
)

// The list of the trade's rules that the repair works by, each with its source and its
// standing, is written from the code and the words (regression): it cannot fall behind
// them. make golden writes it anew; read it when it changes.
func TestListOfTheTradesRules(t *testing.T) {
	w := present.English()
	hole := regexp.MustCompile(`⟨[^⟩]*⟩`)
	said := func(key string) string { return hole.ReplaceAllString(w.Text(key, nil), "…") }
	standing := func(b service.Basis, ref string) string {
		if ref == "" {
			if b == service.CommonPractice {
				return "common practice, from memory"
			}
			return string(b)
		}
		r, ok := refrig.Ref(ref)
		if !ok {
			t.Errorf("no source %s", ref)
		}
		if r.Read == "memory" {
			return "published [" + ref + "], from memory"
		}
		return "published [" + ref + "], read"
	}
	var b strings.Builder
	b.WriteString(`# The trade's rules in the repair

Every rule that the Job place says or reckons with: its words, its number as the code has it, and what
it stands on. "Read": the source was read, often in excerpt. "From memory": recalled, with the source
where one is known. Written from the code and the words by a test of app/repair; ` + "`make golden`" + ` writes it anew.
Keys in brackets are those of refrig/refs.json. Equations are explained where they are computed.
`)
	counts := map[string]int{}
	section := func(title string, number bool) func(text, num string, basis service.Basis, ref string) {
		head := "\n## " + title + "\n\n| Rule | Standing |\n| --- | --- |\n"
		if number {
			head = "\n## " + title + "\n\n| Rule | Number | Standing |\n| --- | --- | --- |\n"
		}
		b.WriteString(head)
		seen := map[string]bool{}
		return func(text, num string, basis service.Basis, ref string) {
			row := "| " + text + " | "
			if number {
				row += num + " | "
			}
			row += standing(basis, ref) + " |\n"
			if seen[row] {
				return
			}
			seen[row] = true
			counts[title]++
			b.WriteString(row)
		}
	}

	numbers := section("Numbers", true)
	rule := regexp.MustCompile(`\{"([a-z0-9_]+)", ([^"{]*), (Published|CommonPractice|Judgement), "(\w*)"\}`)
	bases := map[string]service.Basis{"Published": service.Published, "CommonPractice": service.CommonPractice, "Judgement": service.Judgement}
	files, err := filepath.Glob("../../refrig/service/*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		src, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range rule.FindAllStringSubmatch(string(src), -1) {
			if w.Has("job.rule." + m[1]) {
				number := "`" + strings.ReplaceAll(m[2], " * ", " ") + "`"
				if !regexp.MustCompile(`[1-9]`).MatchString(m[2]) { // of the job at hand, or none
					number = ""
				}
				numbers(said("job.rule."+m[1]), number, bases[m[3]], m[4])
			}
		}
	}

	places := section("Where leaks are searched first", false)
	for _, p := range service.SearchOrder(car.Spec{}) {
		how := fmt.Sprintf("%s: %s, %s", said("place."+p.Code), w.T(likelyKeys[p.Likely]), w.T(accessKeys[p.Access]))
		if p.Of > 0 {
			how += fmt.Sprintf(" (%d of %d vehicles)", p.Found, p.Of)
		}
		places(how, "", p.Basis, p.Ref)
	}
	methods := section("How leaks are searched", false)
	for _, m := range service.Methods() {
		for _, n := range m.Needs {
			methods(said("job.method."+m.Code+".name")+": "+said("job.method_need."+n.Code), "", n.Basis, n.Ref)
		}
	}
	parts := section("Opening the circuit, parts and seals", false)
	notes := map[string]bool{}
	for _, in := range []service.RepairInput{
		{Replaced: service.Parts()}, {Replaced: []service.Part{service.Compressor}, Broken: true}, {Replaced: []service.Part{service.Condenser}},
	} {
		for _, n := range service.RepairNotes(in) {
			notes[n.Code] = true
			parts(said("job.repair_note."+n.Code), "", n.Basis, n.Ref)
		}
	}
	for _, code := range service.RepairNoteCodes() {
		if !notes[code] {
			t.Errorf("the list leaves out %s", code)
		}
	}
	gas := section("What the refrigerant asks", false)
	for _, step := range service.Steps() {
		for _, n := range service.GasNotes(step, car.Spec{}) {
			gas(said("job.gas_note."+n.Code), "", n.Basis, n.Ref)
		}
	}
	oil := section("Kind of oil", false)
	for _, c := range []car.Spec{{Compressor: car.Fixed, Refrigerant: car.R134a}, {Compressor: car.Fixed, Refrigerant: car.R1234yf},
		{Compressor: car.Electric}, {Compressor: car.Fixed, Refrigerant: car.R12}, {}} {
		a := service.OilFor(c.Compressor, c.Refrigerant)
		oil(said("job.oil_kind."+a.Kind), "", a.Basis, a.Ref)
	}
	retrofit := section("R-12 to R-134a", false)
	if p, err := service.Retrofit(1); err != nil {
		t.Error(err)
	} else {
		for _, r := range p.Steps {
			retrofit(said("job.retrofit_step."+r.Code), "", r.Basis, r.Ref)
		}
	}
	cautions := section("Cautions", false)
	for _, step := range service.Steps() {
		for _, n := range service.Cautions(step, car.Spec{}) {
			cautions(said("caution."+n.Code), "", n.Basis, n.Ref)
		}
	}
	for title, least := range map[string]int{"Numbers": 50, "How leaks are searched": 25, "Opening the circuit, parts and seals": 30, "Cautions": 25} {
		if counts[title] < least {
			t.Errorf("%s: %d rules, want %d at least: the search is broken", title, counts[title], least)
		}
	}
	reftest.Golden(t, "../service/rules.md", b.String())
}
