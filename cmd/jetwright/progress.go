package main

import (
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// barBytes is the size of a log from which its reading shows a bar.
const barBytes = 16 << 20

// largeLogs lets memory be tidied sooner: the numbers of a large log are held while it is reduced, and as much again
// would come together before the next tidying. They hold nothing that has to be followed, so this costs next to nothing.
func largeLogs() { debug.SetGCPercent(25) }

// progress returns what is told how far logs are read, and what ends it. Large ones show a bar, on a terminal
// alone and not beside JSON.
func (c *command) progress() (tell func(file string, done, total int), end func()) {
	f, ok := c.errs.(*os.File)
	shown := ok && !c.json && term.IsTerminal(int(f.Fd()))
	tidy := sync.OnceFunc(largeLogs)
	var mu sync.Mutex
	bars := map[string]*mpb.Bar{}
	var p *mpb.Progress
	tell = func(file string, done, total int) {
		if total < barBytes {
			return
		}
		tidy()
		if !shown {
			return
		}
		mu.Lock()
		defer mu.Unlock()
		if p == nil {
			p = mpb.New(mpb.WithOutput(f), mpb.WithWidth(40))
		}
		if bars[file] == nil {
			bars[file] = p.AddBar(int64(total), mpb.PrependDecorators(decor.Name(filepath.Base(file)+" ")), mpb.AppendDecorators(decor.Percentage()))
		}
		bars[file].SetCurrent(int64(done))
	}
	return tell, func() {
		mu.Lock()
		for _, b := range bars {
			b.SetTotal(-1, true)
		}
		mu.Unlock()
		if p != nil {
			p.Wait()
		}
	}
}
