package sim

import (
	"runtime"
	"sync"

	"twoneedles/refrig/fleet"
)

// Parallel runs f for every chunk of n items, each with a generator of its own,
// so that the result does not depend on the number of processors.
func Parallel(n, chunk int, seed uint64, f func(chunk, lo, hi int, r *fleet.Rand)) {
	jobs := make(chan int)
	var wg sync.WaitGroup
	for range runtime.NumCPU() {
		wg.Add(1)
		go func() {
			defer wg.Done()
			for k := range jobs {
				f(k, k*chunk, min((k+1)*chunk, n), fleet.NewRand(seed<<20+uint64(k)))
			}
		}()
	}
	for k := 0; k*chunk < n; k++ {
		jobs <- k
	}
	close(jobs)
	wg.Wait()
}
