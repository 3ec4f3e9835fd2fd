package ask

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/say"
)

// IsTOML reports whether a name stands for a TOML file.
func IsTOML(name string) bool { return strings.EqualFold(filepath.Ext(name), ".toml") }

// RankWords is how to rank the builds of a catalog: for the brief beside one of
// its files or of those that it was made from, else for an example.
func RankWords(paths, from []string) string {
	_, starter := catalog.Starter() // catalog new writes a brief of its name
	words := "gearsearch rank"
	for _, path := range paths {
		words += " --catalog " + say.Typed(path)
	}
	for _, path := range slices.Concat(paths, from) {
		brief := filepath.Join(filepath.Dir(path), starter.Name)
		if info, err := os.Stat(brief); err == nil && info.Mode().IsRegular() {
			return words + " --brief " + say.Typed(brief) + " --save 1=build.toml"
		}
	}
	return words + " --top-speed 35km/h --climb-grade 12% --save 1=build.toml"
}
