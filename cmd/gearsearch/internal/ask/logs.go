package ask

import (
	"context"
	"errors"
	"io"
	"os"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ridelog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// Logs reads logs of rides, each in a stream. What is wrong with any is said of all.
func (d *Desk) Logs(ctx context.Context, names []string, options map[string]ridelog.Options) ([]*ridelog.Log, error) {
	bar := d.Bar()
	defer bar.Stop()
	total, done := 0.0, 0.0
	for _, name := range names {
		if info, err := os.Stat(name); err == nil {
			total += float64(info.Size())
		}
	}
	var progress ridelog.Progress
	if show := bar.Progress(); show != nil {
		lines := 0
		progress = func(bytes int) {
			done += float64(bytes)
			if lines++; lines%1024 == 0 {
				show(done, total)
			}
		}
	}
	var out []*ridelog.Log
	var wrong field.Problems
	for _, name := range names {
		l, err := d.log(ctx, name, options[name], progress)
		var problems field.Problems
		switch {
		case errors.As(err, &problems):
			wrong = append(wrong, problems...)
		case err != nil:
			return nil, err
		}
		out = append(out, l)
	}
	if len(wrong) > 0 {
		return nil, wrong
	}
	return out, unfound(out, options)
}

// unfound is an error where a column that is named is in no log.
func unfound(logs []*ridelog.Log, options map[string]ridelog.Options) error {
	for _, n := range options[logs[0].Name].Columns { // the same for each
		found := slices.ContainsFunc(logs, func(l *ridelog.Log) bool {
			return slices.ContainsFunc(l.Columns, func(c ridelog.Column) bool { return c.Of == n.Of && c.Named })
		})
		if !found {
			return field.Problems{{
				Code: field.UnknownKey, By: "--column " + say.Shown(n.Of.Name()+"="+n.Name), Message: "no log has a column " + field.Quote(n.Name),
				Hint: say.Shown(logs[0].Name) + " has " + strings.Join(logs[0].Headings, ", "),
			}}
		}
	}
	return nil
}

// log reads one log.
func (d *Desk) log(ctx context.Context, name string, o ridelog.Options, progress ridelog.Progress) (*ridelog.Log, error) {
	logs := make(chan *ridelog.Log, 1)
	err := d.Files.Stream(ctx, name, nil, func(r io.Reader) error {
		l, err := ridelog.Read(ctx, name, r, o, progress)
		logs <- l
		return err
	})
	if err != nil {
		return nil, err
	}
	return <-logs, nil
}

// BriefText reads the text of a question's brief anew, for a copy of it with other
// values; of a question without a brief it is one that asks for nothing.
func (d *Desk) BriefText(ctx context.Context, q *Question) (func() (field.Source, error), error) {
	name := q.sources.brief(q.at)
	if name == "" {
		return func() (field.Source, error) {
			return field.Source{Name: "brief.toml", Data: []byte("schema = 1\n")}, nil
		}, nil
	}
	src, err := d.source(ctx, name)
	if err != nil {
		return nil, err
	}
	if _, err := constraints.ReadBrief(src); err != nil {
		return nil, err
	}
	return func() (field.Source, error) { return src, nil }, nil
}
