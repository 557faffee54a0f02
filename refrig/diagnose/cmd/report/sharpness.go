package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/internal/judge"
)

const sharpnessHeader = `# How much to claim

Written by ` + "`make report`" + `; do not edit. Every probability is raised to a power before it is told
(diagnose.Sharpness). Below: what that costs at home, and how many sound cars are accused
with 80 %% or more in worlds near by, of which none is reported on elsewhere: %s.

| power | readings | home: log-loss, bit | home: ECE | home: accused | home: claims made | near by: accused, mean | worst | wrong claims of 80 %% among all, worst | ECE, worst |
| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |
`

// sharpness writes sharpness.md, from n cars a world.
func sharpness(m *diagnose.Model, n int, out string) error {
	worlds := append([]judge.Named{judge.Home}, judge.Nearby()...)
	var names []string
	for _, w := range worlds[1:] {
		names = append(names, w.Name)
	}
	powers := []float64{1, 0.98, 0.96, 0.94, 0.92, 0.9}
	all := judge.ReadingSets()
	sets := []judge.ReadingSet{all[2], all[3], all[len(all)-1]}
	scores := map[[2]int][]judge.Score{} // by set and power, home first
	for i, w := range worlds {
		samples, _ := w.World.DrawMany(n, seedSharp+uint64(i))
		for j, set := range sets {
			for k, power := range powers {
				score, err := judge.Trial(samples, set, atPower(m, power))
				if err != nil {
					return err
				}
				scores[[2]int{j, k}] = append(scores[[2]int{j, k}], score)
			}
		}
	}
	var md strings.Builder
	fmt.Fprintf(&md, sharpnessHeader, strings.Join(names, "; "))
	for j, set := range sets {
		for k, power := range powers {
			home, others := scores[[2]int{j, k}][0], scores[[2]int{j, k}][1:]
			var mean, worst, wrong, ece float64
			for _, s := range others {
				mean += s.Accused / float64(len(others))
				worst, wrong, ece = max(worst, s.Accused), max(wrong, s.WrongSure), max(ece, s.ECE)
			}
			fmt.Fprintf(&md, "| %.2f | %s | %.3f | %.3f | %.1f %% | %.0f %% | %.1f %% | %.1f %% | %.1f %% | %.3f |\n", power, set.Name,
				home.LogLoss, home.ECE, 100*home.Accused, 100*home.Claims, 100*mean, 100*worst, 100*wrong, ece)
		}
	}
	return os.WriteFile(filepath.Join(out, "sharpness.md"), []byte(md.String()), 0o644)
}

// atPower is what m would tell if its sharpness were the power.
func atPower(m *diagnose.Model, power float64) func(car.Case) ([]float64, error) {
	told, change := judge.Posterior(m), diagnose.Lessons{Sharp: power / diagnose.Sharpness}
	return func(c car.Case) ([]float64, error) {
		p, err := told(c)
		if err == nil {
			change.Apply(p)
		}
		return p, err
	}
}
