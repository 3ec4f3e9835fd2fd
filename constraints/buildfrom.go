package constraints

import (
	"strconv"

	"gearsearch/catalog/field"
)

// From is where a build comes from, as its file says: files and folders
// relative to the file itself, with slashes.
type From struct {
	Catalog []string // nil: not told
	Brief   string   // "": not told
}

// fromTable is the field table of a build file's [from].
func fromTable() *field.Table[From] {
	return field.NewTable("[from]", []field.Field[From]{
		{Key: "catalog", Filled: true, Verbatim: true, Meaning: "the files and folders with the parts, relative to this file", Texts: func(f *From) *[]string { return &f.Catalog }},
		{Key: "brief", Meaning: "the brief that the build was made for, relative to this file", Text: func(f *From) *string { return &f.Brief }},
	})
}

// readFrom reads a [from].
func (f *BuildFile) readFrom(s field.Section, r *field.Report) {
	given := fromTable().Decode(s, &f.From, r)
	f.places[BriefFrom] = given.Place("brief")
	n := 0
	for item := range given.Value("catalog").Parts() {
		f.places[CatalogFrom(n)] = item.Place()
		n++
	}
}

// BriefFrom is the key of a build file that names its brief.
const BriefFrom = "from.brief"

// CatalogFrom is the key of a build file that names its file or folder i of
// parts.
func CatalogFrom(i int) string { return "from.catalog/" + strconv.Itoa(i) }

// Place is where the value of a key of the file stands; nowhere for a file that
// was not read.
func (f *BuildFile) Place(key string) field.Place { return f.places[key] }

// toml writes the [from]; "" where neither catalog nor brief is named.
func (f *From) toml() string {
	s := ""
	if f.Catalog != nil {
		s += "catalog = " + field.TOML(f.Catalog) + "\n"
	}
	if f.Brief != "" {
		s += "brief = " + field.TOML(f.Brief) + "\n"
	}
	if s == "" {
		return ""
	}
	return "\n[from]\n" + s
}
