package ask

import (
	"context"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// Catalog loads the catalog, the demo one for its name.
func (d *Desk) Catalog(ctx context.Context, paths []string) (*catalog.Catalog, error) {
	if err := demoAlone(paths); err != nil {
		return nil, err
	}
	if isDemo(paths) {
		return catalog.Demo()
	}
	return d.Files.Load(ctx, paths)
}

// CatalogNamed is the catalog of a command that asks no question: the one that
// is named, else the working folder's, else the demo's.
func (d *Desk) CatalogNamed(ctx context.Context, paths []string) (*Sources, *catalog.Catalog, error) {
	s, err := sources(flagSupply(paths, nil), supply{}, thisFolder().partsAlone())
	if err != nil {
		return nil, nil, err
	}
	c, err := d.catalogOf(ctx, s, "demo parts, all invented: name your own with --catalog")
	return s, c, err
}

// CatalogTyped is the catalog of a command line that is being typed: with the
// paths and the build file that stand on it, "" for none. It says nothing.
func (d *Desk) CatalogTyped(ctx context.Context, paths []string, build string) (*catalog.Catalog, error) {
	var from supply
	if build != "" && build != "-" {
		if f, err := d.BuildFile(ctx, build); err == nil {
			from = buildSupply(build, f).partsAlone()
		}
	}
	s, err := sources(flagSupply(paths, nil), from, thisFolder().partsAlone())
	if err != nil {
		return nil, err
	}
	return d.Catalog(ctx, s.Catalog)
}

// catalogOf loads the catalog of sources, and says so where nobody named it.
func (d *Desk) catalogOf(ctx context.Context, s *Sources, demo string) (*catalog.Catalog, error) {
	switch {
	case !s.DemoParts() || s.briefBy == byFolder:
		d.noteSources(s)
	case s.catalogBy == byNobody:
		d.Note("%s", demo)
	}
	return d.Catalog(ctx, s.Catalog)
}

// partsAlone is a supply without its briefs.
func (s supply) partsAlone() supply {
	s.briefs, s.noBrief = nil, nil
	return s
}

// CheckedUnder is the catalog of catalog check, which paths name, and that
// catalog under the brief: the one that is named, the working folder's where no
// path says what to check, or the demo's for the demo; nil where there is none.
func (d *Desk) CheckedUnder(c *cli.Context, paths []string) (*Sources, *catalog.Catalog, *constraints.Problem, error) {
	briefs, folder := c.StringSlice("brief"), thisFolder()
	if len(briefs) > 1 {
		return nil, nil, nil, tooMany(len(briefs))
	}
	if len(paths) > 0 {
		folder = folder.partsAlone()
	}
	s, err := sources(flagSupply(paths, briefs), supply{}, folder)
	if err != nil {
		return nil, nil, nil, err
	}
	read, err := d.catalogOf(c.Context, s, "demo parts, all invented: name your own, as in gearsearch catalog check parts.toml")
	if err != nil || s.brief(0) == "" {
		return s, read, nil, err
	}
	q := &Question{Catalog: read}
	if q.Brief, err = d.brief(c.Context, s, 0); err != nil {
		return nil, nil, nil, err
	}
	if err := q.Brief.Validate(); err != nil {
		return nil, nil, nil, err
	}
	if err := d.wayOf(c.Context, s.brief(0), q.Brief); err != nil {
		return nil, nil, nil, err
	}
	problem, err := q.Aimed()
	if problems, ok := err.(field.Problems); ok && s.briefBy == byFolder { // nobody asked for it
		d.Note("%s is left out: %s", s.brief(0), problems[0].Text())
		return s, read, nil, nil
	}
	return s, read, problem, err
}
