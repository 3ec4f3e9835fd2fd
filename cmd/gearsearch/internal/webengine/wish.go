package webengine

import (
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
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
