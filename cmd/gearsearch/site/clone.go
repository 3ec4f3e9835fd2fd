//go:build !pageengine

package site

// Released are the engines that are in a release, here none: their files are
// built when they are asked for.
func Released() Engines { return Engines{} }
