package search

import (
	"math"

	"gearsearch/constraints"
	"gearsearch/search/internal/walk"
)

// Criterion is one part of the score.
type Criterion struct {
	Name    string
	Meaning string
	Formula string
	Weight  func(w *constraints.Weights) *float64
	// Applies reports whether the brief and the catalog make it count.
	Applies func(p *constraints.Problem) bool
	// Raw is the criterion of one corner before it is clamped to [0, 1]; NaN
	// where it is not known, and then it scores 0.
	Raw func(b *constraints.Build) float64
	// Put is the formula with a build's numbers put in, before the clamp, or why
	// they are missing.
	Put func(b *constraints.Build) constraints.Numbers

	// best is at least what Raw gives any build of a stretch of a lane; nil
	// where only 1 is known to be. It is given the electrical half.
	best func(b *constraints.Build, r *walk.Reach) float64
}

// The scales of the criteria. They are choices of this program: a full score
// is what a rider would call plenty.
const (
	speedAim      = 1.05 // a little over the target is best
	speedSpan     = 0.5  // half the target away scores nothing
	headroomFull  = 0.4  // 40 % below the ceiling is plenty
	rangeFull     = 1.5  // half again the target is plenty
	meshNothing   = 4    // whole teeth that score nothing
	meshFullAbove = 8    // teeth more than that score fully
)

// clamped is a criterion's score in [0, 1]; what is not known scores 0.
func clamped(raw float64) float64 {
	switch {
	case raw > 1:
		return 1
	case raw > 0:
		return raw
	default: // not known, too
		return 0
	}
}

// score is the criterion of a build: the lower of its two corners'.
func (c *Criterion) score(b *constraints.Build) float64 {
	s := clamped(c.Raw(b))
	if s > 0 && b.Blank() {
		s = min(s, clamped(c.Raw(b.Best())))
	}
	return s
}

// Ruling is the corner of a build that the criterion goes by: the lower one.
func (c *Criterion) Ruling(b *constraints.Build) *constraints.Build {
	if b.Blank() && clamped(c.Raw(b.Best())) < clamped(c.Raw(b)) {
		return b.Best()
	}
	return b
}

// meshRaw is the mesh criterion before it is clamped.
func meshRaw(b *constraints.Build) float64 {
	return meshOf(b.Drive.Gear != nil && !b.Drive.Bare, b.Drive.Mesh)
}

// meshOf is the mesh criterion of a gear drive, or of so many teeth in mesh; NaN
// below 0.
func meshOf(gear bool, mesh int) float64 {
	switch {
	case gear:
		return 1
	case mesh < 0:
		return math.NaN()
	}
	return float64(mesh-meshNothing) / meshFullAbove
}
