//go:build !js

package diagnose

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

	"twoneedles/refrig/car"
	"twoneedles/refrig/internal/mlp"
	"twoneedles/refrig/sim"
)

// CountGroups counts again, with the networks that [Fit] stored in a folder, which
// conditions put cars into which group.
func CountGroups(rc Recipe, dir string) error {
	n, err := readNets(dir)
	if err != nil {
		return err
	}
	return n.writeGroups(dir, rc)
}

func readNets(dir string) (*nets, error) {
	n := &nets{}
	for name, dst := range n.byName() {
		b, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil {
			return nil, err
		}
		if *dst, err = mlp.Decode(b); err != nil {
			return nil, err
		}
	}
	return n, nil
}

// groupCars is how many cars the shares of the groups are counted on.
const groupCars = 30_000

func (n *nets) writeGroups(dir string, rc Recipe) error {
	world := sim.World{Flatten: 0.7}
	samples, _ := world.DrawMany(groupCars, rc.Seed+5)
	table, err := (&Model{nets: *n}).sharesTable(samples)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "answers.csv"), []byte(answersTable(samples)), 0o644); err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "groups.csv"), []byte(table), 0o644)
}

func (n *nets) write(dir string, rc Recipe) error {
	for name, net := range n.byName() {
		if err := os.WriteFile(filepath.Join(dir, name), (*net).Encode(), 0o644); err != nil {
			return err
		}
	}
	if err := n.writeGroups(dir, rc); err != nil {
		return err
	}
	b, err := json.MarshalIndent(made{Recipe: rc, Probe: probes()}, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "made.json"), append(b, '\n'), 0o644)
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
