//go:build unix

package browsertest

import (
	"sync"
	"syscall"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/systeminfo"
	"github.com/chromedp/chromedp"
)

// Slow lets all that pages run on, workers too, have the processor for one part
// in times of the time: the browser's own throttle holds back a page's first
// thread alone. The returned function ends it.
func (b *Tab) Slow(times int) (end func()) {
	b.t.Helper()
	const turn = 8 * time.Millisecond // with the processor
	stop, over := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(over)
		for {
			held := b.processes()
			const turns = 10 // until there may be others
			for range turns {
				signal(held, syscall.SIGSTOP)
				time.Sleep(time.Duration(times-1) * turn)
				signal(held, syscall.SIGCONT)
				select {
				case <-stop:
					return
				case <-time.After(turn):
				}
			}
		}
	}()
	end = sync.OnceFunc(func() { close(stop); <-over })
	b.t.Cleanup(end)
	return end
}

// processes are those of the browser that run pages and draw them.
func (b *Tab) processes() (out []int) {
	info, err := chromedp.CallBrowser(b.ctx, systeminfo.GetProcessInfo, cdp.Empty{})
	if err != nil {
		return nil
	}
	for _, p := range info.ProcessInfo {
		if p.Type == "renderer" || p.Type == "GPU" {
			out = append(out, int(p.ID))
		}
	}
	return out
}

func signal(processes []int, s syscall.Signal) {
	for _, id := range processes {
		_ = syscall.Kill(id, s) // it may have ended
	}
}
