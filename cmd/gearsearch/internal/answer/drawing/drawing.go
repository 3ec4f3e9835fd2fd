// Package drawing answers with a drawing of a build.
package drawing

import (
	"context"
	"errors"
	"io"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/cloud"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Kinds are all kinds of drawings, in the order of help: those of a build and, without
// Draw, the front, which is drawn of all builds.
func Kinds() []plot.Kind {
	return append(plot.Kinds(), plot.Kind{
		Name: "front", Meaning: "all feasible builds in the plane of two figures, those that no other beats in both, and this build among them",
	})
}

// KindNames are their names.
func KindNames() []string {
	var names []string
	for _, k := range Kinds() {
		names = append(names, k.Name)
	}
	return names
}

// Answer is a drawing of a build, or several.
type Answer struct {
	Question   *ask.Question
	Build      *constraints.Build
	File       string // of the build
	Kinds      []plot.Kind
	Across, Up constraints.Figure // of the front
	Width      float64            // most of a drawing, CSS pixels; 0: any
}

// Give draws the build and writes the drawings.
func (x *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer) error {
	if a.Format == ask.FormatCSV || a.Format == ask.FormatJSON {
		return x.giveLegs(d, a)
	}
	var drawn []*plot.Figure
	for _, k := range x.Kinds {
		f, err := x.draw(ctx, d, a, k)
		if err != nil {
			return err
		}
		drawn = append(drawn, f)
	}
	return a.Write(func(w io.Writer) error {
		switch a.Format {
		case ask.FormatPNG:
			return drawn[0].WritePNG(w)
		case ask.FormatSVG:
			return drawn[0].WriteSVG(w)
		}
		for _, f := range drawn {
			if err := f.WriteHTML(w); err != nil {
				return err
			}
		}
		return nil
	})
}

// draw is the drawing of a kind. A drawing that cannot be made is an error where it
// is the only one asked for, else a figure that says why.
func (x *Answer) draw(ctx context.Context, d *ask.Desk, a *ask.Answer, k plot.Kind) (*plot.Figure, error) {
	s := plot.Subject{Build: x.Build, System: a.System}
	var f *plot.Figure
	var err error
	if k.Draw != nil {
		f, err = k.Draw(s, x.Question.Strict)
	} else {
		f, err = x.front(ctx, d, s)
	}
	var tooMany *search.TooManyError
	switch {
	case errors.Is(err, outcome.ErrInfeasible), errors.Is(err, outcome.ErrInterrupted), errors.As(err, &tooMany):
		return nil, err
	case err != nil && len(x.Kinds) > 1:
		return plot.Undrawn("No drawing of "+k.Name, err.Error()), nil
	case err != nil:
		return nil, x.undrawn(k.Name, err)
	case x.Width > 0:
		return f.Within(x.Width), nil
	}
	return f, nil
}

// undrawn says why there is no drawing of a kind, or no data of one.
func (x *Answer) undrawn(kind string, err error) error {
	hint := "gearsearch sheet " + say.Shown(x.File) + " shows what is known of the build"
	switch {
	case errors.Is(err, plot.ErrNoHill):
		hint = "as in --climb-grade 12% --set target.climb_length_m=400"
	case errors.Is(err, plot.ErrNoRoute):
		hint = "as in --route home.gpx, or --route demo:harbour"
	}
	return field.Problems{{Message: kind + " cannot be drawn: " + err.Error(), Hint: hint}}
}

// front draws every feasible build as a point, and the build among them.
func (x *Answer) front(ctx context.Context, d *ask.Desk, s plot.Subject) (*plot.Figure, error) {
	problem, err := x.Question.Space()
	if err != nil {
		return nil, err
	}
	bar := d.Bar()
	defer bar.Stop()
	all := cloud.New(x.Across, x.Up)
	r, err := search.Each(ctx, problem, search.Options{Strict: x.Question.Strict, Progress: bar.Progress()}, plot.MostPoints, all.Add)
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
	return plot.Plane(all, s.Name(), problem.Catalog.Currency, s.System, plot.Named{Label: "this build", Build: s.Build})
}
