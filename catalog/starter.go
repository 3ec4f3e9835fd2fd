package catalog

import (
	_ "embed"
	"slices"
)

//go:embed starter/parts.toml
var starterParts []byte

//go:embed starter/least.toml
var starterLeast []byte

//go:embed starter/brief.toml
var starterBrief []byte

// Starter is a catalog and a brief to begin with, as text with comments: each
// kind of parts with all its keys, the optional ones that nobody needs at first
// behind a "#", and what a board is asked for. All parts are invented. The
// names are those of the files, parts.toml and brief.toml; the caller may
// change the data.
func Starter() (parts, brief Source) {
	return Source{Name: starterName, Data: slices.Clone(starterParts)},
		Source{Name: starterBriefName, Data: slices.Clone(starterBrief)}
}

// The names of the starter's files.
const starterName, starterBriefName = "parts.toml", "brief.toml"

// Least is the smallest catalog that answers: one part in each slot, with the keys
// that it needs. All parts are invented. The caller may change the data.
func Least() Source { return Source{Name: starterName, Data: slices.Clone(starterLeast)} }

// StarterNames are the names of the starter's files.
func StarterNames() (parts, brief string) { return starterName, starterBriefName }
