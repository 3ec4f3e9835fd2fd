package webengine

import (
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// sheet is all about one build.
type sheet struct {
	Sheet *leaf.Node `json:"sheet"`
	File  string     `json:"file"`  // the build file
	Slots []titled   `json:"slots"` // that it has a part in, as they are called in its drive
}

// newSheet is the sheet of a build under a title.
func newSheet(s search.Scored, title string, system quantity.System) *sheet {
	out := &sheet{Sheet: leaf.CardOf(s, title, system).Sheet(leaf.Live), File: string(s.Build.File().TOML())}
	for _, l := range s.Build.Lines() {
		out.Slots = append(out.Slots, titled{l.Slot.String(), leaf.SlotName(l.Slot.Called(s.Build.Drive.Chained()))})
	}
	return out
}

// buildName is the name of a build file in messages.
const buildName = "build.toml"

// sheet tells all about the request's build.
func (e *Engine) sheet(r *request) (*sheet, error) {
	s, err := e.find(r)
	if err != nil {
		return nil, err
	}
	return newSheet(s, r.Title, r.system), nil
}

// curves are those of several builds.
type curves struct {
	Charts []leaf.Chart `json:"charts"`
}

// curves computes those of the request's builds.
func (e *Engine) curves(r *request) (*curves, error) {
	var list []*constraints.Build
	for _, text := range r.Builds {
		one := *r
		one.Build = text
		s, err := e.find(&one)
		if err != nil {
			return nil, err
		}
		list = append(list, s.Build)
	}
	return &curves{append(leaf.Charts(list, r.system), leaf.Rides(list, r.system)...)}, nil
}

// find makes the request's build under its brief, whether keep and avoid leave
// its parts or not.
func (e *Engine) find(r *request) (search.Scored, error) {
	file, err := constraints.ReadBuild(field.Source{Name: buildName, Data: []byte(r.Build)})
	if err != nil {
		return search.Scored{}, err
	}
	brief, err := r.brief()
	if err != nil {
		return search.Scored{}, err
	}
	p, err := constraints.NewBuildProblem(e.parts(), file.With(brief))
	if err != nil {
		return search.Scored{}, about(err)
	}
	b, err := p.Find(file)
	if err != nil {
		return search.Scored{}, err
	}
	return search.ScoreBuild(b), nil
}
