//go:build js && wasm

// Command pagewasm is the engine of the static page as WebAssembly: all that it
// answers but drawings.
package main

import "gearsearch/cmd/gearsearch/pagewasm/worker"

func main() { worker.Run() }
