package leaf

import (
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/search"
)

// Wish is a target or limit of the brief with what it costs.
type Wish struct {
	Key     string // of the brief, section.key
	Name    string
	Asked   string // with its unit
	Without string // how many more builds are feasible when it alone is dropped
	None    bool   // that is none
}

// wishes are what each target and limit costs; none where that is not known.
func (m *maker) wishes(w *search.Wishes) []Wish {
	if w == nil || !w.Complete {
		return nil
	}
	var out []Wish
	for _, x := range w.Each {
		name, asked := say.Wish(x.Wish, m.problem, m.system)
		out = append(out, Wish{x.Key, name, asked, layout.Whole(x.More), x.More == 0})
	}
	return out
}
