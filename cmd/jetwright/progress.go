package main

import (
	"os"
	"path/filepath"
	"sync"

	"github.com/vbauerster/mpb/v8"
	"github.com/vbauerster/mpb/v8/decor"
	"golang.org/x/term"
)

// barBytes is the size of a log from which its reading shows a bar.
const barBytes = 16 << 20

// progress returns what shows how far large logs are read, on a terminal alone, and what ends it.
func (c *command) progress() (tell func(file string, done, total int), end func()) {
	f, ok := c.errs.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return nil, func() {}
	}
	var mu sync.Mutex
	bars := map[string]*mpb.Bar{}
	p := mpb.New(mpb.WithOutput(f), mpb.WithWidth(40))
	tell = func(file string, done, total int) {
		if total < barBytes {
			return
		}
		mu.Lock()
		defer mu.Unlock()
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
		p.Wait()
	}
}
