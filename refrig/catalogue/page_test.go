package catalogue

import (
	"go/ast"
	"go/parser"
	"go/token"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
)

// declaredConditions reads the constants of type ConditionID from condition.go,
// so that a new condition without a page is noticed without a second list.
func declaredConditions(t *testing.T) []car.ConditionID {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), "../car/condition.go", nil, 0)
	if err != nil {
		t.Fatal(err)
	}
	var ids []car.ConditionID
	ast.Inspect(f, func(n ast.Node) bool {
		v, ok := n.(*ast.ValueSpec)
		if !ok {
			return true
		}
		if typ, ok := v.Type.(*ast.Ident); !ok || typ.Name != "ConditionID" {
			return true
		}
		for _, value := range v.Values {
			s, err := strconv.Unquote(value.(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
			}
			ids = append(ids, car.ConditionID(s))
		}
		return true
	})
	if len(ids) < 22 {
		t.Fatalf("found %d conditions in car/condition.go, want at least 22", len(ids))
	}
	return ids
}

// allPages is Pages for tests: a page that does not parse is a failure with its
// reason, not a panic.
func allPages(t *testing.T) (pages []CataloguePage) {
	t.Helper()
	files, err := catalogueFS.ReadDir("pages")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		p, err := Page(car.ConditionID(strings.TrimSuffix(f.Name(), ".md")))
		if err != nil {
			t.Error(err)
			continue
		}
		pages = append(pages, p)
	}
	return pages
}

func TestPagesAndConditionsMatchBothWays(t *testing.T) {
	declared := map[car.ConditionID]bool{}
	for _, id := range declaredConditions(t) {
		declared[id] = true
		if !slices.Contains(car.Conditions(), id) {
			t.Errorf("condition %s is not in Conditions", id)
		}
		if _, err := Page(id); err != nil {
			t.Errorf("condition %s: %v", id, err)
		}
	}
	titles := map[string]car.ConditionID{}
	for _, p := range allPages(t) {
		if !declared[p.ID] {
			t.Errorf("page %s.md belongs to no condition", p.ID)
		}
		if other, ok := titles[p.Title]; ok {
			t.Errorf("pages %s and %s share the title %q", p.ID, other, p.Title)
		}
		titles[p.Title] = p.ID
	}
	if got := len(Pages()); got != len(declared) {
		t.Errorf("Pages returns %d pages for %d conditions", got, len(declared))
	}
}

func TestPageUnknown(t *testing.T) {
	for _, id := range []car.ConditionID{"", "../doc", "gremlins"} {
		if _, err := Page(id); err == nil {
			t.Errorf("Page(%q) gave no error", id)
		}
	}
}

// Every page speaks of the three kinds of car, or of all at once.
func TestPagesSpeakOfEachKindOfCar(t *testing.T) {
	kinds := "Orifice tube with accumulator|Expansion valve with receiver|Variable or electric compressor"
	for _, p := range allPages(t) {
		var got []string
		for _, b := range p.Needles {
			if b.Item {
				kind, says, _ := strings.Cut(b.Text, ":")
				got = append(got, kind)
				if strings.TrimSpace(says) == "" {
					t.Errorf("%s.md: nothing is said of %q", p.ID, kind)
				}
			}
		}
		if s := strings.Join(got, "|"); s != kinds && s != "All cars" {
			t.Errorf("%s.md: items of %q are for %q", p.ID, headings[1], s)
		}
	}
}

func (p CataloguePage) prose() string {
	var all []string
	for _, section := range [][]Block{{{Text: p.OneLine}}, p.Needles, p.Why, p.Next, p.Before} {
		for _, b := range section {
			all = append(all, b.Text)
		}
	}
	return strings.Join(all, "\n")
}

// A key in the text is listed under Sources with the mark of the bibliography.
func TestPagesCiteWhatTheBibliographyHolds(t *testing.T) {
	cited := regexp.MustCompile(`\[([^\]]*)\]`)
	for _, p := range allPages(t) {
		listed := map[string]bool{}
		for _, s := range p.Sources {
			if s.Key == "" {
				if want := map[string]string{"common practice": "memory", "this tool's model": "computed"}[s.Name]; s.Mark != want {
					t.Errorf("%s.md: %s is marked %q, want %q", p.ID, s.Name, s.Mark, want)
				}
				continue
			}
			listed[s.Key] = true
			if ref, ok := refrig.Ref(s.Key); !ok {
				t.Errorf("%s.md: [%s] is not in refs.json", p.ID, s.Key)
			} else if ref.Read != s.Mark {
				t.Errorf("%s.md: [%s] is marked %q, refs.json says %q", p.ID, s.Key, s.Mark, ref.Read)
			}
		}
		for _, m := range cited.FindAllStringSubmatch(p.prose(), -1) {
			if !listed[m[1]] {
				t.Errorf("%s.md: [%s] is cited but not under Sources", p.ID, m[1])
			}
		}
	}
}

