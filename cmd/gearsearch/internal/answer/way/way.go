// Package way answers route: what a way to ride is like.
package way

import (
	"io"
	"math"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints/route"
)

// Answer is what a way to ride is like.
type Answer struct {
	Route    *route.Route
	File     string // as it was named
	Invented bool   // it is an embedded one
	like     *route.Profile
}

// Give writes the answer: as CSV the way itself.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	s.like = s.Route.Profile()
	if a.Format == ask.FormatCSV {
		return d.WriteCSV(a, true, func(w io.Writer) error { return route.WriteCSV(w, s.Route) })
	}
	return d.Give(a, ask.Forms{Text: func() *layout.Text { return s.text(a.System) }, Document: s.document, Complete: true})
}

const kmh, percent = 3.6, 100

// document is the answer as data.
func (s *Answer) document() dataout.Document {
	x := s.like
	return dataout.Document{
		Head: dataout.Object{
			{Key: "schema", Value: 1},
			{Key: "route", Value: s.Route.Name},
			{Key: "legs", Value: len(s.Route.Legs)},
			{Key: "length_m", Value: x.Length},
			{Key: "climb_m", Value: x.Climb},
			{Key: "descent_m", Value: x.Descent},
			{Key: "start_m", Value: x.Start},
			{Key: "end_m", Value: x.End},
			{Key: "lowest", Value: spot(x.Lowest)},
			{Key: "highest", Value: spot(x.Highest)},
			{Key: "steepest_up", Value: steep(x.Up, +1)},
			{Key: "steepest_down", Value: steep(x.Down, -1)},
			{Key: "stops", Value: x.Stops},
			{Key: "slowest_kmh", Value: known(x.Slowest * kmh)},
			{Key: "fastest_kmh", Value: known(x.Fastest * kmh)},
			{Key: "cruise_m", Value: x.Free},
		},
		Lists: []dataout.List{{Key: "surfaces", Items: dataout.Objects(x.Surfaces, func(f route.Surface) dataout.Object {
			return dataout.Object{{Key: "surface", Value: dataout.TextOrNil(f.Name)}, {Key: "length_m", Value: f.Length}}
		})}},
	}
}

func spot(s route.Spot) dataout.Object {
	return dataout.Object{{Key: "at_m", Value: s.At}, {Key: "height_m", Value: s.Height}}
}

// steep is a stretch that goes up, or down where sign is -1; nil where the way never
// does.
func steep(s route.Steep, sign float64) any {
	if sign*s.Grade <= 0 {
		return nil
	}
	return dataout.Object{{Key: "from_m", Value: s.From}, {Key: "length_m", Value: s.Length}, {Key: "grade_pct", Value: s.Grade * percent}}
}

// known is a number, nil for NaN.
func known(x float64) any {
	if math.IsNaN(x) {
		return nil
	}
	return x
}
