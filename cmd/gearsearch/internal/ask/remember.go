package ask

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/output"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// buildSupply is what a build file names, as it is named from the working folder.
func buildSupply(name string, f *constraints.BuildFile) supply {
	s := supply{by: byBuild, file: name}
	if name == "-" {
		s.file = files.StandardInput
	}
	if f.Carries {
		s.catalog, s.briefs, s.carried = []string{name}, []string{name}, name
		if name == "-" {
			s.noCatalog = outcome.Usage("save it as a file first", "a build file that carries its parts is not read from standard input")
		}
		return s
	}
	var lost field.Problems
	for i, path := range f.From.Catalog {
		at := beside(name, path)
		s.catalog = append(s.catalog, at)
		if isFile(at) {
			lost = append(lost, absent(at, "catalog", f.Place(constraints.CatalogFrom(i)))...)
		}
	}
	if lost != nil {
		s.noCatalog = lost
	}
	if f.From.Brief == "" {
		return s
	}
	at := beside(name, f.From.Brief)
	s.briefs = []string{at}
	place := f.Place(constraints.BriefFrom)
	if isFile(at) {
		lost = absent(at, "brief", place)
	} else if _, known := catalog.DemoBrief(strings.TrimPrefix(at, DemoPrefix)); !known {
		lost = field.Problems{field.ProblemAt(place, "there are "+demoBriefList(), "no embedded brief "+field.Quote(at))}
	} else {
		lost = nil
	}
	if lost != nil {
		s.noBrief = lost
	}
	return s
}

// absent is the problem with a file that a build file names and that cannot be
// read.
func absent(path, what string, at field.Place) field.Problems {
	_, err := os.Stat(path)
	if err == nil {
		return nil
	}
	why := "is not there"
	if !os.IsNotExist(err) {
		why = "cannot be read"
	}
	p := field.ProblemAt(at, "name the "+what+" with --"+what+", or correct the path, which is relative to this file", "the "+what+" "+say.Shown(path)+" "+why)
	p.Code = field.Missing
	return field.Problems{p}
}

// beside is the name, from the working folder, of what a build file names
// relative to itself.
func beside(build, name string) string {
	if name == DemoCatalog || strings.HasPrefix(name, DemoPrefix) {
		return name
	}
	path := filepath.FromSlash(name)
	if filepath.IsAbs(path) {
		return path
	}
	dir := "."
	if build != "-" {
		dir = filepath.Dir(output.Resolve(build))
	}
	return asFile(filepath.Join(dir, path))
}

// asSaved is what a build file names that is saved for the brief at a place.
func (s *Sources) asSaved(i int) supply {
	out := supply{by: byBuild}
	if !slices.ContainsFunc(s.Catalog, passing) {
		out.catalog = s.Catalog
	}
	if brief := s.brief(i); brief != "" && !passing(brief) {
		out.briefs = []string{brief}
	}
	return out
}

// passing reports whether what a name stands for can be read only now, as
// standard input can, or whether no file can hold the name.
func passing(name string) bool {
	if !isFile(name) {
		return name == "-"
	}
	for _, dir := range []string{"/dev/", "/proc/"} {
		if strings.HasPrefix(name, dir) {
			return true
		}
	}
	info, err := os.Stat(name)
	return field.CheckText(name) != "" || err == nil && !info.IsDir() && !info.Mode().IsRegular()
}

// file is the build file of a build that goes to a target: it says where the
// build comes from.
func (q *Question) file(d *Desk, b *constraints.Build, to *files.Target) []byte {
	if q.carry {
		return d.carrying(b, to)
	}
	f, kept := b.File(), q.sources.asSaved(q.at)
	for _, path := range kept.catalog {
		f.From.Catalog = append(f.From.Catalog, relative(path, to.Name))
	}
	if i := slices.IndexFunc(q.sources.Catalog, passing); i >= 0 {
		d.Note("%s", say.Forgotten(to.Name, "catalog", inputName(q.sources.Catalog[i])))
	}
	switch brief := q.sources.brief(q.at); {
	case kept.briefs != nil:
		f.From.Brief = relative(brief, to.Name)
	case brief != "":
		d.Note("%s", say.Forgotten(to.Name, "brief", inputName(brief)))
	}
	return f.TOML()
}

// inputName is how messages show what is read.
func inputName(name string) string {
	if name == "-" {
		return files.StandardInput
	}
	return say.Shown(name)
}

// Save writes a build to a target, with where it comes from.
func (q *Question) Save(d *Desk, b *constraints.Build, to *files.Target) error {
	return to.WriteData(q.file(d, b, to))
}

// relative is the name of a catalog or brief as a build file has it: relative to
// that file where a path leads from it, else from the root.
func relative(name, build string) string {
	if !isFile(name) {
		return name
	}
	path := fromRoot(name)
	build = output.Resolve(build)
	if info, err := os.Stat(build); err != nil || info.Mode().IsRegular() {
		if rel, err := filepath.Rel(filepath.Dir(fromRoot(build)), path); err == nil {
			if path = rel; !isFile(path) {
				return "./" + path
			}
		}
	}
	return filepath.ToSlash(path)
}

// fromRoot is a name from the root, with the links in its folder followed.
func fromRoot(name string) string {
	path, err := filepath.Abs(name)
	if err != nil {
		return name
	}
	dir, base := filepath.Split(path)
	if real, err := filepath.EvalSymlinks(dir); err == nil {
		return filepath.Join(real, base)
	}
	return path
}
