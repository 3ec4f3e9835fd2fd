// Package intake answers catalog import: what the headings of sheets are taken for.
package intake

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Answer is sheets whose headings are matched to keys.
type Answer struct {
	Paths []string
	Told  []string // HEADING=KEY
	Kind  string   // of all rows, "" where the sheets tell
	Write bool     // what is matched is remembered in the files
	Out   *files.Target

	plans []*catalog.Plan
	raw   [][]byte // of the plans' files, as they were read
	read  *catalog.Catalog
}

// Give matches the headings, reads the rows, writes what is to be written, and says
// what each heading is taken for.
func (a *Answer) Give(ctx context.Context, d *ask.Desk, out *ask.Answer, quiet bool) error {
	told, err := a.told()
	if err != nil {
		return err
	}
	if err := a.plan(ctx, d, told); err != nil {
		return err
	}
	if a.read, err = catalog.ReadPlanned(a.plans); err != nil {
		return err
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	if err := a.write(d); err != nil || quiet {
		return err
	}
	return out.Text(a.text())
}

// told is what flags say of headings.
func (a *Answer) told() (map[string]field.Target, error) {
	out := map[string]field.Target{}
	for _, text := range a.Told {
		heading, target, ok := field.CutHeading(text)
		if !ok {
			return nil, outcome.Usage("as in --map 'KV (rpm/V)=kv', --map 'Weight=mass_g in kg', or --map 'Colour=-' to leave a column out", "--map %s: must be a heading, =, and a key", say.Shown(text))
		}
		if _, twice := out[heading]; twice {
			return nil, outcome.Usage("", "--map %s: heading %s is given twice", say.Shown(text), field.Quote(heading))
		}
		out[heading] = target
	}
	return out, nil
}

// plan reads the files and matches their headings. What is told must be a heading of
// one of the sheets.
func (a *Answer) plan(ctx context.Context, d *ask.Desk, told map[string]field.Target) error {
	var wrong field.Problems
	heard := map[string]bool{}
	var sheets []catalog.Source
	for _, path := range a.Paths {
		if a.Write && catalog.IsWorkbook(path) {
			return outcome.Usage("write a sheet, as in -o parts.csv", "--remember: a workbook is read only")
		}
		read, err := d.Files.Sheets(ctx, path)
		if err != nil {
			return err
		}
		sheets = append(sheets, read...)
	}
	for _, src := range sheets {
		of := told
		if len(sheets) > 1 {
			of = catalog.HeadingsOf(src, told)
		}
		for heading := range of {
			heard[heading] = true
		}
		p, err := catalog.PlanSheet(src, a.Kind, of)
		if problems, ok := err.(field.Problems); ok {
			wrong = append(wrong, problems...)
			continue
		} else if err != nil {
			return err
		}
		a.plans, a.raw = append(a.plans, p), append(a.raw, src.Data)
	}
	if len(wrong) > 0 {
		return wrong
	}
	for heading := range told {
		if !heard[heading] {
			return outcome.Usage("", "--map: no sheet has the heading %s", field.Quote(heading))
		}
	}
	return nil
}

// write puts the row that remembers into the files, or the parts into another.
func (a *Answer) write(d *ask.Desk) error {
	if a.Out != nil {
		var b bytes.Buffer
		var err error
		switch {
		case ask.IsTOML(a.Out.Name):
			err = a.read.WriteTOML(&b)
		case strings.EqualFold(filepath.Ext(a.Out.Name), ".tsv"):
			err = a.read.WriteSheet(&b, '\t')
		default:
			err = a.read.WriteSheet(&b, ',')
		}
		if err != nil {
			return err
		}
		return a.Out.WriteData(b.Bytes())
	}
	if !a.Write {
		return nil
	}
	for i, p := range a.plans {
		if p.Plain() && !p.Changed {
			continue
		}
		data := p.Source.Data
		if !p.Plain() {
			data = p.Remembering()
		}
		if err := d.Files.Grow(p.Source.Name, a.raw[i], data); err != nil {
			return err
		}
	}
	return nil
}

// text says what each heading is taken for, and what to do next.
func (a *Answer) text() *layout.Text {
	out := &layout.Text{}
	plain := true
	for _, p := range a.plans {
		plain = plain && p.Plain() && !p.Changed
		out.Heading(heading(p))
		t := &layout.Table{Columns: []layout.Column{{Title: "column", Right: true}, {Title: "heading"}, {Title: "taken for"}, {Title: "cells", Right: true}, {Title: "since", Wrap: true, Least: 20, Extra: true}}}
		for _, c := range p.Columns {
			t.Rows = append(t.Rows, []layout.Cell{{Text: c.Place}, {Text: shown(c.Title)}, {Text: takenFor(c)}, {Text: fmt.Sprint(c.Cells)}, {Text: say.PlannedBy(c.By)}})
		}
		out.Table(t)
		if p.Named() {
			out.Paragraph("No column has ids: they are made of the names.")
		}
	}
	n := 0
	for _, k := range a.read.Count() {
		n += k.N
	}
	parts := say.Counted(uint64(n), "part", "parts")
	again := "gearsearch catalog import"
	for _, path := range a.Paths {
		again += " " + say.Typed(path)
	}
	if a.Kind != "" {
		again += " --kind " + a.Kind
	}
	for _, text := range a.Told {
		again += " --map " + say.Typed(text)
	}
	check := "gearsearch catalog check"
	for _, path := range a.Paths {
		check += " " + say.Typed(path)
	}
	switch {
	case a.Out != nil:
		out.Paragraph(fmt.Sprintf("Wrote %s with %s.", say.Shown(a.Out.Name), parts))
		out.Heading("Next")
		out.Verbatim("gearsearch catalog check " + say.Typed(a.Out.Name))
	case plain:
		out.Paragraph(fmt.Sprintf("It reads as a catalog as it is, with %s: there is nothing to remember.", parts))
		out.Heading("Next")
		out.Verbatim(check)
	case a.Write:
		out.Paragraph(fmt.Sprintf("%s. The row above the headings remembers this: leave it there, and move columns as you like.", parts))
		out.Heading("Next")
		out.Verbatim(check)
	case len(a.plans) > 0 && a.plans[0].Source.Sheet != "":
		out.Paragraph(fmt.Sprintf("%s. Nothing is written yet, and a workbook never is.", parts))
		out.Heading("Next")
		out.Verbatim(again + " -o parts.csv")
	default:
		out.Paragraph(fmt.Sprintf("%s. Nothing is written yet.", parts))
		out.Heading("Next")
		out.Verbatim(again + " --remember")
	}
	return out
}

// heading names a sheet and what its rows are.
func heading(p *catalog.Plan) string {
	name := say.Shown(p.Source.Name)
	if p.Source.Sheet != "" {
		name += ", sheet " + say.Shown(p.Source.Sheet)
	}
	if p.Kind != "" {
		name += ": every row is a " + strings.ReplaceAll(p.Kind, "_", " ")
	}
	return name
}

// takenFor is what a column is taken for, in words.
func takenFor(c catalog.Planned) string {
	switch {
	case len(c.Target.Keys) == 0:
		return "left out"
	case c.Target.Unit != "":
		return strings.Join(c.Target.Keys, " or ") + ", in " + c.Target.Unit
	}
	return strings.Join(c.Target.Keys, " or ")
}

// shown is a heading as a table shows it.
func shown(title string) string {
	if field.CheckText(title) != "" {
		return field.Quote(title)
	}
	return title
}
