package webengine

import (
	"context"

	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Question is a question beyond those of this package, for an engine that
// carries what they take.
type Question struct {
	Ask    string
	Answer func(*Asked) (any, error) // the answer is written as JSON
}

// Asked is a request with a Question.
type Asked struct {
	What   string  // kind of drawing, or of file
	Made   string  // the date, YYYY-MM-DD
	Width  float64 // of the place for a drawing, CSS pixels; 0: any
	Strict bool
	Apart  search.Apart
	Top    int // builds, 1 to 200
	System quantity.System
	Parts  []string // names of the catalog's files, none for the demo parts alone

	engine  *Engine
	request *request
}

func (e *Engine) asked(r *request) *Asked {
	e.mu.Lock()
	defer e.mu.Unlock()
	return &Asked{
		What: r.What, Made: r.Made, Width: r.Width, Strict: r.Strict, Apart: r.apart(), Top: r.top(), System: r.system, Parts: e.files,
		engine: e, request: r,
	}
}

// Build finds the request's build and scores it, as for its sheet.
func (a *Asked) Build() (search.Scored, error) { return a.engine.find(a.request) }

// Problem puts the request's brief to the catalog; a brief that asks for
// nothing is an error.
func (a *Asked) Problem() (*constraints.Problem, error) { return a.engine.question(a.request) }

// Context is for a search that no newer question ends, and that lets other work
// go on.
func (a *Asked) Context() context.Context { return a.engine.paused(context.Background()) }

// apart is what tells the builds apart that are listed: nothing where every build is
// asked for.
func (r *request) apart() search.Apart {
	if r.Every {
		return search.Apart{}
	}
	return search.ApartByMotor()
}

// top is how many builds are asked for.
func (r *request) top() int {
	if r.Top <= 0 {
		return defaultTop
	}
	return min(r.Top, mostTop)
}
