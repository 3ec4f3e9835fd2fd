package site

import (
	_ "embed"
	"fmt"
	"strings"

	"gearsearch/cmd/gearsearch/internal/webengine"
)

// FirstQuestions are what a page that was never opened before asks its engine until the
// demo's builds are ranked and counted, one a line, as it sends them. Their answers are
// in the page: a phone needs seconds until its engine runs.
//
//go:embed first.jsonl
var FirstQuestions string

// Foreknown are the engine's replies to the first questions, by question.
func Foreknown() (map[string]string, error) {
	engine, err := webengine.New(nil)
	if err != nil {
		return nil, err
	}
	known := map[string]string{}
	for question := range strings.Lines(FirstQuestions) {
		question = strings.TrimSuffix(question, "\n")
		reply := string(engine.Answer([]byte(question), nil))
		if !strings.HasPrefix(reply, `{"answer":`) {
			return nil, fmt.Errorf("the page's first question %s has no answer: %s", question, reply)
		}
		known[question] = reply
	}
	return known, nil
}
