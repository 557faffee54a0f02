package nets

import (
	"fmt"
	"hash/crc32"
	"sync"
)

// ID names the fit in force by eight hexadecimal digits, a checksum of the networks and
// of what belongs to them: the recipe and the cars that the physics of that day simulated
// (TestNetworksAreCurrent holds the physics to them). Two programs with the same one give
// the same answer to the same readings, but for changes of the code around the networks.
func ID() string { return identity() }

var identity = sync.OnceValue(func() string {
	files, err := netFiles.ReadDir("fitted") // in the order of their names
	if err != nil {
		panic("diagnose: " + err.Error()) // they are embedded
	}
	sum := crc32.NewIEEE()
	for _, f := range files {
		if f.Name() == "README.md" {
			continue
		}
		b, err := File(f.Name())
		if err != nil {
			panic("diagnose: " + err.Error())
		}
		sum.Write(b)
	}
	return fmt.Sprintf("%08x", sum.Sum32())
})
