//go:build js && wasm

// Command drawings is the engine of the static page with what draws, which is
// fetched once it is wanted.
package main

import (
	"gearsearch/cmd/gearsearch/internal/webengine/looks"
	"gearsearch/cmd/gearsearch/pagewasm/worker"
)

func main() { worker.Run(looks.Questions()...) }
