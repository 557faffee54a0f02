//go:build !js

package fit

import (
	"encoding/json"
	"os"
	"path/filepath"

	"twoneedles/refrig/diagnose"
	"twoneedles/refrig/internal/nets"
)

// Tables counts again, with the networks that [Networks] stored in a folder, which
// conditions put cars into which group.
func Tables(rc nets.Recipe, dir string) error {
	n, err := nets.ReadFirst(inFolder(dir))
	if err != nil {
		return err
	}
	return writeTables(n, dir, rc)
}

// inFolder reads files of a folder.
func inFolder(dir string) func(name string) ([]byte, error) {
	return func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }
}

// tableCars is how many cars the tables are counted on, if there are as many.
const tableCars = 30_000

func writeTables(n *nets.Nets, dir string, rc nets.Recipe) error {
	tables, err := diagnose.CountTables(n, min(rc.Cars, tableCars), rc.Seed+5)
	if err != nil {
		return err
	}
	for name, table := range tables {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(table), 0o644); err != nil {
			return err
		}
	}
	return nil
}

func write(n *nets.Nets, dir string, rc nets.Recipe) error {
	for name, net := range n.ByName() {
		if err := os.WriteFile(filepath.Join(dir, name), (*net).Encode(), 0o644); err != nil {
			return err
		}
	}
	if err := writeTables(n, dir, rc); err != nil {
		return err
	}
	b, err := json.MarshalIndent(nets.Made{Recipe: rc, Probe: nets.Probes()}, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "made.json"), append(b, '\n'), 0o644)
}
