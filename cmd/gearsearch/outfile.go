package main

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
)

// outFile reports early that an answer cannot be written to a file: its folder
// is not there, or it is a brief or a catalog that the answer is made from,
// which would be lost. The flag is how the user named it.
func outFile(c *cli.Context, flag, name string) error {
	if err := writable(name); err != nil {
		return err
	}
	there, err := os.Stat(name)
	if err != nil || !there.Mode().IsRegular() {
		return nil // a new file, or a device
	}
	for _, read := range slices.Concat(c.StringSlice("brief"), c.StringSlice("catalog")) {
		info, err := os.Stat(read)
		if err != nil {
			continue // "-", a brief of the demo, or told when it is read
		}
		if os.SameFile(info, there) || info.IsDir() && tableOf(read, name) {
			return usage("name another file", "%s: %s is read for the answer, and would be lost", flag, shown(name))
		}
	}
	return nil
}

// tableOf reports whether a file is a table of a folder of CSV files.
func tableOf(folder, name string) bool {
	info, err := os.Stat(folder)
	parent, err2 := os.Stat(filepath.Dir(name))
	return err == nil && err2 == nil && os.SameFile(info, parent) && strings.EqualFold(filepath.Ext(name), ".csv")
}
