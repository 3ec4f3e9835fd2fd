package main

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"unicode"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// shareFlags are the flags of rank for sets of builds that share parts.
func shareFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringSliceFlag{Name: "share", Category: ask.ThemeAnswer, Usage: "`SLOT[,SLOT]` rank sets: a build for each --brief, with the same part in these slots: " + strings.Join(ask.SlotWords(), ", ")},
		&cli.BoolFlag{Name: "worst", Category: ask.ThemeAnswer, Usage: "rank sets by the lowest score of their builds instead of the mean"},
	}
}

// shareAnswer is the answer of rank --share.
type shareAnswer struct {
	questions []*ask.Question
	files     []string // of the briefs, as they are named
	names     []string // of the briefs, short, each once
	words     []string // what is shared
	worst     bool
	result    *search.Sharing
	saved     []string // files of the first set that is saved
	// Where there is no set, though every brief has a feasible build: what not
	// to share, each by itself, so that there is one.
	loosened []loosening
	alone    []string // where one thing less does not help: what can be shared by itself
}

// loosening is the best set with one thing less shared.
type loosening struct {
	word string
	best search.Set
}

// share answers with sets of builds that share parts.
func (p *program) share(c *cli.Context, a *ask.Answer) error {
	slots, words, err := ask.SlotList(c, "share")
	if err != nil {
		return err
	}
	if err := shareFits(c); err != nil {
		return err
	}
	want, err := p.NewWish(c, false)
	if err != nil {
		return err
	}
	if want.Top == 0 {
		return outcome.Usage("name how many sets to list", "--share and --top 0 do not go together: there are as many sets as pairs of builds")
	}
	s := &shareAnswer{words: words, worst: c.Bool("worst"), files: c.StringSlice("brief")}
	s.names = briefLabels(s.files)
	if err := s.savesFit(p, want); err != nil {
		return err
	}
	if s.questions, err = p.AskEach(c); err != nil {
		return err
	}
	var problems []*constraints.Problem
	for _, q := range s.questions {
		problem, err := q.Aimed()
		if err != nil {
			return err
		}
		problems = append(problems, problem)
	}
	if err := s.find(c.Context, p, problems, slots, want.Top); err != nil {
		return err
	}
	if err := s.save(want); err != nil {
		return err
	}
	if err := p.Give(a, s.forms(a)); err != nil {
		return err
	}
	if err := p.shareOutcome(a, s); err != nil {
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

// shareFits reports flags that do not go with --share.
func shareFits(c *cli.Context) error {
	if n := len(c.StringSlice("brief")); n < 2 {
		return outcome.Usage("name them, as in --brief demo:harbour --brief demo:sunday", "--share takes two briefs or more, not %d", n)
	}
	input := 0
	for _, name := range c.StringSlice("brief") {
		if name == "-" {
			input++
		}
	}
	if input > 1 {
		return outcome.Usage("write one of them to a file", "standard input can be one brief only")
	}
	for _, f := range mannerFlags() {
		if name := f.Names()[0]; c.IsSet(name) {
			return outcome.Usage("leave one of them out", "--share and --%s do not go together: sets are ranked by their scores alone", name)
		}
	}
	return nil
}

// savesFit reports files of builds to save that cannot be written.
func (s *shareAnswer) savesFit(p *program, want *ask.Wish) error {
	for n, x := range want.Saves {
		if _, base := filepath.Split(x.File); strings.Trim(base, ".") == "" {
			return outcome.Usage("write --save 1=set.toml", "--save %s names a folder", say.Shown(x.Text))
		}
		for i := range s.names {
			t, err := p.Files.Target("--save "+say.Shown(x.Text), s.fileOf(x.File, i))
			if err != nil {
				return err
			}
			want.Saves[n].Targets = append(want.Saves[n].Targets, t)
		}
	}
	return nil
}

// find looks for the sets.
func (s *shareAnswer) find(ctx context.Context, p *program, problems []*constraints.Problem, slots []constraints.Slot, top int) error {
	bar := p.Bar()
	defer bar.Stop()
	o := search.ShareOptions{Options: search.Options{Top: top, Strict: s.questions[0].Strict, Progress: bar.Progress()}, Worst: s.worst}
	var err error
	if s.result, err = search.Share(ctx, problems, slots, o); err != nil {
		return err
	}
	if !s.result.Complete || len(s.result.Sets) > 0 || s.barren() >= 0 || len(s.words) < 2 {
		return nil
	}
	o.Top, o.Uncounted = 1, true
	return s.loosen(ctx, problems, o)
}

// loosen looks for what not to share, where all of it cannot be: one thing, or
// all but one.
func (s *shareAnswer) loosen(ctx context.Context, problems []*constraints.Problem, o search.ShareOptions) error {
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
	for _, word := range s.words {
		set, err := best(slices.DeleteFunc(slices.Clone(s.words), func(w string) bool { return w == word }))
		if err != nil {
			return err
		}
		if set != nil {
			s.loosened = append(s.loosened, loosening{word, *set})
		}
	}
	if len(s.loosened) > 0 || len(s.words) == 2 {
		return nil
	}
	for _, word := range s.words {
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
func (s *shareAnswer) barren() int {
	return slices.IndexFunc(s.result.Tallies, func(t search.Tally) bool { return t.Feasible == 0 })
}

// Save writes the builds of the sets that are to be saved.
func (s *shareAnswer) save(want *ask.Wish) error {
	for _, x := range want.Saves {
		if x.Rank > len(s.result.Sets) {
			continue // told at the end
		}
		for i, b := range s.result.Sets[x.Rank-1].Builds {
			if err := x.Targets[i].WriteData(b.Build.File().TOML()); err != nil {
				return err
			}
			if len(s.saved) < len(s.names) {
				s.saved = append(s.saved, x.Targets[i].Name)
			}
		}
	}
	return nil
}

// fileOf is the file of a set's build: that of --save with the name of the
// brief before the ending.
func (s *shareAnswer) fileOf(file string, brief int) string {
	ending := filepath.Ext(file)
	return fmt.Sprintf("%s-%s%s", strings.TrimSuffix(file, ending), s.names[brief], ending)
}

// shareOutcome is what the answer means for the exit code.
func (p *program) shareOutcome(a *ask.Answer, s *shareAnswer) error {
	switch {
	case !s.result.Complete:
		p.Note("interrupted: the search is incomplete")
		return outcome.ErrInterrupted
	case len(s.result.Sets) == 0:
		if !a.People() {
			p.Note("no builds share %s", strings.Join(s.words, ", "))
		}
		return outcome.ErrInfeasible
	}
	return nil
}

// briefLabels are short names for briefs that are plain enough for a file's
// name, each another even where a file system takes capitals for small letters.
func briefLabels(names []string) []string {
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
func (s *shareAnswer) score(set *search.Set) float64 {
	if s.worst {
		return set.Worst
	}
	return set.Mean
}

// anyBrief reports whether something holds for some brief's problem.
func (s *shareAnswer) anyBrief(holds func(p *constraints.Problem) bool) bool {
	return slices.ContainsFunc(s.result.Problems, holds)
}

func launches(p *constraints.Problem) bool { return !math.IsNaN(p.Brief.Target.LaunchTime) }
