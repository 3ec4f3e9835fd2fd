package main

import (
	"io"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/constraints"
)

// forms is an answer in each of its forms. Only the one that is asked for is
// made.
type forms struct {
	page     func() *layout.Page
	document func() dataout.Document
	table    func() (header []string, rows [][]any)
	complete bool
}

// give writes an answer in the form that is asked for.
func (d *desk) give(a *answer, f forms) error {
	switch a.format {
	case formatJSON:
		return a.write(f.document().Write)
	case formatJSONL:
		return a.write(f.document().WriteLines)
	case formatCSV:
		return d.writeCSV(a, f.complete, func(w io.Writer) error {
			header, rows := f.table()
			return dataout.WriteTable(w, header, rows)
		})
	default:
		return a.page(f.page())
	}
}

// writeCSV writes an answer as CSV, which cannot say that it is incomplete: no
// file is written then, and on standard output it is said beside it, whatever
// the user wants to be told.
func (d *desk) writeCSV(a *answer, complete bool, to func(w io.Writer) error) error {
	switch {
	case complete:
		return a.write(to)
	case a.file != "":
		d.complain(field.Problem{Message: shown(a.file) + " is not written: a CSV file cannot say that it is incomplete"})
		return nil
	}
	d.complain(field.Problem{Message: "interrupted: the CSV on standard output is incomplete, and cannot say so itself"})
	return a.write(to)
}

// inquire reads what the flags of a command ask of all builds, and how to
// answer.
func (d *desk) inquire(c *cli.Context) (*answer, *question, *constraints.Problem, error) {
	a, err := d.answer(c)
	if err != nil {
		return nil, nil, nil, err
	}
	q, err := d.ask(c)
	if err != nil {
		return nil, nil, nil, err
	}
	problem, err := q.aimed()
	return a, q, problem, err
}

// aimless is what there is to say of a brief that asks for nothing.
func aimless() error {
	return field.Problems{{
		Message: "the brief asks for nothing, so that every build that fits together would do",
		Hint:    "set a target or a limit, as in --top-speed 35km/h --climb-grade 12%",
	}}
}

// closing ends the page of an answer that is about more than one build.
const closing = "These are computed figures, not a promise of safety: gearsearch sheet BUILD.toml shows what one build assumes and what to beware of."
