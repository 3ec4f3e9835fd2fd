package webengine

import (
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// sheet is all about one build.
type sheet struct {
	Build       build       `json:"build"`
	Groups      []group     `json:"groups"`
	Scores      []points    `json:"scores"`
	Assumptions []string    `json:"assumptions"`
	Meanings    []checkInfo `json:"meanings"` // of the checks
	Around      *around     `json:"around"`
}

// group is figures under one title.
type group struct {
	Title   string      `json:"title"`
	Figures []explained `json:"figures"`
}

// explained is a figure with where it comes from.
type explained struct {
	figure
	Meaning string `json:"meaning"`
	Formula string `json:"formula"`
	Numbers string `json:"numbers"` // the formula with the build's numbers; what is missing where it cannot be computed
	Source  string `json:"source"`
}

// points is what one criterion gives.
type points struct {
	criterion
	Score  string `json:"score"` // 0 to 1
	Weight string `json:"weight"`
}

// buildName is the name of a build file in messages.
const buildName = "build.toml"

// sheet tells all about the request's build.
func (e *Engine) sheet(r *request) (*sheet, error) {
	s, err := e.find(r)
	if err != nil {
		return nil, err
	}
	b := s.Build
	out := &sheet{Build: newBuild(s, r.system), Assumptions: some(say.Assumptions(b.Assumptions())), Around: newAround(b, r.system)}
	for _, f := range constraints.Figures() {
		if n := len(out.Groups); n == 0 || out.Groups[n-1].Title != f.Group {
			out.Groups = append(out.Groups, group{Title: f.Group})
		}
		last := &out.Groups[len(out.Groups)-1]
		last.Figures = append(last.Figures, explained{
			newFigure(f, b, r.system), f.Of(b).Meaning, f.Formula, say.Put(f, b), f.Source,
		})
	}
	for _, c := range s.Scores {
		out.Scores = append(out.Scores, points{
			criterion{c.Name, c.Meaning, c.Formula}, layout.Fixed(c.Score, 2), say.Short(c.Weight),
		})
	}
	for _, x := range b.Results() {
		out.Meanings = append(out.Meanings, checkInfo{x.Name, x.Check.Subject, x.Meaning})
	}
	return out, nil
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
