package webengine

import (
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/search"
)

// alike is the builds of one design, but for the one that stands for them.
type alike struct {
	Table  *leaf.Node `json:"table"`
	Builds []build    `json:"builds"`
	Count  string     `json:"count"` // of all of them
	More   bool       `json:"more"`  // more can be listed
}

// alike lists the builds that are like the request's, which is of a ranking.
func (e *Engine) alike(r *request) (*alike, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	file, err := constraints.ReadBuild(field.Source{Name: buildName, Data: []byte(r.Build)})
	if err != nil {
		return nil, err
	}
	b, err := p.Find(file)
	if err != nil {
		return nil, err
	}
	found, err := search.Alike(ctx, b, search.ApartByMotor(), search.Options{Top: r.top() + 1, Workers: 1, Strict: r.Strict})
	if err != nil {
		return nil, err
	}
	if !found.Complete {
		return nil, errCancelled
	}
	out := &alike{Table: leaf.Alike(found, b, r.system), Count: layout.Count(found.Feasible - 1)}
	for s := range found.Builds() {
		if s.Rank > 1 {
			out.Builds = append(out.Builds, newBuild(s))
		}
	}
	out.More = r.top() < mostTop && uint64(len(out.Builds)) < found.Feasible-1
	return out, nil
}
