package main

import (
	"context"

	"gearsearch/constraints"
	"gearsearch/search"
)

// without counts what each wish costs, with a progress bar.
func (d *desk) without(ctx context.Context, problem *constraints.Problem, strict bool) *search.Wishes {
	bar := d.bar()
	defer bar.stop()
	return search.WithoutEach(ctx, problem, search.Options{Strict: strict, Progress: bar.progress()})
}
