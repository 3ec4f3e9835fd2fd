// Package progress shows on a terminal that a search goes on.
package progress

import (
	"io"
	"os"
	"sync"
	"time"

	"github.com/jedib0t/go-pretty/v6/progress"
	"golang.org/x/term"
)

// Patience is how long a search may take before a bar shows that it goes on.
const Patience = 500 * time.Millisecond

// Bar is a progress bar on stderr: only on a terminal, and only for a search
// that takes longer than patience.
type Bar struct {
	terminal *os.File // nil: none
	begun    time.Time

	mu      sync.Mutex // the search reports from a goroutine of its own
	writer  progress.Writer
	tracker *progress.Tracker
	ended   chan struct{} // closed when the writer has stopped
	stopped bool
}

// New is a bar on stderr, unless the user wants quiet.
func New(stderr io.Writer, quiet bool) *Bar {
	b := &Bar{begun: time.Now()}
	if file, ok := stderr.(*os.File); ok && !quiet && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(file.Fd())) {
		b.terminal = file
	}
	return b
}

// Progress is the function to give to a search; nil without a terminal.
func (b *Bar) Progress() func(done, total float64) {
	if b.terminal == nil {
		return nil
	}
	return b.show
}

// scale makes the bar's numbers whole.
const scale = 1_000_000

func (b *Bar) show(done, total float64) {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stopped || total <= 0 {
		return
	}
	if b.writer == nil {
		if time.Since(b.begun) < Patience {
			return
		}
		b.start()
	}
	b.tracker.SetValue(min(int64(scale*done/total), scale-1)) // the last stroke would end the bar with a line of its own
}

func (b *Bar) start() {
	w := progress.NewWriter()
	w.SetOutputWriter(b.terminal)
	w.SetTrackerLength(30)
	w.SetUpdateFrequency(100 * time.Millisecond)
	w.SetTrackerPosition(progress.PositionRight)
	if width, _, err := term.GetSize(int(b.terminal.Fd())); err == nil {
		w.SetTerminalWidth(width)
	}
	style := progress.StyleDefault
	style.Options.Separator = " "
	style.Options.PercentFormat = "%3.0f%%"
	style.Visibility.Value = false
	style.Visibility.Time = false
	style.Visibility.TrackerOverall = false
	w.SetStyle(style)
	b.tracker = &progress.Tracker{Message: "searching", Total: scale} // a tracker that is removed when done leaves its lines on the screen
	w.AppendTracker(b.tracker)
	b.writer, b.ended = w, make(chan struct{})
	go func() {
		w.Render()
		close(b.ended)
	}()
}

// Stop takes the bar away.
func (b *Bar) Stop() {
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.stopped || b.writer == nil {
		b.stopped = true
		return
	}
	b.stopped = true
	for ended := false; !ended; {
		b.writer.Stop() // has no effect before Render has begun, in its goroutine
		select {
		case <-b.ended:
			ended = true
		case <-time.After(10 * time.Millisecond):
		}
	}
	const up, eraseLine = "\x1b[1A", "\x1b[2K"
	_, _ = b.terminal.WriteString(up + eraseLine + "\r")
}
