package main

import (
	"fmt"
	"io"
	"os"
	"sync"
	"time"
)

// progress shows one line that replaces itself, on a terminal only and only
// once the work has lasted a second.
type progress struct {
	mu      sync.Mutex
	w       io.Writer
	started time.Time
	shown   bool
}

func newProgress(w io.Writer) *progress {
	if f, ok := w.(*os.File); ok {
		if info, err := f.Stat(); err == nil && info.Mode()&os.ModeCharDevice != 0 {
			return &progress{w: w, started: time.Now()}
		}
	}
	return &progress{}
}

func (p *progress) step(what string, done, total int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.w == nil || time.Since(p.started) < time.Second {
		return
	}
	p.shown = true
	fmt.Fprintf(p.w, "\r\x1b[K%s (%d of %d)", what, done, total)
}

func (p *progress) clear() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.shown {
		fmt.Fprint(p.w, "\r\x1b[K")
	}
}
