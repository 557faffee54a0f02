//go:build !js

package diagnose

import (
	"encoding/json"
	"os"
	"path/filepath"
)

// Write stores the networks and what they were made from in a folder.
func (n *Nets) Write(dir string, rc Recipe) error {
	for name, net := range n.byName() {
		if err := os.WriteFile(filepath.Join(dir, name), (*net).Encode(), 0o644); err != nil {
			return err
		}
	}
	b, err := json.MarshalIndent(Made{Recipe: rc, Probe: Probes()}, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "made.json"), append(b, '\n'), 0o644)
}
