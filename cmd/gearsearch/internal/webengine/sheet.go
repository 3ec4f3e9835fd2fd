package webengine

import (
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/search"
)

// sheet is all about one build.
type sheet struct {
	Sheet *leaf.Node `json:"sheet"`
	File  string     `json:"file"` // the build file
}

// buildName is the name of a build file in messages.
const buildName = "build.toml"

// sheet tells all about the request's build.
func (e *Engine) sheet(r *request) (*sheet, error) {
	s, err := e.find(r)
	if err != nil {
		return nil, err
	}
	return &sheet{leaf.CardOf(s, r.Title, r.system).Sheet(leaf.Live), string(s.Build.File().TOML())}, nil
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
