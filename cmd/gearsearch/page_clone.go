//go:build !pageengine

package main

// releasedEngines are none: the engines' files are built when they are asked
// for.
func releasedEngines() pageEngines { return pageEngines{} }
