package main

import (
	"fmt"
	"runtime/debug"
	"strings"
)

// version is the version of the program with what the build recorded of its
// source.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "gearsearch, built without version information\n"
	}
	name := info.Main.Version
	if name == "" {
		name = "(devel)"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "gearsearch %s\n", name)
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			fmt.Fprintf(&b, "revision %s\n", s.Value)
		case s.Key == "vcs.time":
			fmt.Fprintf(&b, "of %s\n", s.Value)
		case s.Key == "vcs.modified" && s.Value == "true":
			b.WriteString("with changes that are not committed\n")
		}
	}
	fmt.Fprintf(&b, "built with %s\n", info.GoVersion)
	return b.String()
}
