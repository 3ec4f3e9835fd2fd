// Command gearsearch finds the builds of an electric board that do what a
// brief asks, ranks them, and says why the others do not.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"time"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

func main() { os.Exit(heed(grace, false)) }

// ampleMemory is up to how many bytes garbage is left to grow: past it the
// program rather takes time than memory, unless its user says GOMEMLIMIT.
const ampleMemory = 250 << 20

// grace is how long an interrupted run may take to write its findings and to
// end. Anything that takes longer waits for somebody else.
const grace = 900 * time.Millisecond

// heed runs the program so that an interrupt, or another signal to end, makes it
// write what it has and end, and a second one ends it at once. A signal that is
// ignored, as under nohup, stays ignored. A patient program gives up nothing for the
// time that it takes.
func heed(grace time.Duration, patient bool) int {
	ignorePipes()
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(ampleMemory)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	signals := make(chan os.Signal, 2)
	for _, s := range endings {
		if !signal.Ignored(s) {
			signal.Notify(signals, s)
		}
	}
	again := make(chan os.Signal, 1)
	go func() {
		<-signals
		cancel()
		again <- <-signals
	}()
	p := &program{&ask.Desk{Stdin: os.Stdin, Stdout: os.Stdout, Stderr: os.Stderr, Patient: patient}, grace}
	return p.run(ctx, again, os.Args)
}

// run is the program: it answers args, whose first is the program's name, and
// returns the exit code. It is patient.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	p := &program{&ask.Desk{Stdin: stdin, Stdout: stdout, Stderr: stderr, Patient: true}, time.Minute}
	return p.run(ctx, nil, args)
}

// run answers args. When ctx ends it returns in the time of grace, or at once
// for hurry: reading and writing that somebody else holds up is given up, and
// no temporary file is left. It is the last thing that is done with p.
func (p *program) run(ctx context.Context, hurry <-chan os.Signal, args []string) int {
	p.Files.Prints(p.Stdout)
	ended := make(chan int, 1)
	go func() { ended <- p.explain(p.execute(ctx, args)) }()
	select {
	case code := <-ended:
		return code
	case <-ctx.Done():
	}
	select {
	case code := <-ended:
		return code
	case <-hurry:
	case <-time.After(p.grace):
	}
	p.Files.Abandon()
	said := make(chan struct{})
	go func() { // which may be held up as well
		_, _ = io.WriteString(p.Stderr, "gearsearch: interrupted: ended before there was an answer, whole and written\n")
		close(said)
	}()
	select {
	case <-said:
	case <-time.After(grace / 20):
	}
	return outcome.ExitInterrupted
}
