package main

import (
	"fmt"
	"math"
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
	near := judge.Nearby()
	var names []string
	for _, w := range near {
		names = append(names, w.Name)
	}
	var md strings.Builder
	fmt.Fprintf(&md, sharpnessHeader, strings.Join(names, "; "))
	powers := []float64{1, 0.97, 0.94, 0.91, 0.88, 0.85}
	sets := judge.ReadingSets()
	for _, set := range []judge.ReadingSet{sets[2], sets[3], sets[len(sets)-1]} {
		scores := make([][]judge.Score, len(powers)) // by power, home first
		for i, w := range append([]judge.Named{judge.Home}, near...) {
			samples, _ := w.World.DrawMany(n, seedSharp+uint64(i))
			var told [][]float64
			for j := range samples {
				p, err := judge.Posterior(m)(set.Keep(samples[j].Case))
				if err != nil {
					return err
				}
				told = append(told, p)
			}
			for k, power := range powers {
				next := 0
				score, err := judge.Trial(samples, set, func(car.Case) ([]float64, error) {
					next++
					return raised(told[next-1], power/diagnose.Sharpness), nil
				})
				if err != nil {
					return err
				}
				scores[k] = append(scores[k], score)
			}
		}
		for k, power := range powers {
			home, others := scores[k][0], scores[k][1:]
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

// raised is p to a power, adding up to one.
func raised(p []float64, power float64) []float64 {
	out, sum := make([]float64, len(p)), 0.0
	for i, v := range p {
		out[i] = math.Pow(v, power)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
