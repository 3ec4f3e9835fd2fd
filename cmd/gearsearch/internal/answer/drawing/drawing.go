// Package drawing answers with a drawing of a build.
package drawing

import (
	"context"
	"errors"
	"io"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Kind is one kind of drawing.
type Kind struct {
	Name, Meaning string
	draw          func(s plot.Subject, q *ask.Question) (*plot.Figure, error) // nil: the front, which is drawn of all builds
}

// Kinds are all kinds of drawings, in the order of help.
func Kinds() []Kind {
	alone := func(draw func(plot.Subject) (*plot.Figure, error)) func(plot.Subject, *ask.Question) (*plot.Figure, error) {
		return func(s plot.Subject, _ *ask.Question) (*plot.Figure, error) { return draw(s) }
	}
	return []Kind{
		{"thrust", "thrust against speed at full, nominal and low charge, the load of the flat and of the target grade, and what holds the thrust where", alone(plot.Thrust)},
		{"climb", "the steepest grade against speed", alone(plot.Climb)},
		{"launch", "speed against time from standstill", alone(plot.Launch)},
		{"cruise", "energy per distance and range against cruise speed", alone(plot.Cruise)},
		{"sensitivity", "what 5 % less or more of each input does to the top speed and to the margin on the climb", alone(plot.Sensitivity)},
		{"teeth", "the reduction by the teeth of both pulleys, and which of them are feasible", func(s plot.Subject, q *ask.Question) (*plot.Figure, error) { return plot.Teeth(s, q.Strict) }},
		{"front", "all feasible builds in the plane of two figures, those that no other beats in both, and this build among them", nil},
	}
}

// KindNames are their names.
func KindNames() []string {
	var names []string
	for _, k := range Kinds() {
		names = append(names, k.Name)
	}
	return names
}

// Answer is a drawing of a build.
type Answer struct {
	Question   *ask.Question
	Build      *constraints.Build
	File       string // of the build
	Kind       Kind
	Across, Up constraints.Figure // of the front
}

// Give draws the build and writes the drawing.
func (x *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	s := plot.Subject{Build: x.Build, System: a.System}
	var f *plot.Figure
	var err error
	if x.Kind.draw != nil {
		f, err = x.Kind.draw(s, x.Question)
	} else {
		f, err = x.front(ctx, d, s)
	}
	var tooMany *search.TooManyError
	switch {
	case errors.Is(err, outcome.ErrInfeasible), errors.Is(err, outcome.ErrInterrupted), errors.As(err, &tooMany):
		return err
	case err != nil:
		return field.Problems{{Message: x.Kind.Name + " cannot be drawn: " + err.Error(), Hint: "gearsearch sheet " + say.Shown(x.File) + " shows what is known of the build"}}
	}
	return a.Write(func(w io.Writer) error {
		if a.Format == ask.FormatPNG {
			return f.WritePNG(w)
		}
		return f.WriteSVG(w)
	})
}

// front draws every feasible build as a point, and the build among them.
func (x *Answer) front(ctx context.Context, d *ask.Desk, s plot.Subject) (*plot.Figure, error) {
	problem, err := x.Question.Space()
	if err != nil {
		return nil, err
	}
	bar := d.Bar()
	defer bar.Stop()
	cloud := plot.NewCloud(x.Across, x.Up)
	r, err := search.Each(ctx, problem, search.Options{Strict: x.Question.Strict, Progress: bar.Progress()}, plot.MostPoints, cloud.Add)
	bar.Stop()
	switch {
	case err != nil:
		return nil, err
	case !r.Complete:
		d.Note("interrupted: a drawing cannot say that it is incomplete, and is not written")
		return nil, outcome.ErrInterrupted
	case r.Feasible == 0:
		d.Note("nothing is feasible: there is no build to draw")
		return nil, outcome.ErrInfeasible
	}
	return cloud.Plane(s.Name(), problem.Catalog.Currency, s.System, plot.Named{Label: "this build", Build: s.Build})
}
