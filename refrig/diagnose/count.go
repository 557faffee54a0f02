//go:build !js

package diagnose

import (
	"fmt"
	"math"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/nets"
	"twoneedles/refrig/sim"
)

// CountTables counts, with the networks n, on so many cars what the tables beside them
// hold, by the names of their files.
func CountTables(n *nets.Nets, cars int, seed uint64) (map[string]string, error) {
	world := sim.World{Flatten: 0.7}
	samples, _ := world.DrawMany(cars, seed)
	groups, err := (&Model{nets: n}).sharesTable(samples)
	return map[string]string{"answers.csv": answersTable(samples), "groups.csv": groups}, err
}

// answersTable counts what a right answer is and returns answers.csv.
func answersTable(samples []sim.Sample) string {
	share, all := make([]float64, len(conditions)), 0.0
	for i := range samples {
		share[car.Index(samples[i].Truth.Answer())] += samples[i].Weight
		all += samples[i].Weight
	}
	var b strings.Builder
	b.WriteString("# Share of simulated cars, drawn by the prior odds, of which the right answer is a condition; made by make fit.\ncondition,share\n")
	for i, id := range conditions {
		fmt.Fprintf(&b, "%s,%.4f\n", id, share[i]/math.Max(all, 1e-9))
	}
	return b.String()
}

// sharesTable counts the groups of samples and returns groups.csv.
func (m *Model) sharesTable(samples []sim.Sample) (string, error) {
	count := map[Group][]float64{}
	for _, g := range groups {
		count[g] = make([]float64, len(conditions))
	}
	all := make([]float64, len(conditions))
	for i := range samples {
		s := &samples[i]
		about, err := m.about(s.Case)
		if err != nil {
			return "", err
		}
		low, high := about.bands()
		k := car.Index(s.Truth.Answer())
		count[group(s.Case.Readings, low, high)][k] += s.Weight
		all[k] += s.Weight
	}
	var b strings.Builder
	b.WriteString("# Share of simulated cars with a condition that show a pattern; made by make fit.\ncondition")
	for _, g := range groups {
		fmt.Fprintf(&b, ",%s", g)
	}
	b.WriteString("\n")
	for i, id := range conditions {
		b.WriteString(string(id))
		for _, g := range groups {
			fmt.Fprintf(&b, ",%.3f", count[g][i]/math.Max(all[i], 1e-9))
		}
		b.WriteString("\n")
	}
	return b.String(), nil
}
