package webengine

import (
	"errors"

	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/constraints"
	"gearsearch/search"
)

// mostLooked is how many feasible builds are looked at for the field: more take
// seconds in a browser, and are sampled.
const mostLooked = 20_000

// among is where the builds of the list stand among all that are feasible.
type among struct {
	Field   *leaf.Node `json:"field,omitempty"`
	Missing string     `json:"missing,omitempty"` // why there is none
	Axes    []titled   `json:"axes"`              // figures that may be asked for
	X       string     `json:"x"`                 // those that are shown
	Y       string     `json:"y"`
}

// field draws the feasible builds in the plane of two figures.
func (e *Engine) field(r *request) (*among, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	x, y := leaf.FieldFigures(p)
	if own, _ := r.axes(); own.Name != "" {
		x = own
	}
	if _, own := r.axes(); own.Name != "" {
		y = own
	}
	out := &among{Axes: axesOf(p), X: x.Name, Y: y.Name}
	o := search.Options{Top: r.top(), Workers: 1, Strict: r.Strict, Apart: r.apart()}
	o.Progress = r.progress(p)
	listed, err := search.RankOnly(ctx, p, o)
	if err != nil {
		return nil, err
	}
	f := leaf.NewField(listed, x, y, r.system)
	points, all, err := search.Sample(ctx, p, o, mostLooked, f.Cloud.Of)
	var many *search.TooManyError
	switch {
	case errors.As(err, &many):
		out.Missing = err.Error()
		return out, nil
	case err != nil:
		return nil, err
	case !all.Complete || !listed.Complete:
		return nil, errCancelled
	}
	for _, point := range points {
		f.Cloud.Put(point)
	}
	f.All = all.Feasible
	if out.Field = f.Node(); out.Field == nil {
		out.Missing = "no feasible build has both figures"
	}
	return out, nil
}

// axesOf are the figures that may be asked for on axes.
func axesOf(p *constraints.Problem) (out []titled) {
	for _, f := range leaf.Axes(p) {
		out = append(out, titled{f.Name, f.Label})
	}
	return out
}

// axes are the figures that the request asks for on axes, zero where it asks for none
// of which more or less is better.
func (r *request) axes() (x, y constraints.Figure) {
	figure := func(name string) constraints.Figure {
		if f, ok := constraints.FigureNamed(name); ok && f.Better != constraints.Neither {
			return f
		}
		return constraints.Figure{}
	}
	return figure(r.X), figure(r.Y)
}
