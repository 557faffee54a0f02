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

// Each draws n, in chunks as [Parallel] does, and returns in order what was drawn; those
// that failed are left out.
func Each[T any](n, chunk int, seed uint64, draw func(r *fleet.Rand) (T, error)) []T {
	all, drawn := make([]T, n), make([]bool, n)
	Parallel(n, chunk, seed, func(_, lo, hi int, r *fleet.Rand) {
		for i := lo; i < hi; i++ {
			if x, err := draw(r); err == nil {
				all[i], drawn[i] = x, true
			}
		}
	})
	kept := all[:0]
	for i, x := range all {
		if drawn[i] {
			kept = append(kept, x)
		}
	}
	return kept
}
