package numeric

import (
	"runtime"
	"sync"
)

// Parallel calls f for 0 … n−1 on as many goroutines as there are processors. Many calls are
// handed out in lots of sixteen, few one by one.
func Parallel(n int, f func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	if workers <= 1 {
		for i := range n {
			f(i)
		}
		return
	}
	chunk := min(16, max(1, n/(8*workers)))
	var next sync.Mutex
	at := 0
	var wg sync.WaitGroup
	for range workers {
		wg.Go(func() {
			for {
				next.Lock()
				from := at
				at += chunk
				next.Unlock()
				if from >= n {
					return
				}
				for i := from; i < min(from+chunk, n); i++ {
					f(i)
				}
			}
		})
	}
	wg.Wait()
}
