package webengine

import (
	"encoding/json"
	"math"
	"sync"
	"time"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// progress is how far a search is.
type progress struct {
	Part float64  `json:"part"`           // done, 0 to 1
	Text string   `json:"text"`           // that, of how many combinations
	Best *ranking `json:"best,omitempty"` // of a ranking: the best so far
}

// tellEvery is how often a search tells how far it is.
const tellEvery = 250 * time.Millisecond

// telling tells of a search as JSON, not too often; nil for nobody to tell.
func telling(tell func([]byte)) func(*progress) {
	if tell == nil {
		return nil
	}
	var mu sync.Mutex
	last := time.Now()
	return func(p *progress) {
		mu.Lock()
		defer mu.Unlock()
		if time.Since(last) < tellEvery {
			return
		}
		text, err := json.Marshal(p)
		if err != nil {
			return // of what is told nothing cannot be written
		}
		tell(text)
		last = time.Now()
	}
}

// progress is what a search of the problem calls with the combinations done; nil
// where nobody listens.
func (r *request) progress(p *constraints.Problem) func(done, total float64) {
	if r.tell == nil {
		return nil
	}
	return func(done, total float64) { r.tell(newProgress(done, total, p)) }
}

func newProgress(done, total float64, p *constraints.Problem) *progress {
	const whole = 100 // percent
	part := 0.0
	if total > 0 {
		part = math.Min(1, done/total)
	}
	return &progress{Part: part, Text: layout.Fixed(math.Floor(whole*part), 0) + " % of " + say.Combinations(p)}
}
