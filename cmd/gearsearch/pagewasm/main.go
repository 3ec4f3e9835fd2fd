//go:build js && wasm

// Command pagewasm is the engine of the static page as WebAssembly: what it asks at every
// change.
package main

import "gearsearch/cmd/gearsearch/pagewasm/worker"

func main() { worker.Run() }
