package present

import (
	"fmt"
	"strconv"
	"strings"
)

// pluralForm chooses the plural form of n: the first whose rule, language.plural.<form>,
// holds, else "other". A rule is written as in Unicode's CLDR, of which we read
// the operands n (the number), i (its whole part) and v (how many decimals are shown),
// %, =, !=, lists, ranges, "and" and "or": "i % 10 = 2..4 and i % 100 != 12..14".
func (w *Words) pluralForm(n any) string {
	number := fmt.Sprint(n)
	if point := w.texts["number.point"]; point != "" {
		number = strings.Replace(number, point, ".", 1)
	}
	value, err := strconv.ParseFloat(number, 64)
	if err != nil || value < 0 {
		return "other"
	}
	whole, decimals, _ := strings.Cut(number, ".")
	i, _ := strconv.ParseFloat(whole, 64)
	operands := map[string]float64{"n": value, "i": i, "v": float64(len(decimals))}
	for _, form := range []string{"zero", "one", "two", "few", "many"} {
		if rule := w.texts["language.plural."+form]; rule != "" && pluralRule(rule, operands) {
			return form
		}
	}
	return "other"
}

func pluralRule(rule string, operands map[string]float64) bool {
	for any := range strings.SplitSeq(rule, " or ") {
		all := true
		for relation := range strings.SplitSeq(any, " and ") {
			all = all && pluralRelation(relation, operands)
		}
		if all {
			return true
		}
	}
	return false
}

// pluralRelation holds one relation; one that cannot be read does not hold, and a test
// compares every language's rules with Unicode's.
func pluralRelation(relation string, operands map[string]float64) bool {
	left, right, _ := strings.Cut(relation, "=")
	left, not := strings.CutSuffix(left, "!")
	name, modulus, _ := strings.Cut(left, "%")
	x := operands[strings.TrimSpace(name)]
	if m, err := strconv.Atoi(strings.TrimSpace(modulus)); err == nil && m > 0 {
		x -= float64(m) * float64(int(x)/m)
	}
	in := false
	for part := range strings.SplitSeq(right, ",") {
		lo, hi, ranged := strings.Cut(strings.TrimSpace(part), "..")
		a, errA := strconv.ParseFloat(lo, 64)
		b, errB := strconv.ParseFloat(hi, 64)
		in = in || errA == nil && !ranged && x == a || errA == nil && errB == nil && x >= a && x <= b && x == float64(int(x))
	}
	return in != not
}
