package ask

import (
	"io"

	"github.com/urfave/cli/v2"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/constraints"
)

// Forms is an answer in each of its forms. Only the form asked for is made.
type Forms struct {
	Text     func() *layout.Text
	Document func() dataout.Document
	Table    func() (header []string, rows [][]any)
	Complete bool
}

// Give writes an answer in the form that is asked for.
func (d *Desk) Give(a *Answer, f Forms) error {
	switch a.Format {
	case FormatJSON:
		return a.Write(f.Document().Write)
	case FormatJSONL:
		return a.Write(f.Document().WriteLines)
	case FormatCSV:
		return d.WriteCSV(a, f.Complete, func(w io.Writer) error {
			header, rows := f.Table()
			return dataout.WriteTable(w, header, rows)
		})
	default:
		return a.Text(f.Text())
	}
}

// WriteCSV writes an answer as CSV, which cannot say that it is incomplete. An
// incomplete file is not written; incomplete standard output is announced on
// stderr, even with --quiet.
func (d *Desk) WriteCSV(a *Answer, complete bool, to func(w io.Writer) error) error {
	switch {
	case complete:
		return a.Write(to)
	case a.file != "":
		d.Complain(field.Problem{Message: say.Shown(a.file) + " is not written: a CSV file cannot say that it is incomplete"})
		return nil
	}
	d.Complain(field.Problem{Message: "interrupted: the CSV on standard output is incomplete, and cannot say so itself"})
	return a.Write(to)
}

// Inquire reads what the flags of a command ask of all builds, and how to
// answer.
func (d *Desk) Inquire(c *cli.Context) (*Answer, *Question, *constraints.Problem, error) {
	a, err := d.Answer(c)
	if err != nil {
		return nil, nil, nil, err
	}
	q, err := d.Ask(c)
	if err != nil {
		return nil, nil, nil, err
	}
	problem, err := q.Aimed()
	if err != nil {
		return nil, nil, nil, err
	}
	d.NoteDoubts(problem)
	return a, q, problem, nil
}

// NoteDoubts notes what is doubtful in a brief beside its catalog, and names the
// packs that its charge rules out.
func (d *Desk) NoteDoubts(p *constraints.Problem) {
	d.noteEach(say.Doubts(p.Doubts()))
	if text := say.FlatPacks(p); text != "" {
		d.Note("%s", text)
	}
}

// noteEach writes a line for each text.
func (d *Desk) noteEach(texts []string) {
	for _, text := range texts {
		d.Note("%s", text)
	}
}

// aimless is the error of a brief that asks for nothing.
func aimless() error {
	return field.Problems{{
		Message: "the brief asks for nothing, so that every build that fits together would do",
		Hint:    "set a target or a limit, as in --top-speed 35km/h --climb-grade 12%",
	}}
}
