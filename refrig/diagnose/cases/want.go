package cases

import (
	"fmt"
	"strings"

	"twoneedles/refrig"
	"twoneedles/refrig/car"
	"twoneedles/refrig/catalogue"
	"twoneedles/refrig/diagnose"
)

var groups = func(all ...diagnose.Group) map[string]diagnose.Group {
	m := map[string]diagnose.Group{}
	for _, g := range all {
		m[string(g)] = g
	}
	return m
}(diagnose.GroupNormal, diagnose.GroupBothLow, diagnose.GroupBothHigh, diagnose.GroupLowHighHighLow,
	diagnose.GroupLowLowHighHigh, diagnose.GroupLowOnly, diagnose.GroupHighOnly, diagnose.GroupEqual)

func (p *parser) want(key, value string) error {
	w := &p.s.Want
	switch key {
	case "kind":
		return choose(&p.s.Kind, value, map[string]Kind{"diagnosis": Diagnosis, "band": Band, "resting": Resting, "service": Service})
	case "group":
		for _, f := range strings.Fields(value) {
			var g diagnose.Group
			if err := choose(&g, f, groups); err != nil {
				return err
			}
			w.Groups = append(w.Groups, g)
		}
		return nil
	case "in_group":
		return conditions(&w.InGroup, value)
	case "any_in_group":
		return conditions(&w.AnyInGroup, value)
	case "top2":
		return conditions(&w.Top2, value)
	case "not_named":
		return conditions(&w.NotNamed, value)
	case "band":
		return choose(&w.BandNormal, value, map[string]bool{"normal": true})
	case "liquid":
		return choose(&w.Liquid, value, map[string]string{"yes": value, "no": value})
	case "sum":
		return choose(&w.Sum, value, map[string]string{"hold_test": value, "tank_test": value})
	case "disputed":
		w.Disputed = value
		return nil
	case "not_enough":
		w.NotEnough = value
		return nil
	}
	return errKey
}

// conditions reads names of conditions; a condition is what has a catalogue page.
func conditions(to *[]car.ConditionID, value string) error {
	for _, f := range strings.Fields(value) {
		id := car.ConditionID(f)
		if _, err := catalogue.Page(id); err != nil {
			return err
		}
		*to = append(*to, id)
	}
	return nil
}

// finish checks that the parts make one case: a source, a name that agrees with
// it, and a claim that the readings can test.
func (p *parser) finish() error {
	s := &p.s
	src := s.Source
	if src.Row == "" || src.Where == "" || src.Says == "" || src.Ours == "" {
		return fmt.Errorf("source needs row, cites, where, mark, says and ours")
	}
	if src.Mark != "READ" && src.Mark != "MEMORY" && src.Mark != "READ+CALC" {
		return fmt.Errorf("mark %q is none of READ, MEMORY, READ+CALC", src.Mark)
	}
	if _, ok := refrig.Ref(src.Cites); !ok && src.Cites != "common practice" && src.Cites != "unsourced" {
		return fmt.Errorf("cites %q, which refs.json does not hold", src.Cites)
	}
	subject, ok := strings.CutSuffix(s.Name, "_"+src.Row)
	if _, err := catalogue.Page(car.ConditionID(subject)); !ok || err != nil && subject != string(s.Kind) {
		return fmt.Errorf("file name is not a condition or kind, then _%s", src.Row)
	}
	s.Subject = subject
	for q := range s.Patterns {
		if _, ok := s.Numbers[string(q)]; ok {
			return fmt.Errorf("%s has a number and a pattern", q)
		}
	}
	w := s.Want
	claims := map[Kind]bool{
		Diagnosis: len(w.InGroup)+len(w.AnyInGroup) > 0,
		Band:      w.BandNormal,
		Resting:   w.Liquid != "",
		Service:   w.Sum != "",
	}
	if s.Kind == "" {
		return fmt.Errorf("want needs a kind")
	}
	if w.NotEnough != "" {
		if claims[Diagnosis] || claims[Band] || claims[Resting] || claims[Service] || len(w.Groups)+len(w.Top2)+len(w.NotNamed) > 0 || w.Disputed != "" {
			return fmt.Errorf("not_enough stands beside a claim")
		}
		return nil
	}
	for kind, claimed := range claims {
		if claimed != (kind == s.Kind) {
			return fmt.Errorf("a case of kind %s must make the claim of its kind and no other", s.Kind)
		}
	}
	if len(s.Numbers)+len(s.Patterns) == 0 {
		return fmt.Errorf("a claim without readings; say not_enough")
	}
	return nil
}
