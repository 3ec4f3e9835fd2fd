package ask

import (
	"context"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/outfit"
)

// carrying is the build file of a build that carries its parts and its brief, which goes
// to a target.
func (d *Desk) carrying(b *constraints.Build, to *files.Target) []byte {
	if b.Problem.Brief.Way != nil {
		d.Note("%s", say.WayLeft(to.Name))
	}
	return outfit.Carrying(b)
}

// catalogBeside loads the catalog of a question. Where flags name one beside a build file
// that carries its parts, those that it does not have are added, and it counts where
// they differ.
func (d *Desk) catalogBeside(ctx context.Context, s *Sources) (*catalog.Catalog, error) {
	own, err := d.Catalog(ctx, s.Catalog)
	if err != nil || s.build.carried == "" || s.catalogBy != byFlag {
		return own, err
	}
	carried, err := d.Catalog(ctx, []string{s.build.carried})
	if err != nil {
		return nil, err
	}
	var missing, other []string
	for _, x := range catalog.Differences(carried, own) {
		switch {
		case !x.InSecond():
			missing = append(missing, x.ID)
		case x.InFirst():
			other = append(other, x.ID)
		}
	}
	if other != nil {
		d.Note("%s", say.CarriedOther(s.build.carried, other))
	}
	if missing == nil {
		return own, nil
	}
	sources := catalog.DemoSources()
	if !s.DemoParts() {
		if sources, err = d.Files.Sources(ctx, s.Catalog); err != nil {
			return nil, err
		}
	}
	var lacking []string
	for id := range carried.Referred(missing...) {
		if _, _, has := own.Find(id); !has {
			lacking = append(lacking, id)
		}
	}
	return catalog.Read(append(sources, carried.Only(s.build.carried, lacking))...)
}
