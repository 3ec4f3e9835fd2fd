package dataout

import (
	"encoding/csv"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/dataout/decimal"
	"gearsearch/constraints"
	"gearsearch/search"
)

// Column is a column of CSV beyond those of every ranking.
type Column struct {
	Name string
	Cell func(s search.Scored) any
}

// WriteCSV writes a ranking as CSV; see WriteBuilds.
func WriteCSV(w io.Writer, r *search.Result) error {
	return WriteBuilds(w, r.Problem, r.Builds(), Standing(r.Apart)...)
}

// Standing is the column of how many builds each stands for, where designs are told
// apart.
func Standing(a search.Apart) []Column {
	if a.None() {
		return nil
	}
	return []Column{{Name: "stands_for", Cell: standsFor}}
}

// WriteBuilds writes builds as CSV: rank and score, the ids of the parts, one
// column for each figure, another for each that may differ in the best corner
// where the catalog leaves something out, the checks that could not be decided,
// and what more is wanted.
func WriteBuilds(w io.Writer, p *constraints.Problem, builds iter.Seq[search.Scored], more ...Column) error {
	out := csv.NewWriter(w)
	header := append([]string{"rank", "score"}, csvParts()...)
	m := newBuilder(p)
	for _, f := range m.figures {
		header = append(header, f.Name)
	}
	m.blank = p.Catalog != nil && constraints.Blank(p.Catalog)
	for _, f := range m.cornered() {
		header = append(header, f.Name+"_best")
	}
	header = append(header, "unknown_checks")
	for _, c := range more {
		header = append(header, c.Name)
	}
	if err := out.Write(header); err != nil {
		return err
	}
	for s := range builds {
		row := m.row(s)
		for _, c := range more {
			row = append(row, Cell(c.Cell(s)))
		}
		if err := out.Write(row); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// csvParts are the part columns, in the order in which parts break ties of a
// ranking.
func csvParts() []string {
	var keys []string
	for _, slot := range constraints.Slots() {
		keys = append(keys, slot.String())
		if counted(slot) {
			keys = append(keys, slot.String()+"s")
		}
	}
	return keys
}

func (m builder) row(s search.Scored) []string {
	row := []string{Cell(rank(s)), Cell(s.Score)}
	ids := parts(s.Build)
	for _, key := range csvParts() {
		row = append(row, Cell(ids.Get(key)))
	}
	for _, f := range m.figures {
		row = append(row, Cell(Figure(f, s.Build)))
	}
	for _, f := range m.cornered() {
		value, differs := Best(f, s.Build)
		if !differs {
			value = Figure(f, s.Build)
		}
		row = append(row, Cell(value))
	}
	return append(row, Cell(undecided(s.Build)))
}

// cornered are the figures with a column for the best corner.
func (m builder) cornered() []constraints.Figure {
	if !m.blank {
		return nil
	}
	return slices.DeleteFunc(slices.Clone(m.figures), func(f constraints.Figure) bool { return !f.Corners })
}

// WriteTable writes rows of any values as CSV.
func WriteTable(w io.Writer, header []string, rows [][]any) error {
	out := csv.NewWriter(w)
	if err := out.Write(header); err != nil {
		return err
	}
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, v := range row {
			cells[i] = Cell(v)
		}
		if err := out.Write(cells); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// Written is a cell that stands in a CSV file as it is: of a catalog, which is harmless
// already and reads back.
type Written string

// Cell is a value as a CSV cell, "" for what is not there, a list with | between its
// items, as in a catalog's CSV files. A text that a spreadsheet would run as a formula
// gets an apostrophe before it.
func Cell(value any) string {
	switch v := value.(type) {
	case nil:
		return ""
	case float64:
		return decimal.Text(v, "")
	case Written:
		return string(v)
	case string:
		if v != "" && strings.ContainsRune("=+-@\t\r", rune(v[0])) {
			return "'" + v
		}
		return v
	case []string:
		return Cell(strings.Join(v, field.ListSeparator))
	default:
		return fmt.Sprint(v)
	}
}
