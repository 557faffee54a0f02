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

// ReadNets reads the networks of a folder that Write wrote.
func ReadNets(dir string) (*Nets, error) {
	n := &Nets{}
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

// WriteGroups counts which conditions put cars into which group and stores it.
func (n *Nets) WriteGroups(dir string, rc Recipe) error {
	world := sim.World{Flatten: 0.7}
	samples, _ := world.DrawMany(groupCars, rc.Seed+5)
	table, err := (&Model{nets: *n}).sharesTable(samples)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "groups.csv"), []byte(table), 0o644)
}

// Write stores the networks and what they were made from in a folder.
func (n *Nets) Write(dir string, rc Recipe) error {
	for name, net := range n.byName() {
		if err := os.WriteFile(filepath.Join(dir, name), (*net).Encode(), 0o644); err != nil {
			return err
		}
	}
	if err := n.WriteGroups(dir, rc); err != nil {
		return err
	}
	b, err := json.MarshalIndent(Made{Recipe: rc, Probe: Probes()}, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "made.json"), append(b, '\n'), 0o644)
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
