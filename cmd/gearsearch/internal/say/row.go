package say

import (
	"slices"

	"gearsearch/constraints"
	"gearsearch/search"
)

// Row is a build of the table with the outcomes of its checks at hand.
type Row struct {
	search.Scored
	ids     map[constraints.Slot]string
	results map[string]constraints.Result
}

// NewRow puts the build through its checks.
func NewRow(s search.Scored) *Row {
	r := &Row{s, map[constraints.Slot]string{}, map[string]constraints.Result{}}
	for slot, id := range s.Build.File().IDs {
		r.ids[constraints.Slot(slot)] = id
	}
	for _, x := range s.Build.Results() {
		r.results[x.Name] = x
	}
	return r
}

// Sign is what there is to mark about some checks of the build: the gravest.
func (r *Row) Sign(names ...string) string {
	gravity := []string{NoSign, ThinSign, OpenSign, FailSign}
	worst := 0
	for _, name := range names {
		if x, ok := r.results[name]; ok {
			worst = max(worst, slices.Index(gravity, Sign(x)))
		}
	}
	return gravity[worst]
}

// watched lists the checks of a build with a sign that no column speaks for.
func (r *Row) watched(marked map[string]bool) []string {
	var out []string
	for _, x := range r.Build.Results() {
		if sign := r.Sign(x.Name); sign != NoSign && !marked[x.Name] {
			out = append(out, x.Name+sign)
		}
	}
	return out
}
