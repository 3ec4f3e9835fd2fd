package ask

import (
	"path/filepath"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Sources are where the catalog and the briefs of a question come from. For each of
// the two it is the flags, else the build file, else the working folder, else the
// demo; only resolve decides it.
type Sources struct {
	Catalog []string // as --catalog names it; DemoCatalog alone is the demo
	Briefs  []string // as --brief names them; none: nothing is asked for

	catalogBy, briefBy supplier
	build              supply // the zero supply where no build file is given
	folder             supply
}

// supplier is who names a catalog or a brief.
type supplier int

const (
	byNobody supplier = iota // they are the demo's
	byFlag
	byBuild
	byFolder
)

// supply is what one supplier names.
type supply struct {
	by                 supplier
	file               string   // of the build
	carried            string   // the build file that carries its parts; "": none does
	catalog            []string // as --catalog names it; nil: none
	briefs             []string // as --brief names them; nil: none
	noCatalog, noBrief error    // why what is named cannot be read
}

// The embedded catalog, the embedded brief that goes with it, and how embedded
// briefs are named. A file of such a name is named with its folder: ./demo.
const (
	DemoCatalog = "demo"
	demoBrief   = "harbour"
	DemoPrefix  = "demo:"
)

// flagSupply is what flags name: paths of a catalog and briefs.
func flagSupply(paths, briefs []string) supply {
	s := supply{by: byFlag, catalog: paths}
	for _, name := range briefs {
		if name == DemoCatalog { // which is no embedded brief
			name = asFile(name)
		}
		s.briefs = append(s.briefs, name)
	}
	return s
}

// sources decides where a question comes from.
func sources(flags, build, folder supply) (*Sources, error) {
	s, err := resolve(flags, build, folder)
	s.build, s.folder = build, folder
	if err == nil {
		err = demoAlone(s.Catalog)
	}
	return s, err
}

// resolve takes the catalog from the first that names one, and so the briefs.
func resolve(supplies ...supply) (*Sources, error) {
	s := &Sources{}
	var problems field.Problems
	for _, l := range supplies {
		if s.Catalog == nil && (l.catalog != nil || l.noCatalog != nil) {
			if err := gather(&problems, l.noCatalog); err != nil {
				return s, err
			}
			s.Catalog, s.catalogBy = l.catalog, l.by
		}
		if s.Briefs == nil && (l.briefs != nil || l.noBrief != nil) {
			if err := gather(&problems, l.noBrief); err != nil {
				return s, err
			}
			s.Briefs, s.briefBy = l.briefs, l.by
		}
	}
	if len(problems) > 0 {
		return s, problems
	}
	if s.Catalog == nil {
		s.Catalog = []string{DemoCatalog}
	}
	if s.Briefs == nil && isDemo(s.Catalog) {
		s.Briefs = []string{DemoPrefix + demoBrief}
	}
	return s, nil
}

// gather keeps problems with a file, to be said together, and returns any other
// error.
func gather(problems *field.Problems, err error) error {
	more, ok := err.(field.Problems)
	if !ok {
		return err
	}
	*problems = append(*problems, more...)
	return nil
}

// isDemo reports whether paths stand for the demo catalog.
func isDemo(paths []string) bool { return len(paths) == 1 && paths[0] == DemoCatalog }

// demoAlone is an error where the demo catalog is named beside other files.
func demoAlone(paths []string) error {
	if len(paths) > 1 && slices.Contains(paths, DemoCatalog) {
		return outcome.Usage("a file or folder of that name is ."+string(filepath.Separator)+DemoCatalog, "%s is the embedded demo catalog, which goes with no other", DemoCatalog)
	}
	return nil
}

// brief is the brief at a place, "" for one that asks for nothing.
func (s *Sources) brief(i int) string {
	if i < len(s.Briefs) {
		return s.Briefs[i]
	}
	return ""
}

// DemoParts reports whether the parts are the demo's.
func (s *Sources) DemoParts() bool { return isDemo(s.Catalog) }

// CatalogWords are the paths of the catalog as a command takes them that has the
// working folder's without any.
func (s *Sources) CatalogWords() string {
	if sameNames(s.Catalog, s.folder.catalog) {
		return ""
	}
	text := ""
	for _, path := range s.Catalog {
		text += " " + say.Typed(path)
	}
	return text
}

// words are the flags that name the catalog and the brief at a place, without what
// others there name already.
func (s *Sources) words(i int, others ...supply) []string {
	var flags supply
	var out []string
	if without, err := resolve(others...); err != nil || !sameNames(without.Catalog, s.Catalog) {
		flags.catalog = s.Catalog
		for _, path := range s.Catalog {
			out = append(out, "--catalog", say.Typed(path))
		}
	}
	brief := s.brief(i)
	without, err := resolve(append([]supply{flags}, others...)...)
	if brief != "" && (err != nil || !sameNames(without.Briefs, []string{brief})) {
		out = append(out, "--brief", say.Typed(brief))
	}
	return out
}

// sameNames reports whether two lists name the same files, as far as the names
// say.
func sameNames(a, b []string) bool {
	return slices.EqualFunc(a, b, func(x, y string) bool {
		return x == y || isFile(x) && isFile(y) && filepath.Clean(x) == filepath.Clean(y)
	})
}

// isFile reports whether the name of a catalog or brief is that of a file.
func isFile(name string) bool {
	return name != DemoCatalog && name != "-" && !strings.HasPrefix(name, DemoPrefix)
}

// asFile is the name of a file so that it is taken for nothing else.
func asFile(name string) string {
	if isFile(name) {
		return name
	}
	return "." + string(filepath.Separator) + name
}

// noteSources says which files are read that no flag names, or that parts or
// brief are the demo's though no flag names them.
func (d *Desk) noteSources(s *Sources) {
	var found say.Found
	add := func(by supplier, names []string) {
		names = slices.DeleteFunc(slices.Clone(names), func(name string) bool { return !isFile(name) || by == byBuild && name == s.build.carried })
		switch by {
		case byFolder:
			found.Here = append(found.Here, names...)
		case byBuild:
			found.Named = append(found.Named, names...)
		}
	}
	add(s.catalogBy, s.Catalog)
	add(s.briefBy, s.Briefs)
	if s.build.carried != "" && (s.catalogBy == byBuild || s.briefBy == byBuild) {
		d.Note("%s", say.Carries(s.build.carried, s.catalogBy == byBuild, s.briefBy == byBuild))
	}
	found.By, found.Demo = s.build.file, s.DemoParts() && s.catalogBy != byFlag
	if text := found.Words(); text != "" {
		d.Note("%s", text)
		return
	}
	brief := strings.HasPrefix(s.brief(0), DemoPrefix)
	switch {
	case !s.DemoParts():
	case s.catalogBy == byFlag && s.briefBy == byNobody:
		d.Note("the brief is %s, the demo's: name your own with --brief", s.Briefs[0])
	case s.catalogBy == byFlag:
	case s.briefBy == byFlag:
		d.Note("demo parts: name your own with --catalog")
	case brief:
		d.Note("demo parts and brief: name your own with --catalog and --brief")
	}
}
