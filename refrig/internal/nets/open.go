package nets

import (
	"embed"
	"encoding/json"
	"fmt"
	"hash/crc32"

	"twoneedles/refrig/internal/mlp"
)

//go:embed fitted
var netFiles embed.FS

// netFile returns one of the files that were made with the networks.
func File(name string) ([]byte, error) { return netFiles.ReadFile("fitted/" + name) }

// openNets returns the embedded networks. It fails only if they are damaged.
func Open() (*Nets, error) {
	n, err := ReadFirst(File)
	if err != nil {
		return nil, err
	}
	b, err := File("memory.mlp")
	if err != nil {
		return nil, err
	}
	if n.Memory, err = mlp.Decode(b); err != nil {
		return nil, fmt.Errorf("memory.mlp: %w", err)
	}
	if err := readJSON(File, "memory.json", &n.MemoryMade); err != nil {
		return nil, err
	}
	return n, sizesFit([]size{
		{n.Memory.Sizes[0], MemoryInputs},
		{last(n.Memory.Sizes), MemoryOutputs},
		{len(n.MemoryMade.Kept.Variance), len(Remembered)},
		{len(n.MemoryMade.Kept.Shared), len(Remembered)},
	})
}

// ReadFirst returns the four networks that the memory network is fitted upon, from the
// files that read gives.
func ReadFirst(read func(name string) ([]byte, error)) (*Nets, error) {
	n := &Nets{}
	for name, dst := range n.ByName() {
		b, err := read(name)
		if err != nil {
			return nil, err
		}
		if *dst, err = mlp.Decode(b); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	if err := readJSON(read, "made.json", &n.Made); err != nil {
		return nil, err
	}
	return n, sizesFit([]size{
		{n.Base.Sizes[0], ContextSize},
		{last(n.Base.Sizes), 2 * len(quantities)},
		{n.Posterior.Sizes[0], InputSize},
		{last(n.Posterior.Sizes), PosteriorOutputs},
		{n.Predict.Sizes[0], InputSize + len(conditions)},
		{last(n.Predict.Sizes), 2 * len(quantities)},
		{n.Bands.Sizes[0], ContextSize},
		{last(n.Bands.Sizes), 2*len(BandLevels) + 1},
	})
}

func readJSON(read func(name string) ([]byte, error), name string, into any) error {
	b, err := read(name)
	if err != nil {
		return err
	}
	if err := json.Unmarshal(b, into); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// size is one that a network has beside the one that the code wants.
type size struct{ got, want int }

func sizesFit(list []size) error {
	for _, s := range list {
		if s.got != s.want {
			return fmt.Errorf("nets: a network has size %d where the code wants %d: run make fit and make fit-memory", s.got, s.want)
		}
	}
	return nil
}

func last(s []int) int { return s[len(s)-1] }

// ByName is where each of the first four is kept: its file.
func (n *Nets) ByName() map[string]**mlp.Net {
	return map[string]**mlp.Net{"base.mlp": &n.Base, "posterior.mlp": &n.Posterior, "predict.mlp": &n.Predict, "bands.mlp": &n.Bands}
}

// UponOf is a checksum of the networks that the memory network was fitted upon.
func UponOf(read func(name string) ([]byte, error)) (uint32, error) {
	sum := uint32(0)
	for _, name := range []string{"base.mlp", "posterior.mlp", "bands.mlp"} {
		b, err := read(name)
		if err != nil {
			return 0, err
		}
		sum = crc32.Update(sum, crc32.IEEETable, b)
	}
	return sum, nil
}
