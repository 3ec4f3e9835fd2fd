//go:build !pageengine

package main

// releasedEngine is nil: the engine's file is built when it is asked for.
var releasedEngine []byte
