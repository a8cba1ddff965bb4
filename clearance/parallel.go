package clearance

import (
	"sync"
	"sync/atomic"
)

// workers is how many goroutines share the work out: a few more than a small
// machine has cores, since the shares differ.
const workers = 4

// inParallel does jobs 0 to n-1, shared out among workers. start makes a
// worker's own function; what it does must not depend on which worker does it.
// A panic comes back to the caller.
func inParallel(n int, start func() func(job int)) { inParallelBy(workers, n, start) }

// inParallelBy is inParallel with no more than so many workers.
func inParallelBy(workers, n int, start func() func(job int)) {
	var next atomic.Int64
	var wait sync.WaitGroup
	faults := make([]any, min(workers, n))
	for k := range faults {
		wait.Add(1)
		go func() {
			defer wait.Done()
			defer func() { faults[k] = recover() }()
			do := start()
			for job := int(next.Add(1)) - 1; job < n; job = int(next.Add(1)) - 1 {
				do(job)
			}
		}()
	}
	wait.Wait()
	for _, fault := range faults {
		if fault != nil {
			panic(fault)
		}
	}
}
