package present

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"twoneedles/refrig/car"
	"twoneedles/refrig/service"
)

var (
	carDir      = filepath.Join("..", "..", "refrig", "car")
	diagnoseDir = filepath.Join("..", "..", "refrig", "diagnose")
)

// Ids of the model and words, both ways: a new condition, reading, group or
// verdict has no place to hide, and no words outlive one.
func TestIdsHaveWordsBothWays(t *testing.T) {
	en := English()
	for _, c := range []struct {
		typeName, dir, key string
		parts              []string
		extra              []string // words that are no id
	}{
		{"ConditionID", carDir, "condition", []string{"name", "in_text", "plain", "short",
			"tech.named", "tech.leaning", "tech.act", "customer.named", "customer.leaning"}, nil},
		{"Quantity", carDir, "quantity", []string{"name", "in_text", "how"}, nil},
		{"Group", diagnoseDir, "group", []string{"tech"}, nil},
		{"Verdict", diagnoseDir, "verdict", []string{"name"}, []string{"pair", "settled", "engine"}},
	} {
		ids := map[string]bool{}
		for name, id := range typedConstants(t, c.dir, c.typeName) {
			ids[id] = true
			for _, part := range c.parts {
				if key := c.key + "." + id + "." + part; !en.Has(key) {
					t.Errorf("%s has no words %s", name, key)
				}
			}
		}
		for key := range en.texts {
			parts := strings.Split(key, ".")
			if parts[0] == c.key && !ids[parts[1]] && !slices.Contains(c.extra, parts[1]) {
				t.Errorf("%s: no such %s", key, c.typeName)
			}
		}
	}
	for _, id := range typedConstants(t, carDir, "Quantity") {
		if _, ok := FieldOf(FieldID(id)); !ok {
			t.Errorf("quantity %s has no field", id)
		}
	}
}

// Each sentence about a condition says how sure it is, and the doubt: a chance,
// and, unless the words say it is sure, what comes before acting.
func TestSentencesNameTheDoubt(t *testing.T) {
	for key, s := range English().texts {
		p := strings.Split(key, ".")
		if p[0] != "condition" || len(p) != 4 {
			continue
		}
		if !strings.Contains(s, "{chance}") && slices.Contains([]string{"named", "leaning"}, p[3]) {
			t.Errorf("%s: no {chance} in %q", key, s)
		}
		if !strings.HasSuffix(s, ".") {
			t.Errorf("%s: no sentence: %q", key, s)
		}
		if p[2] == "customer" && p[3] == "named" && regexp.MustCompile(`\b(is|are|has|have) (definitely|certainly|clearly)\b`).MatchString(s) {
			t.Errorf("%s: claims more than a chance: %q", key, s)
		}
		if len(strings.Fields(s)) > 42 { // read aloud in one go: about 15 s
			t.Errorf("%s: %d words", key, len(strings.Fields(s)))
		}
	}
}

// A customer hears no term of the trade that a driver would have to look up.
func TestCustomerWordsArePlain(t *testing.T) {
	trade := regexp.MustCompile(`(?i)\b(low side|high side|superheat|subcool\w*|evaporator|condenser|orifice|expansion valve|accumulator|receiver|drier|evacuate|recover|saturation|ambient|psi|kpa|displacement|stroke|liquid line|suction|discharge|port|coupler|clutch|TXV|POE|PAG)\b`)
	n := 0
	for key, s := range English().texts {
		p := strings.Split(key, ".")
		plain := len(p) > 2 && slices.Contains([]string{"condition", "verdict"}, p[0]) &&
			(p[2] == "customer" || p[2] == "plain" || p[2] == "short")
		if !plain {
			continue
		}
		n++
		if w := trade.FindString(s); w != "" {
			t.Errorf("%s: %q needs a dictionary", key, w)
		}
	}
	if n < 60 {
		t.Fatalf("only %d texts found", n)
	}
}

