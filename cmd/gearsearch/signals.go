//go:build !js

package main

import (
	"os"
	"os/signal"
	"syscall"
)

// endings are the signals that ask the program to end.
var endings = []os.Signal{os.Interrupt, syscall.SIGTERM, syscall.SIGHUP}

// ignorePipes has writes to a closed pipe return an error instead of ending the
// program, so that temporary files are removed.
func ignorePipes() { signal.Ignore(syscall.SIGPIPE) }
