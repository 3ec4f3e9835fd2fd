package webengine

import (
	"bytes"
	"context"
	"fmt"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/constraints/outfit"
	"gearsearch/search"
)

// saved is a file to keep.
type saved struct {
	Name string `json:"name"`
	Text string `json:"text"`
}

// demoName is the name of the demo parts as a file.
const demoName = "demo-parts.toml"

// save makes a file: "ranking" and "table" of the best builds as JSON and CSV,
// "sheet" of one build as JSON, a "build" with its parts and its brief, the "brief", the
// "demo" parts, or the reader's "own" parts, those of a kind as an "own-table", in the
// forms that the program reads and writes. A search for a file is not ended by newer
// questions.
func (e *Engine) save(r *request) (*saved, error) {
	switch r.What {
	case "ranking", "table":
		return e.saveRanking(r)
	case "sheet":
		s, err := e.find(r)
		if err != nil {
			return nil, err
		}
		var out bytes.Buffer
		err = dataout.WriteSheet(&out, s, true)
		return &saved{"build.json", out.String()}, err
	case "build":
		s, err := e.find(r)
		if err != nil {
			return nil, err
		}
		return &saved{"build-with-parts.toml", string(outfit.Carrying(s.Build))}, nil
	case "brief":
		b, err := r.brief()
		if err != nil {
			return nil, err
		}
		return &saved{"brief.toml", briefTOML(b)}, nil
	case "demo":
		var out bytes.Buffer
		for _, src := range catalog.DemoSources() {
			out.Write(src.Data)
		}
		return &saved{demoName, out.String()}, nil
	case "own", "own-table":
		return saveOwn(r)
	}
	return nil, fmt.Errorf("there is nothing to save as %s", field.Quote(r.What))
}

func (e *Engine) saveRanking(r *request) (*saved, error) {
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	ctx, o := e.paused(context.Background()), search.Options{Top: r.top(), Workers: 1, Strict: r.Strict, Apart: r.apart()}
	found, err := search.Rank(ctx, p, o)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if r.What == "table" {
		err = dataout.WriteCSV(&out, found)
		return &saved{"builds.csv", out.String()}, err
	}
	measures, _ := search.ToMeasure(ctx, found, 0, o)
	err = dataout.WriteRank(&out, found, measures)
	return &saved{"builds.json", out.String()}, err
}
