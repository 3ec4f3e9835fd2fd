package webengine

import (
	"errors"

	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/leaf"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints/ease"
	"gearsearch/search"
)

// wishes is what each target and limit costs.
type wishes struct {
	Wishes []wish `json:"wishes"` // in the order of the brief
}

// wish is a target or limit of the brief with what it costs.
type wish struct {
	Key     string `json:"key"`
	Name    string `json:"name"`
	Asked   string `json:"asked"`   // with its unit
	Without int64  `json:"without"` // how many more builds are feasible when it alone is dropped
	Text    string `json:"text"`    // that number
}

// without counts what each target and limit of the brief costs.
func (e *Engine) without(r *request) (*wishes, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	found := search.WithoutEach(ctx, p, search.Options{Workers: 1, Strict: r.Strict, Progress: r.progress(p)})
	if !found.Complete {
		return nil, errCancelled
	}
	out := &wishes{Wishes: []wish{}}
	for _, x := range found.Each {
		name, asked := say.Wish(x.Wish, p, r.system)
		out.Wishes = append(out.Wishes, wish{x.Key, name, asked, x.More, layout.Whole(x.More)})
	}
	return out, nil
}

// mostSpread is how many builds are looked at for the spread of a wish.
const mostSpread = 2_000

// strip is how the builds that pass all but one wish spread over it.
type strip struct {
	*leaf.Spread
	Key string `json:"key"`
}

// spread looks at the wish of the request's key; without a strip where nothing
// tells how builds spread over it.
func (e *Engine) spread(r *request) (*strip, error) {
	ctx := e.search()
	p, err := e.question(r)
	if err != nil {
		return nil, err
	}
	out := &strip{Key: r.Key}
	for _, w := range ease.Wishes(p) {
		if w.Key != r.Key {
			continue
		}
		s, err := search.SpreadOf(ctx, p, w, mostSpread, search.Options{Workers: 1, Strict: r.Strict})
		var many *search.TooManyError
		switch {
		case errors.As(err, &many):
			return out, nil
		case err != nil:
			return nil, err
		case !s.Complete:
			return nil, errCancelled
		}
		out.Spread = leaf.NewSpread(s, search.Without{Wish: w}, p, r.system)
	}
	return out, nil
}
