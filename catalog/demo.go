package catalog

import (
	"embed"
	"io/fs"
	"path"
	"strings"

	"gearsearch/catalog/field"
)

//go:embed demo/*.toml
var demoFiles embed.FS

//go:embed demo/*.csv
var demoRoutes embed.FS

// briefEnding is how the names of the embedded briefs end.
const briefEnding = ".brief.toml"

// routeEnding is how the names of the embedded ways to ride end.
const routeEnding = ".route.csv"

// Demo reads the embedded demo catalog: all its makers, parts and prices are
// invented.
func Demo() (*Catalog, error) { return Read(DemoSources()...) }

// DemoSources are the files of the demo catalog as written.
func DemoSources() []Source {
	return demo(demoFiles, func(name string) bool { return !strings.HasSuffix(name, briefEnding) })
}

// DemoBriefs are the embedded briefs as written. DemoBriefName names them.
func DemoBriefs() []Source {
	return demo(demoFiles, func(name string) bool { return strings.HasSuffix(name, briefEnding) })
}

// DemoBrief is the embedded brief of that name, such as "harbour".
func DemoBrief(name string) (src Source, ok bool) {
	for _, b := range DemoBriefs() {
		if DemoBriefName(b) == name {
			return b, true
		}
	}
	return Source{}, false
}

// DemoBriefName is the name of an embedded brief: its file's, without the
// ending.
func DemoBriefName(src Source) string { return strings.TrimSuffix(path.Base(src.Name), briefEnding) }

// DemoRoutes are the embedded ways to ride as written, both invented: through a hilly
// town with a harbour, over its bridge and back, and around a forest. DemoRouteName names
// them.
func DemoRoutes() []Source { return demo(demoRoutes, func(string) bool { return true }) }

// DemoRoute is the embedded way of that name, such as "harbour".
func DemoRoute(name string) (src Source, ok bool) {
	for _, r := range DemoRoutes() {
		if DemoRouteName(r) == name {
			return r, true
		}
	}
	return Source{}, false
}

// DemoRouteName is the name of an embedded way: its file's, without the ending.
func DemoRouteName(src Source) string { return strings.TrimSuffix(path.Base(src.Name), routeEnding) }

// Invented reports whether the part is one of the demo catalog, or one copied
// from it with its id and name: its maker and its price are invented.
func (p *Part) Invented() bool { return p.copied || p.OfDemo() }

// OfDemo reports whether the part stands in a file of the demo catalog.
func (p *Part) OfDemo() bool {
	_, err := fs.Stat(demoFiles, p.Pos.File)
	return err == nil
}

// markCopies marks the parts that are copied from the demo catalog.
func (c *Catalog) markCopies() {
	var ids map[string]string
	for _, p := range c.Parts() {
		if p.Name == "" || p.OfDemo() {
			continue
		}
		if ids == nil {
			ids = demoIDs()
		}
		id, known := ids[p.Name]
		p.copied = known && (p.ID == id || strings.HasPrefix(p.ID, id+"-")) // one of a family
	}
}

// demoIDs are the ids of the tables of the demo catalog by name. Every table has
// both, a line each.
func demoIDs() map[string]string {
	ids := map[string]string{}
	for _, src := range DemoSources() {
		id := ""
		for line := range strings.Lines(string(src.Data)) {
			key, value, _ := strings.Cut(strings.TrimSpace(line), " = ")
			switch value = strings.Trim(value, `"`); key {
			case "id":
				id = value
			case "name":
				ids[value] = id
			}
		}
	}
	return ids
}

// demo lists the embedded files that want picks, sorted by name. Embedded
// files can always be read.
func demo(from embed.FS, want func(name string) bool) []Source {
	var out []Source
	entries, _ := from.ReadDir("demo")
	for _, e := range entries {
		if name := path.Join("demo", e.Name()); want(name) {
			data, _ := from.ReadFile(name)
			out = append(out, field.Source{Name: name, Data: data})
		}
	}
	return out
}
