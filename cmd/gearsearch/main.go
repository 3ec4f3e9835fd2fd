// Command gearsearch finds the builds of an electric board that do what a
// brief asks, ranks them, and says why the others do not.
package main

import (
	"context"
	"io"
	"os"
	"os/signal"
	"syscall"
)

func main() {
	// Writes to a closed pipe return an error instead of ending the program, so
	// that temporary files are removed.
	signal.Ignore(syscall.SIGPIPE)
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	context.AfterFunc(ctx, stop) // a second interrupt ends the program at once
	os.Exit(run(ctx, os.Args, os.Stdin, os.Stdout, os.Stderr))
}

// run is the program: it answers args, whose first is the program's name, and
// returns the exit code.
func run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	p := &program{stdin: stdin, stdout: stdout, stderr: stderr}
	return p.explain(p.execute(ctx, args))
}
