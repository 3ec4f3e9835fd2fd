package shell

import (
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/say"
)

// Placeholder splits a flag's usage into the name of its value and the rest.
func Placeholder(usage string) (name, rest string) {
	if !strings.HasPrefix(usage, "`") {
		return "", usage
	}
	name, rest, _ = strings.Cut(usage[1:], "`")
	return name, strings.TrimSpace(rest)
}

// Example shows how a flag is written.
func Example(f cli.Flag) string {
	d, ok := f.(cli.DocGenerationFlag)
	if !ok {
		return ""
	}
	name, rest := Placeholder(d.GetUsage())
	return "write " + say.Dashed(f.Names()[0]) + " " + name + ": " + rest
}
