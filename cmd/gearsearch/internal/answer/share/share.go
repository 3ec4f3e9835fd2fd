// Package share answers rank --share: sets of builds that share parts.
package share

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Answer is the answer of rank --share.
type Answer struct {
	Questions []*ask.Question
	Files     []string // of the briefs, as they are named
	Names     []string // of the briefs, short, each once
	Words     []string // what is shared
	Worst     bool
	result    *search.Sharing
	saved     []string // files of the first set that is saved
	// Where there is no set although every brief has a feasible build: the slots any
	// one of which, when not shared, allows a set.
	loosened []loosening
	alone    []string // where sharing one slot less does not help: the slots that can be shared alone
}

// loosening is the best set with one thing less shared.
type loosening struct {
	word string
	best search.Set
}

// Give finds the sets that share what is in the slots, writes them, and says what
// they mean for the exit code.
func (s *Answer) Give(ctx context.Context, d *ask.Desk, a *ask.Answer, slots []constraints.Slot, want *ask.Wish) error {
	var problems []*constraints.Problem
	for _, q := range s.Questions {
		problem, err := q.Aimed()
		if err != nil {
			return err
		}
		d.NoteDoubts(problem)
		problems = append(problems, problem)
	}
	if err := s.find(ctx, d, problems, slots, want.Top); err != nil {
		return err
	}
	if err := s.save(d, want); err != nil {
		return err
	}
	if err := d.Give(a, s.forms(a)); err != nil {
		return err
	}
	if err := s.outcome(d, a); err != nil {
		return err
	}
	for _, x := range want.Saves {
		if x.Rank > len(s.result.Sets) {
			n := uint64(len(s.result.Sets))
			return outcome.Usage("", "--save %s: there %s", say.Shown(x.Text), say.Plural(n, "is only ", "are only ")+say.Counted(n, "set", "sets"))
		}
	}
	return nil
}

// SavesFit reports files of builds to save that cannot be written.
func (s *Answer) SavesFit(d *ask.Desk, want *ask.Wish) error {
	for n, x := range want.Saves {
		if _, base := filepath.Split(x.File); strings.Trim(base, ".") == "" {
			return outcome.Usage("write --save 1=set.toml", "--save %s names a folder", say.Shown(x.Text))
		}
		for i := range s.Names {
			t, err := d.Files.Build("--save "+say.Shown(x.Text), s.fileOf(x.File, i))
			if err != nil {
				return err
			}
			want.Saves[n].Targets = append(want.Saves[n].Targets, t)
		}
	}
	return nil
}

// find looks for the sets.
func (s *Answer) find(ctx context.Context, d *ask.Desk, problems []*constraints.Problem, slots []constraints.Slot, top int) error {
	bar := d.Bar()
	defer bar.Stop()
	o := search.ShareOptions{Options: search.Options{Top: top, Strict: s.Questions[0].Strict, Progress: bar.Progress()}, Worst: s.Worst}
	var err error
	if s.result, err = search.Share(ctx, problems, slots, o); err != nil {
		return err
	}
	if !s.result.Complete || len(s.result.Sets) > 0 || s.barren() >= 0 || len(s.Words) < 2 {
		return nil
	}
	o.Top, o.Uncounted = 1, true
	return s.loosen(ctx, problems, o)
}

// loosen looks for what not to share where all of it cannot be shared: one slot, or
// all but one.
func (s *Answer) loosen(ctx context.Context, problems []*constraints.Problem, o search.ShareOptions) error {
	best := func(words []string) (*search.Set, error) {
		var slots []constraints.Slot
		for _, w := range words {
			named, _ := ask.SlotsOf(w)
			slots = append(slots, named...)
		}
		r, err := search.Share(ctx, problems, slots, o)
		if err != nil || !r.Complete || len(r.Sets) == 0 {
			return nil, err
		}
		return &r.Sets[0], nil
	}
	for _, word := range s.Words {
		set, err := best(slices.DeleteFunc(slices.Clone(s.Words), func(w string) bool { return w == word }))
		if err != nil {
			return err
		}
		if set != nil {
			s.loosened = append(s.loosened, loosening{word, *set})
		}
	}
	if len(s.loosened) > 0 || len(s.Words) == 2 {
		return nil
	}
	for _, word := range s.Words {
		set, err := best([]string{word})
		if err != nil {
			return err
		}
		if set != nil {
			s.alone = append(s.alone, word)
		}
	}
	return nil
}

// barren is the place of the first brief that nothing is feasible for; -1 when
// there is none.
func (s *Answer) barren() int {
	return slices.IndexFunc(s.result.Tallies, func(t search.Tally) bool { return t.Feasible == 0 })
}

// save writes the builds of the sets that are to be saved.
func (s *Answer) save(d *ask.Desk, want *ask.Wish) error {
	for _, x := range want.Saves {
		if x.Rank > len(s.result.Sets) {
			continue // told at the end
		}
		for i, b := range s.result.Sets[x.Rank-1].Builds {
			if err := s.Questions[i].Save(d, b.Build, x.Targets[i]); err != nil {
				return err
			}
			if len(s.saved) < len(s.Names) {
				s.saved = append(s.saved, x.Targets[i].Name)
			}
		}
	}
	return nil
}

// fileOf is the file of a set's build: that of --save with the name of the
// brief before the ending.
func (s *Answer) fileOf(file string, brief int) string {
	ending := filepath.Ext(file)
	return fmt.Sprintf("%s-%s%s", strings.TrimSuffix(file, ending), s.Names[brief], ending)
}

// outcome is what the answer means for the exit code.
func (s *Answer) outcome(d *ask.Desk, a *ask.Answer) error {
	switch {
	case !s.result.Complete:
		d.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case len(s.result.Sets) == 0:
		if !a.People() {
			d.Note("no builds share %s", strings.Join(s.Words, ", "))
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// BriefLabels are short names for briefs that are plain enough for a file's
// name, each another even where a file system takes capitals for small letters.
func BriefLabels(names []string) []string {
	var out []string
	taken := func(label string) bool {
		return slices.ContainsFunc(out, func(o string) bool { return strings.EqualFold(o, label) })
	}
	for i, name := range names {
		label, ok := strings.CutPrefix(name, ask.DemoPrefix)
		if !ok {
			label, _, _ = strings.Cut(filepath.Base(name), ".")
		}
		if !isPlain(label) || taken(label) {
			label = fmt.Sprintf("brief-%d", i+1)
		}
		for taken(label) {
			label += "a"
		}
		out = append(out, label)
	}
	return out
}

// isPlain reports whether a label can be part of a file's name and of a command
// everywhere: letters of any script, digits, - and _.
func isPlain(label string) bool {
	return strings.Trim(label, "-") != "" && !strings.ContainsFunc(label, func(r rune) bool {
		return r != '-' && r != '_' && !unicode.In(r, unicode.L, unicode.M, unicode.Nd)
	})
}

// score is the number that sets are ranked by.
func (s *Answer) score(set *search.Set) float64 {
	if s.Worst {
		return set.Worst
	}
	return set.Mean
}

// anyBrief reports whether something holds for some brief's problem.
func (s *Answer) anyBrief(holds func(p *constraints.Problem) bool) bool {
	return slices.ContainsFunc(s.result.Problems, holds)
}

func launches(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.LaunchTime) }
