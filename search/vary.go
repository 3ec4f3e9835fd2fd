package search

import "gearsearch/constraints"

// MostVaried is how many variants of a build are looked at together.
const MostVaried = 1000

// Varied is a build with something other about it, beside the build itself.
type Varied struct {
	Scored
	Cured []constraints.Result // that reject the build itself, and not the variant
	Added []constraints.Result // that reject the variant, and not the build itself
}

// Vary makes the build of a file and each of its variants, in order, whatever
// fails; strict counts what is undecided as a failure. The build is what Find makes
// of the file, and scored like each variant as ScoreBuild does. The error is as
// from Vary of constraints.
func Vary(p *constraints.Problem, f *constraints.BuildFile, variants []constraints.Variant, strict bool) (base Scored, rows []Varied, err error) {
	b, err := p.Find(f)
	if err != nil {
		return Scored{}, nil, err
	}
	base = ScoreBuild(b)
	fails := b.Rejections(strict)
	for _, v := range variants {
		other, err := p.Vary(f, v)
		if err != nil {
			return Scored{}, nil, err
		}
		row := Varied{Scored: ScoreBuild(other)}
		now := other.Rejections(strict)
		row.Cured, row.Added = beyond(fails, now), beyond(now, fails)
		rows = append(rows, row)
	}
	return base, rows, nil
}
