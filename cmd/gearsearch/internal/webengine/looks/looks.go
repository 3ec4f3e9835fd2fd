// Package looks answers those questions of the static page that take drawings:
//
//	drawing  what, brief, strict, units, build, width: one kind of drawing of a
//	         build, laid out for a place of so many CSS pixels
//	report   made, brief, strict, units, top, every: the shortlist as a page to look at
//	         and to print, a file to keep
//
// It is a package of its own because an engine with what lays out drawings, fonts
// and all, is about three times as large as one without; a page fetches it once
// it is wanted.
package looks

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/report"
	"gearsearch/cmd/gearsearch/internal/webengine"
	"gearsearch/search"
)

// Questions are the questions of this package.
func Questions() []webengine.Question {
	return []webengine.Question{
		{Ask: "drawing", Answer: func(a *webengine.Asked) (any, error) { return draw(a) }},
		{Ask: "report", Answer: func(a *webengine.Asked) (any, error) { return shortlist(a) }},
	}
}

// drawing is a drawing of a build, or why there is none.
type drawing struct {
	Title   string   `json:"title,omitempty"`
	Summary string   `json:"summary,omitempty"` // for who does not see it
	Width   float64  `json:"width,omitempty"`   // as laid out, CSS pixels
	SVG     *element `json:"svg,omitempty"`
	Missing string   `json:"missing,omitempty"`
}

// draw makes a drawing. What a build says too little for is no mistake of the
// question, and said in the answer.
func draw(a *webengine.Asked) (*drawing, error) {
	kind, ok := plot.KindNamed(a.What)
	if !ok {
		return nil, fmt.Errorf("there is no drawing %s", field.Quote(a.What))
	}
	s, err := a.Build()
	if err != nil {
		return nil, err
	}
	f, err := kind.Draw(plot.Subject{Build: s.Build, System: a.System}, a.Strict)
	if err != nil {
		return &drawing{Missing: err.Error()}, nil
	}
	if a.Width > 0 {
		f = f.Within(a.Width)
	}
	tree, err := elements(f.Inline())
	if err != nil {
		return nil, err
	}
	width, _ := f.Size()
	return &drawing{Title: f.Title, Summary: f.Summary, Width: width, SVG: tree}, nil
}

// saved is a file to keep.
type saved struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// origin is how a page that is made in a browser came to be.
const origin = "in a browser; with the brief that its page saves as brief.toml, this command makes it again"

// shortlist makes the page of the report command.
func shortlist(a *webengine.Asked) (*saved, error) {
	if _, err := time.Parse(time.DateOnly, a.Made); err != nil {
		return nil, fmt.Errorf("%s is no date", field.Quote(a.Made))
	}
	p, err := a.Problem()
	if err != nil {
		return nil, err
	}
	o := search.Options{Top: a.Top, Workers: 1, Strict: a.Strict, Apart: a.Apart}
	found, err := search.Rank(a.Context(), p, o)
	if err != nil {
		return nil, err
	}
	in := report.Input{Input: leaf.Input{Result: found, Strict: a.Strict, System: a.System, Made: a.Made, Command: command(a), Origin: origin}}
	in.Wishes = search.WithoutEach(a.Context(), p, o)
	if found.Feasible == 0 {
		in.Near, _ = search.Nearest(a.Context(), p, o)
	} else if in.Field, err = among(a.Context(), found, o, a.System); err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = report.Write(&out, report.New(in))
	return &saved{"shortlist.html", out.String()}, err
}

// mostPoints is up to how many feasible builds all of them are looked at once
// more, to draw them: some ten seconds in a browser.
const mostPoints = 200_000

// among is every feasible build as a point. It is nil where there are too many.
func among(ctx context.Context, found *search.Result, o search.Options, system quantity.System) (*leaf.Field, error) {
	if found.Feasible > mostPoints {
		return nil, nil
	}
	x, y := leaf.FieldFigures(found.Problem)
	f := leaf.NewField(found, x, y, system)
	_, err := search.Each(ctx, found.Problem, o, mostPoints, f.Cloud.Add)
	return f, err
}

// command is what makes the same page in a terminal, from the brief and the
// parts as the page saves them.
func command(a *webengine.Asked) string {
	words := []string{"gearsearch report --brief brief.toml"}
	for _, name := range a.Parts {
		words = append(words, "--catalog "+quoted(name))
	}
	if a.Strict {
		words = append(words, "--strict")
	}
	if a.Apart.None() {
		words = append(words, "--apart none")
	}
	if a.System == quantity.Imperial {
		words = append(words, "--units imperial")
	}
	words = append(words, fmt.Sprintf("--top %d --date %s -o shortlist.html", a.Top, a.Made))
	return strings.Join(words, " ")
}

// quoted is a file's name as a shell reads it.
func quoted(name string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune("._-", r)
	}
	if name != "" && strings.IndexFunc(name, func(r rune) bool { return !plain(r) }) < 0 && name[0] != '-' {
		return name
	}
	return "'./" + strings.ReplaceAll(name, "'", `'\''`) + "'"
}
