package ask

import (
	"path/filepath"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/search"
)

// DefaultTop is how many builds are ranked unless asked for otherwise.
const DefaultTop = 20

// Wish is how much of a ranking is wanted.
type Wish struct {
	Top      int  // 0: all
	TopGiven bool // by the user
	Saves    []Saving
}

// Saving is a build of the ranking to write as a file.
type Saving struct {
	Rank int
	File string
	Text string // as the flag has it
	// targets are the files: of a set, one for each of its builds.
	Targets []*files.Target
}

// TopFlag and SaveFlag say how much of a ranking is wanted.
func TopFlag() cli.Flag {
	return &cli.StringFlag{Name: "top", Category: ThemeAnswer, Usage: "`N` how many to list, best first; 0: all (rank lists at most " + layout.Count(search.MostRanked) + ", and " + layout.Count(search.MostListed) + " in a table)", DefaultText: strconv.Itoa(DefaultTop)}
}

// SaveFlag names builds to write as files.
func SaveFlag() cli.Flag {
	return &cli.StringSliceFlag{Name: "save", Category: ThemeAnswer, Usage: "`N=FILE` write build N as a build file, which sheet takes; may be repeated"}
}

// WithPartsFlag has builds that are saved carry their parts.
func WithPartsFlag() cli.Flag {
	return &cli.BoolFlag{Name: "with-parts", Category: ThemeAnswer, Usage: "with --save: put the parts and the brief into the file, so that it is read without any other"}
}

// NewWish reads the flags; streamed is an answer that is not ranked.
func (d *Desk) NewWish(c *cli.Context, streamed bool) (*Wish, error) {
	w := &Wish{Top: DefaultTop, TopGiven: c.IsSet("top")}
	if c.IsSet("top") {
		n, err := strconv.Atoi(c.String("top"))
		if err != nil || n < 0 {
			return nil, outcome.Usage("write --top 50, or --top 0 for all", "--top %s is no number of builds", say.Shown(c.String("top")))
		}
		if streamed && n > 0 {
			return nil, outcome.Usage("leave one of them out", "--top does not go with jsonl, which gives every feasible build unranked")
		}
		if n > search.MostRanked {
			return nil, outcome.Usage("rank --format jsonl gives any number of builds, unranked", "--top %s: at most %d are ranked", say.Shown(c.String("top")), search.MostRanked)
		}
		w.Top = n
	}
	if c.Bool("with-parts") && len(c.StringSlice("save")) == 0 {
		return nil, outcome.Usage("add --save 1=build.toml", "--with-parts is for builds that are saved")
	}
	for _, text := range c.StringSlice("save") {
		number, file, _ := strings.Cut(text, "=")
		n, err := strconv.Atoi(number)
		switch {
		case err != nil || n < 1 || file == "":
			return nil, outcome.Usage("write --save 1=build.toml", "--save %s is not a rank and a file", say.Shown(text))
		case file == "-":
			return nil, outcome.Usage("write --save 1=build.toml", "--save %s: standard output is for the ranking", say.Shown(text))
		case streamed:
			return nil, outcome.Usage("leave one of them out", "--save does not go with jsonl, which is not ranked")
		case formatEndings[strings.ToLower(filepath.Ext(file))] != "":
			return nil, outcome.Usage("end the name in .toml", "--save %s: a build file is TOML", say.Shown(text))
		case w.Top > 0 && n > w.Top:
			return nil, outcome.Usage("add --top "+number, "--save %s: only %s ranked", say.Shown(text), say.Counted(uint64(w.Top), "build is", "builds are"))
		}
		s := Saving{Rank: n, File: file, Text: text}
		if len(c.StringSlice("share")) == 0 { // else savesFit does
			t, err := d.Files.Build("--save "+say.Shown(text), file)
			if err != nil {
				return nil, err
			}
			s.Targets = []*files.Target{t}
		}
		w.Saves = append(w.Saves, s)
	}
	return w, nil
}

// Save writes the builds asked for, of n that are there, with where they come
// from.
func (w *Wish) Save(d *Desk, q *Question, n int, build func(i int) *constraints.Build) error {
	for _, s := range w.Saves {
		if s.Rank > n {
			continue // missed tells
		}
		if err := q.Save(d, build(s.Rank-1), s.Targets[0]); err != nil {
			return err
		}
	}
	return nil
}

// Missed reports a build to save that there is not among n.
func (w *Wish) Missed(n int, feasible uint64) error {
	return w.MissedOf(n, say.Counted(feasible, "build is", "builds are")+" feasible")
}

// MissedOf reports a build to save that there is not among n; there says how many
// there are of what.
func (w *Wish) MissedOf(n int, there string) error {
	for _, s := range w.Saves {
		if s.Rank > n {
			return outcome.Usage("", "--save %s: only %s", say.Shown(s.Text), there)
		}
	}
	return nil
}
