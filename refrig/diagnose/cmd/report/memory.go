package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/fleet"
	"twoneedles/refrig/internal/judge"
	"twoneedles/refrig/sim"
)

// Seeds of the cars met twice; none is used in fitting.
const (
	seedPairs      = 90214
	seedWrong      = 90215
	seedBrutePairs = 90216
	seedNotice     = 90217
)

const memoryHeader = `# What a car's earlier visits do to the answer

Written by ` + "`make report`" + `; do not edit. Simulated cars that were read once when they were
sound and are read again today, half a month to five years later, with a condition by the
prior odds; what is peculiar to a car stays, instruments are drawn anew, and how likely a
shortage is follows from published leak rates by the months between (package sim). The
readings of then are those of today. No measured car was available.

Three answers to the same cars: without the visit; with what its date alone says (the leak
odds); with all of it. The first is at a disadvantage it would have in a workshop too: it
takes every car for one of unknown history.

`

// memoryReport writes memory.md: with n pairs at home and half as many elsewhere.
func memoryReport(m *diagnose.Model, n, worlds, library int, out string) error {
	var md strings.Builder
	fmt.Fprint(&md, memoryHeader)
	head := func() {
		fmt.Fprintln(&md, "| world | readings | visits | answer | top-1 | log-loss, bit | ECE | healthy accused at 80 % | healthy below 5 % | claims of 80 % on running cars: made | right |")
		fmt.Fprintln(&md, "| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |")
	}
	line := func(world string, k judge.MemoryScore) {
		for _, a := range []struct {
			name string
			s    *judge.Score
		}{{"without", &k.Without}, {"date alone", &k.DateAlone}, {"with", &k.With}} {
			fmt.Fprintf(&md, "| %s | %s | %d | %s | %.3f | %.3f | %.3f | %.1f %% | %.1f %% | %.0f %% | %.0f %% |\n", world, k.Set, k.Visits, a.name,
				a.s.Top1, a.s.LogLoss, a.s.ECE, 100*a.s.Accused, 100*a.s.Buried, 100*a.s.Claims, 100*a.s.ClaimsRight)
		}
	}
	sets := judge.ReadingSets()
	fmt.Fprint(&md, "## At home\n\n")
	head()
	pairs := judge.Pairs(judge.Home.World, n, seedPairs, sim.NotWrong)
	for _, set := range sets[:5] {
		for _, visits := range []int{1, 3} {
			if visits > 1 && set.Name != vented.Name {
				continue
			}
			k, err := judge.MemoryTrial(m, pairs, set, visits)
			if err != nil {
				return err
			}
			line("home", k)
		}
	}
	fmt.Fprintf(&md, "\n%d cars. Two in five of them were met more than once before; three visits means as many as there were.\n\n## In other worlds\n\nNothing was refitted.\n\n", len(pairs))
	head()
	for i, w := range judge.Worlds() {
		k, err := judge.MemoryTrial(m, judge.Pairs(w.World, n/2, seedPairs+1+uint64(i), sim.NotWrong), vented, 1)
		if err != nil {
			return err
		}
		line(w.Name, k)
	}
	if err := wrongVisits(&md, m, pairs, n/2); err != nil {
		return err
	}
	if err := noticeable(&md, m, worlds, library); err != nil {
		return err
	}
	if err := brutePairs(&md, m, worlds, library); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "memory.md"), []byte(md.String()), 0o644)
}

// vented is the set of readings that the aims are set for.
var vented = judge.ReadingSets()[2]

