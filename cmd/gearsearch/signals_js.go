package main

import "os"

// endings are the signals that ask the program to end: a browser sends none, and ends
// the worker that it runs in.
var endings []os.Signal

// ignorePipes does nothing: a browser has no pipes.
func ignorePipes() {}
