// Package sheet answers with all about one build.
package sheet

import (
	"io"
	"slices"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/dataout"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// Give writes the sheet, and says what it means for the exit code.
func (s *Answer) Give(d *ask.Desk, a *ask.Answer) error {
	var err error
	switch a.Format {
	case ask.FormatJSON:
		err = a.Write(func(w io.Writer) error { return dataout.WriteSheet(w, s.Scored, s.Why, s.toleranceMember()...) })
	case ask.FormatJSONL:
		err = a.Write(func(w io.Writer) error {
			_, err := w.Write(append(slices.Concat(dataout.Build(s.Scored), dataout.AboutBuild(s.Build), s.toleranceMember()).Append(nil), '\n'))
			return err
		})
	case ask.FormatCSV:
		err = d.WriteCSV(a, !s.interrupted(), s.writeCSV)
	default:
		err = a.Text(s.text())
	}
	if err != nil {
		return err
	}
	if s.interrupted() {
		d.Note("interrupted: how parts and rider vary is missing")
		return outcome.ErrInterrupted
	}
	for _, r := range s.Build.Results() {
		if r.Rejects(s.Strict) {
			return outcome.ErrInfeasible
		}
	}
	return nil
}