// What a page must say, because leaving it out can break a compressor, mislead a search
// or hurt somebody. Each is what its source or the trade says; see the page's Sources.
func TestPagesSayWhatGuardsTheHand(t *testing.T) {
	for _, c := range []struct {
		id       car.ConditionID
		says     []string
		saysNone []string
	}{
		// The manual's 2 minutes protect the compressor: they are no time to pass.
		{car.WeakCompressor, []string{"charge recovered", "no more than 2 minutes", "not a time to pass", "Never do it on an electric one"}, []string{"in under 2 minutes"}},
		{car.Empty, []string{"Recover what is left. Then put dry nitrogen", "hears nothing of nitrogen", "Tracer gas", "nitrogen on top of refrigerant"}, []string{"or use the detector"}},
		{car.WrongRefrigerant, []string{"0.5 % by weight of one into the other", "98 % on an identifier"}, nil},
		{car.Gauge, []string{"An ordinary gauge reads zero at any height", "sealed case"}, nil},
		{car.NotRunning, []string{"the coldest part that holds"}, []string{"warmest and coldest"}},
		{car.Undercharge, []string{"Topping up hides the leak"}, nil},
	} {
		p, err := Page(c.id)
		if err != nil {
			t.Fatal(err)
		}
		prose := p.prose()
		for _, s := range c.says {
			if !strings.Contains(prose, s) {
				t.Errorf("%s.md does not say %q", c.id, s)
			}
		}
		for _, s := range c.saysNone {
			if strings.Contains(prose, s) {
				t.Errorf("%s.md says %q", c.id, s)
			}
		}
	}
}

// Both units of every quantity say the same. The second is the first converted
// by its definition and rounded to a whole unit, and the first is itself rounded
// to its last printed digit: hence half a unit of each. A vacuum is printed as
// inches below the atmosphere.
func TestPagesGiveBothUnits(t *testing.T) {
	const num = `(−?[\d.]+)(?:[–-]| to )?(−?[\d.]+)?`
	pair := regexp.MustCompile(num + ` ([^\s()]+) \(` + num + ` ([^\s()]+)\)`)
	single := regexp.MustCompile(`[\d.]+ (psi|kPa|°F|°C|inHg|ft|m)\b`)
	convert := map[string]func(float64) float64{
		"psi kPa":  func(v float64) float64 { return v * 6.894757 },
		"inHg kPa": func(v float64) float64 { return -v * 3.386389 },
		"°F °C":    func(v float64) float64 { return (v - 32) / 1.8 },
		"K °F":     func(v float64) float64 { return v * 1.8 }, // a difference
		"ft m":     func(v float64) float64 { return v * 0.3048 },
	}
	pairs := 0
	for _, p := range allPages(t) {
		prose := p.prose()
		for _, m := range pair.FindAllStringSubmatch(prose, -1) {
			f, ok := convert[m[3]+" "+m[6]]
			if !ok {
				t.Errorf("%s.md: %q: no conversion from %s to %s", p.ID, m[0], m[3], m[6])
				continue
			}
			pairs++
			for _, i := range []int{1, 2} {
				if (m[i] == "") != (m[i+3] == "") {
					t.Errorf("%s.md: %q is a range in one unit only", p.ID, m[0])
				} else if m[i] != "" {
					a, b := number(t, m[i]), number(t, m[i+3])
					half := 0.5 * math.Pow(10, -float64(decimals(m[i])))
					if tol := 0.5 + math.Abs(f(a+half)-f(a)); math.Abs(f(a)-b) > tol {
						t.Errorf("%s.md: %q: %v %s is %.1f %s", p.ID, m[0], a, m[3], f(a), m[6])
					}
				}
			}
		}
		if rest := single.FindString(pair.ReplaceAllString(prose, "")); rest != "" {
			t.Errorf("%s.md: %q has no second unit", p.ID, rest)
		}
	}
	if pairs < 40 {
		t.Errorf("checked %d pairs of units, want at least 40", pairs)
	}
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.ReplaceAll(s, "−", "-"), 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func decimals(s string) int {
	_, frac, _ := strings.Cut(s, ".")
	return len(frac)
}

func TestParsePageRefuses(t *testing.T) {
	good := "# T\n\n## In one line\n\na\n\n## What the needles show\n\nb\n\n## Why\n\nc\n\n" +
		"## Check next\n\n- d\n- e\n  more\n\n## Before you act\n\nf\n\n## Sources\n\n- common practice: g (memory)\n"
	p, err := Parse("x", good)
	if err != nil {
		t.Fatal(err)
	}
	if want := (Block{Text: "e more", Item: true}); len(p.Next) != 2 || p.Next[1] != want {
		t.Errorf("Next = %v, want its second item %v", p.Next, want)
	}
	for name, c := range map[string]struct{ old, new, says string }{
		"no title":        {"# T\n", "T\n", "# Title"},
		"two titles":      {"# T\n", "# T\n# U\n", "# Title"},
		"renamed section": {"## Why", "## Reason", `section 3 is "Reason", want "Why"`},
		"empty section":   {"\nc\n", "\n", `section "Why" is empty`},
		"missing section": {"## Why\n\nc\n\n", "", "has 5 sections, want 6"},
		"extra section":   {"## Why\n", "## Also\n\nz\n\n## Why\n", "has 7 sections, want 6"},
		"long one line":   {"\na\n", "\na\n\nb\n", "must be one paragraph"},
		"unmarked source": {" (memory)", "", "is not"},
		"nameless source": {"common practice: ", "", "is not"},
	} {
		broken := strings.Replace(good, c.old, c.new, 1)
		if broken == good {
			t.Fatalf("%s: nothing was broken", name)
		}
		if _, err := Parse("x", broken); err == nil || !strings.Contains(err.Error(), c.says) || !strings.Contains(err.Error(), "x.md") {
			t.Errorf("%s: error is %v, want one naming x.md and %q", name, err, c.says)
		}
	}
}
