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

// RankWords is the command that ranks the builds of a catalog, with the brief that
// lies beside one of its files or of the files that it was made from, else with an
// example.
func RankWords(paths, from []string) string {
	_, starter := catalog.StarterNames() // catalog new writes a brief of its name
	s := &Sources{Catalog: paths}
	for _, path := range slices.Concat(paths, from) {
		brief := filepath.Join(filepath.Dir(path), starter)
		if info, err := os.Stat(brief); err == nil && info.Mode().IsRegular() {
			s.Briefs = []string{brief}
			return "gearsearch rank" + say.Repeated(s.words(0, thisFolder())) + " --save 1=build.toml"
		}
	}
	words := "gearsearch rank" + say.Repeated(s.words(0, thisFolder()))
	return words + " --top-speed 35km/h --climb-grade 12% --save 1=build.toml"
}

// NewWords are how to rank and to check a new catalog under a new brief, "" for
// none.
func NewWords(parts, brief string) (rank, check string) {
	folder := thisFolder()
	s := &Sources{Catalog: []string{parts}, folder: folder}
	if brief != "" {
		s.Briefs = []string{brief}
	}
	return "gearsearch rank" + say.Repeated(s.words(0, folder)), "gearsearch catalog check" + s.CatalogWords()
}
