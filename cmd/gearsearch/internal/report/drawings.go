package report

import (
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
)

// artist makes the drawings of a page.
type artist struct {
	system quantity.System
	strict bool
}

// placeWidth is the width that drawings are laid out for, CSS pixels: between
// that of a phone and that of half a sheet of paper, so that their texts can be
// read on both.
const placeWidth = 360

// drawing takes a figure into the page.
func drawing(f *plot.Figure, wide bool) *leaf.Drawing {
	f = f.Within(placeWidth)
	width, _ := f.Size()
	return &leaf.Drawing{Title: f.Title, Summary: f.Summary, SVG: leaf.SVG(f.Inline()), Wide: wide, Scrolls: width > placeWidth}
}

// draw adds what can be drawn of a build.
func (a *artist) draw(c *leaf.Card, b *constraints.Build) {
	s := plot.Subject{Build: b, System: a.system}
	add := func(to *[]leaf.Drawing, wide bool, draw func(plot.Subject) (*plot.Figure, error)) {
		if f, err := draw(s); err == nil { // what cannot be drawn is said by its figures
			*to = append(*to, *drawing(f, wide))
		}
	}
	add(&c.Drawings, false, plot.Thrust)
	add(&c.Drawings, false, plot.Cruise)
	add(&c.Drawings, false, plot.Route)
	add(&c.More, false, plot.Stop)
	add(&c.More, false, plot.Stops)
	add(&c.More, false, plot.Climb)
	add(&c.More, false, plot.Heat)
	add(&c.More, false, plot.Launch)
	add(&c.More, false, plot.Sensitivity)
	add(&c.More, true, plot.Layout)
	add(&c.More, true, func(s plot.Subject) (*plot.Figure, error) { return plot.Teeth(s, a.strict) })
}
