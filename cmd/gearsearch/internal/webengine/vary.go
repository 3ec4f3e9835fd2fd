package webengine

import (
	"context"
	"math"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/search"
)

// How often parts and rider are drawn, and from which source: as the program
// does it unless told otherwise.
const (
	draws = 2000
	seed  = 1
)

// varied is what becomes of a build when parts and rider stray from what the
// catalog and the brief say.
type varied struct {
	Draws   int      `json:"draws"`
	Share   string   `json:"share"` // of the draws in which nothing turns it down, percent
	Checks  []shared `json:"checks"`
	Figures []spread `json:"figures"`
}

// shared is in how many draws a check passes.
type shared struct {
	Subject string `json:"subject"`
	Share   string `json:"share"`
	Always  bool   `json:"always"`
}

// spread is the middle nine tenths of a figure.
type spread struct {
	Label  string `json:"label"`
	Low    string `json:"low"`
	Middle string `json:"middle"`
	High   string `json:"high"`
	Unit   string `json:"unit,omitempty"`
}

// vary draws specimens of the request's build within the brief's tolerances.
func (e *Engine) vary(r *request) (*varied, error) {
	s, err := e.find(r)
	if err != nil {
		return nil, err
	}
	x := search.Robust(context.Background(), s.Build, draws, seed, r.Strict)
	out := &varied{Draws: x.Draws, Share: percent(x.Share), Checks: []shared{}, Figures: []spread{}}
	for _, c := range x.Checks {
		out.Checks = append(out.Checks, shared{c.Check.Subject, percent(c.Share), c.Share == 1})
	}
	for _, f := range x.Figures {
		if math.IsNaN(f.Middle) || f.Low == f.High {
			continue
		}
		_, unit := r.system.Value(0, f.Unit)
		text := func(v float64) string {
			shown, _ := r.system.Value(v, f.Unit)
			return layout.Fixed(shown, quantity.Decimals(unit))
		}
		out.Figures = append(out.Figures, spread{f.Label, text(f.Low), text(f.Middle), text(f.High), unit})
	}
	return out, nil
}

// percent is a share in percent; what is not all is never rounded to all, nor
// what is something to nothing.
func percent(share float64) string {
	x := 100 * share
	switch {
	case x > 0 && x < 1:
		return "below 1 %"
	case x > 99 && x < 100:
		return "above 99 %"
	}
	return layout.Fixed(x, 0) + " %"
}
