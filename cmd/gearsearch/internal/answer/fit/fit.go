// Package fit answers with a rider's own rolling resistance and drag area, from logs of
// coast-downs and metered rides.
package fit

import (
	"context"
	"errors"
	"io"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/plot"
	"gearsearch/cmd/gearsearch/internal/ridelog"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/internal/say/fitted"
	"gearsearch/constraints"
	"gearsearch/search/fit"
)

// Answer is what logs tell of a rider.
type Answer struct {
	Question *ask.Question
	Build    *constraints.Build
	File     string // of the build
	Logs     []*ridelog.Log
	Records  fit.Records // of the logs
	Copy     *files.Target
	Drawing  *files.Target
	PNG      bool                         // the drawing is one
	Brief    func() (field.Source, error) // the text of the brief, for the copy

	result *fit.Result
}

// Find fits the records.
func (f *Answer) Find(ctx context.Context) error {
	for _, l := range f.Logs {
		f.Records.Runs = append(f.Records.Runs, l.Runs...)
		if l.Kind == ridelog.Ride {
			f.Records.Rides = append(f.Records.Rides, l.Ride)
		}
	}
	r, err := fit.Fit(ctx, f.Build, f.Records)
	var refusal *fit.Refusal
	switch {
	case errors.As(err, &refusal):
		return fitted.Refusal(refusal)
	case err != nil:
		return outcome.ErrInterrupted
	}
	f.result = r
	return nil
}

// Give writes the answer, the copy of the brief and the drawing, and says what they
// mean for the exit code.
func (f *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	if err := f.writeCopy(d); err != nil {
		return err
	}
	if f.Drawing != nil {
		figure := plot.Fit(plot.Subject{Build: f.Build, System: a.System}, f.result)
		if err := f.Drawing.Write(func(w io.Writer) error {
			if f.PNG {
				return figure.WritePNG(w)
			}
			return figure.WriteSVG(w)
		}); err != nil {
			return err
		}
	}
	if err := d.Give(a, ask.Forms{Text: func() *layout.Text { return f.text(a.System) }, Document: f.document, Table: f.table, Complete: true}); err != nil {
		return err
	}
	for _, u := range fitted.Both() {
		if v := f.result.Estimate(u).Verdict; v != fit.Told && v != fit.Held {
			if !a.People() {
				d.Note("the %s is not told by these records", fitted.Name(u))
			}
			return outcome.ErrInfeasible
		}
	}
	return nil
}

// writeCopy writes the brief with what is told in it.
func (f *Answer) writeCopy(d *ask.Desk) error {
	if f.Copy == nil {
		return nil
	}
	keys := f.keys()
	if len(keys) == 0 {
		d.Note("%s is not written: the records tell nothing that could be", say.Shown(f.Copy.Name))
		return nil
	}
	src, err := f.Brief()
	if err != nil {
		return err
	}
	data, err := constraints.Amend(src, keys)
	if err != nil {
		return err
	}
	return f.Copy.WriteData(data)
}
