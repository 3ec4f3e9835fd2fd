package ask

import (
	"context"
	"fmt"
	"io"
	"slices"
	"time"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout/progress"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
	"gearsearch/constraints/route"
	"gearsearch/search"
)

// Print writes a text to stdout.
func (d *Desk) Print(text string) error {
	_, err := io.WriteString(d.Stdout, text)
	return err
}

// Desk is where a run reads and writes, and how it is spoken to meanwhile.
type Desk struct {
	Stdin          io.Reader
	Stdout, Stderr io.Writer
	Quiet          bool // no notes on stderr
	Patient        bool // what an answer looks for by the way takes its time: the answer is the same on a busy machine
	Files          files.Register
	listened       bool // standard input is read
	ways           map[string]*route.Route
}

// listen is an error where standard input is to be read again.
func (d *Desk) listen() error {
	if d.listened {
		return outcome.Usage("name a file for one of them", "standard input is named twice, and can be read once")
	}
	d.listened = true
	return nil
}

// Within is the time for what an answer looks for by the way: most, and any for a
// desk that is patient.
func (d *Desk) Within(ctx context.Context, most time.Duration) (context.Context, context.CancelFunc) {
	if d.Patient {
		return context.WithCancel(ctx)
	}
	return within(ctx, most)
}

// Note writes a line to stderr unless the user wants quiet.
func (d *Desk) Note(format string, args ...any) {
	if !d.Quiet {
		fmt.Fprintf(d.Stderr, format+"\n", args...)
	}
}

// Complain writes problems to stderr: those of a file as they are, with their
// place, any other under the program's name.
func (d *Desk) Complain(problems ...field.Problem) {
	named := slices.Clone(problems)
	for i := range named {
		p := &named[i]
		p.By, p.Message, p.Hint = say.Brief(p.By), say.Brief(p.Message), say.Brief(p.Hint)
		if p.File == "" {
			p.By, p.Message = "gearsearch", p.Text()
		}
	}
	fmt.Fprintln(d.Stderr, field.Problems(named).Error())
}

// Bar shows that a search goes on.
func (d *Desk) Bar() *progress.Bar { return progress.New(d.Stderr, d.Quiet) }

// Without counts what each wish costs, with a progress bar.
func (d *Desk) Without(ctx context.Context, problem *constraints.Problem, strict bool) *search.Wishes {
	bar := d.Bar()
	defer bar.Stop()
	return search.WithoutEach(ctx, problem, search.Options{Strict: strict, Progress: bar.Progress()})
}