// Reading ease by the grade formula of Kincaid and others, 1975 (MEMORY): school
// years = 0.39 words/sentence + 11.8 syllables/word − 15.59. The aim is the eighth
// grade; a single sentence may miss it by two, because short texts scatter.
func TestCustomerSentencesReadAtEighthGrade(t *testing.T) {
	var sum, n float64
	for key, s := range English().texts {
		if !strings.Contains(key, ".customer") || strings.HasPrefix(key, "shell") {
			continue
		}
		for _, arg := range []string{"{first}", "{second}"} {
			s = strings.ReplaceAll(s, arg, "too little refrigerant")
		}
		g := grade(strings.ReplaceAll(s, "{chance}", "about three in four"))
		sum, n = sum+g, n+1
		if g > 10 {
			t.Errorf("%s: grade %.1f: %q", key, g, s)
		}
	}
	if n == 0 || sum/n > 8 {
		t.Errorf("mean grade %.1f of %g sentences, want at most 8", sum/n, n)
	}
	t.Logf("mean grade %.1f over %g texts", sum/n, n)
}

var (
	wordForm   = regexp.MustCompile(`[A-Za-z’]+`)
	vowelGroup = regexp.MustCompile(`[aeiouy]+`)
	sentence   = regexp.MustCompile(`[.;:](\s|$)`)
)

func grade(s string) float64 {
	words := wordForm.FindAllString(strings.ToLower(s), -1)
	syllables := 0
	for _, w := range words {
		n := len(vowelGroup.FindAllString(w, -1))
		if strings.HasSuffix(w, "e") && !strings.HasSuffix(w, "le") && n > 1 {
			n--
		}
		syllables += max(n, 1)
	}
	return 0.39*float64(len(words))/float64(len(sentence.FindAllString(s, -1))) +
		11.8*float64(syllables)/float64(len(words)) - 15.59
}

// The counter against sentences counted by hand.
func TestGradeCountsRight(t *testing.T) {
	// 6 words, 1 sentence, 6 syllables: 0.39·6 + 11.8 − 15.59 = −1.45.
	if g := grade("The cat sat on the mat."); g < -1.46 || g > -1.44 {
		t.Errorf("got %g", g)
	}
}

// Cautions of the steps and of the measurements, both ways.
func TestCautionsHaveWordsBothWays(t *testing.T) {
	codes := map[string]bool{}
	for _, s := range service.Steps() {
		for _, c := range Cautions(s, car.Spec{}) {
			codes[c] = true
		}
		if len(Cautions(s, car.Spec{})) == 0 {
			t.Errorf("no caution at step %s", s)
		}
	}
	for _, q := range car.Quantities() {
		if h := q.Info().Hazard; h != "" {
			codes[h] = true
		}
	}
	en := English()
	for c := range codes {
		if !en.Has("caution." + c) {
			t.Errorf("no words caution.%s", c)
		}
	}
	for key := range en.texts {
		if c, ok := strings.CutPrefix(key, "caution."); ok && !codes[c] {
			t.Errorf("words for a caution that nothing gives: %s", c)
		}
	}
}

// The cautions that must never be lost, by a word each must hold. The list is
// judgement; the law behind it is cited in the cautions themselves.
func TestNothingOfTheSafetyListIsMissing(t *testing.T) {
	var all strings.Builder
	for key, s := range English().texts {
		if strings.HasPrefix(key, "caution.") {
			all.WriteString(s + "\n")
		}
	}
	for _, must := range []string{"Goggles and gloves", "belts and fans", "burn", "Never let refrigerant escape", "approved equipment",
		"40 CFR 82 Subpart B", "(EU) 2024/573", "2006/40/EC", "certified person", "high-side valve", "compressed air", "oxygen",
		"R-1234yf can burn", "POE", "Orange cables", "oil sprays", "do not rub", "soaked clothes", "scarf, ring", "these hoses burst", "heavier than air", "doors of the shop", "UV lamp", "toxic gas", "label under the bonnet", "maker’s manual", "local law", "licensed professional"} {
		if !strings.Contains(all.String(), must) {
			t.Errorf("no caution says %q", must)
		}
	}
}

// An electric compressor has neither belt nor clutch: what may be wrong with it too sends
// nobody to look for one without an "if".
func TestElectricCompressorHasNoClutch(t *testing.T) {
	en := English()
	for _, id := range []string{"not_running", "weak_compressor"} {
		for _, part := range []string{"tech.act", "tech.first", "customer.named", "customer.leaning"} {
			s := en.T("condition." + id + "." + part)
			if regexp.MustCompile(`\b(belt|clutch)\b`).MatchString(s) && !regexp.MustCompile(`\bif (any|it has)\b|, or its clutch,`).MatchString(s) {
				t.Errorf("%s %s: %s", id, part, s)
			}
		}
	}
}