// wrongVisits reports how often visits that are no ruler are noticed, and what they do.
func wrongVisits(md *strings.Builder, m *diagnose.Model, right []sim.Pair, n int) error {
	fmt.Fprint(md, "\n## Visits that are no ruler\n\nAnother car's visit filed with this one, or a visit at which the car had a fault that nobody saw. \"Noticed\" is that the answer says the visits do not look like the same sound car.\n\n")
	fmt.Fprintln(md, "| visits | readings | noticed | log-loss without, bit | with | healthy accused at 80 % without | with | ECE with |\n| --- | --- | --- | --- | --- | --- | --- | --- |")
	for _, k := range []struct {
		name  string
		pairs []sim.Pair
	}{
		{"right", right[:n]},
		{"another car's", judge.Pairs(judge.Home.World, n, seedWrong, sim.AnotherCar)},
		{"not sound then", judge.Pairs(judge.Home.World, n, seedWrong+1, sim.NotSoundThen)},
		{"one of several another's", judge.Misfiled(right)},
	} {
		for _, set := range []judge.ReadingSet{judge.ReadingSets()[1], vented, judge.ReadingSets()[3], judge.ReadingSets()[5]} {
			s, err := judge.MemoryTrial(m, k.pairs, set, car.MostEarlier)
			if err != nil {
				return err
			}
			fmt.Fprintf(md, "| %s | %s | %.1f %% | %.3f | %.3f | %.1f %% | %.1f %% | %.3f |\n", k.name, set.Name, 100*s.NotTheSame,
				s.Without.LogLoss, s.With.LogLoss, 100*s.Without.Accused, 100*s.With.Accused, s.With.ECE)
		}
	}
	return nil
}

// noticeable reports how often another car's visit could be noticed at all.
func noticeable(md *strings.Builder, m *diagnose.Model, worlds, library int) error {
	const pairs = 200
	fmt.Fprintf(md, "\nHow often could another car's visit be noticed? %d kinds of car in one weather each, met once before in another; needles, ambient, humidity and vent; about %d cars each with a visit of its own, and as many with another car's. Bayes' rule over %d pairs simulated for each kind, and as many of two cars, knows all that those readings tell. Noticed, of another car's visits, where so many of the right ones are suspected too:\n\n", worlds, pairs, library)
	r := fleet.NewRand(seedNotice)
	var right, wrong []judge.Suspected
	for range worlds {
		w := judge.BrutePairWorld(r)
		s := judge.NewStranger(w, library, r.Uint64()>>24)
		a, b, err := judge.Notice(m, w, s, vented, pairs, r.Uint64()>>24)
		if err != nil {
			return err
		}
		right, wrong = append(right, a...), append(wrong, b...)
	}
	fmt.Fprintln(md, "| right ones suspected | fitted | Bayes' rule |\n| --- | --- | --- |")
	for _, alarms := range []float64{0.01, 0.02, 0.05, 0.10} {
		fitted, brute := judge.Caught(right, wrong, alarms)
		fmt.Fprintf(md, "| %.0f %% | %.0f %% | %.0f %% |\n", 100*alarms, 100*fitted, 100*brute)
	}
	fmt.Fprintf(md, "\n%d cars with their own visits, %d with another's.\n", len(right), len(wrong))
	return nil
}

// brutePairs holds the fitted correction against Bayes' rule over simulated pairs.
func brutePairs(md *strings.Builder, m *diagnose.Model, worlds, library int) error {
	fmt.Fprintf(md, "\n## Against brute force\n\n%d kinds of car in one weather each, met once before in another; in each, %d pairs simulated for it alone and weighed by Bayes' rule. 50 new cars each; needles, ambient, humidity and vent. Conditions that spoil readings are left out. Brute force knows the date of the visit in both columns.\n\n", worlds, library)
	r := fleet.NewRand(seedBrutePairs)
	var sum judge.PairComparison
	for range worlds {
		w := judge.BrutePairWorld(r)
		b := judge.NewBrutePairs(w, library, r.Uint64()>>24)
		k, err := judge.CompareBrutePairs(m, judge.Pairs(w, 50, r.Uint64()>>24, sim.NotWrong), vented, b)
		if err != nil {
			return err
		}
		sum.Add(k)
	}
	fmt.Fprintf(md, "| | log-loss without the visit, bit | with | top-1 with |\n| --- | --- | --- | --- |\n| fitted | %.3f | %.3f | %.3f |\n| brute force | %.3f (with its date) | %.3f | %.3f |\n\n%.0f cars.\n",
		sum.Fitted, sum.FittedWith, sum.Top1Fitted, sum.Brute, sum.BruteWith, sum.Top1Brute, sum.Cars)
	return nil
}
