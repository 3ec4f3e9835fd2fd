// Package layout lays out what people read: headings, paragraphs, lists, tables
// and commands to type, as text for a terminal of some width, as Markdown or as HTML.
//
// # Tables on a narrow terminal
//
// A table is printed as it is where it fits. Where it does not, columns that
// belong together (one Stack) share a column, a row taking as many lines; and
// where even that is too wide, each row becomes a short list. Cells are never
// cut: an id must stay an id that can be typed.
//
// Texts must be free of control characters; the layout adds its own only for
// colour.
package layout

import (
	"io"
	"slices"
	"strings"
)

// Style is how a text is laid out.
type Style struct {
	Width  int  // columns, at least minWidth
	Colour bool // whether colour may be used; no meaning depends on it
}

// minWidth is the narrowest terminal that is laid out for.
const minWidth = 40

// Text is a sequence of blocks. The zero value is an empty text.
type Text struct {
	blocks []block
	within int // lines that it is to fit; 0: any
}

// Within has blocks stand without a gap where the text is else of more lines.
func (t *Text) Within(lines int) { t.within = lines }

type block struct {
	kind  kind
	text  string
	items []string
	notes []Note
	table *Table
}

// Note is a remark under a label.
type Note struct {
	Label, Text string
	Typed       bool // a command to type, which is never wrapped
}

type kind uint8

const (
	headingBlock kind = iota
	textBlock
	listBlock
	verbatimBlock
	entryBlock
	notesBlock
	tableBlock
)

// Heading adds a heading.
func (t *Text) Heading(text string) {
	t.blocks = append(t.blocks, block{kind: headingBlock, text: text})
}

// Paragraph adds a paragraph, which is wrapped.
func (t *Text) Paragraph(text string) {
	t.blocks = append(t.blocks, block{kind: textBlock, text: text})
}

// List adds a list; nothing if it is empty.
func (t *Text) List(items []string) {
	if len(items) > 0 {
		t.blocks = append(t.blocks, block{kind: listBlock, items: items})
	}
}

// Verbatim adds lines that are never wrapped: commands to type.
func (t *Text) Verbatim(lines ...string) {
	t.blocks = append(t.blocks, block{kind: verbatimBlock, items: lines})
}

// Entry adds a line with notes below it.
func (t *Text) Entry(line string, notes ...Note) {
	t.blocks = append(t.blocks, block{kind: entryBlock, text: line, notes: notes})
}

// Notes adds remarks, their labels in a column; nothing for those without a text.
func (t *Text) Notes(notes ...Note) {
	notes = slices.DeleteFunc(notes, func(n Note) bool { return n.Text == "" })
	if len(notes) > 0 {
		t.blocks = append(t.blocks, block{kind: notesBlock, notes: notes})
	}
}

// Table adds a table; nothing if it has no rows.
func (t *Text) Table(table *Table) {
	if len(table.Rows) > 0 {
		t.blocks = append(t.blocks, block{kind: tableBlock, table: table})
	}
}

// Write writes the text for a terminal.
func (t *Text) Write(w io.Writer, s Style) error {
	s.Width = max(s.Width, minWidth)
	gaps := !t.crowded(s)
	for i := range t.blocks {
		b := &t.blocks[i]
		text := s.block(b)
		if gaps && i > 0 && !t.tight(i) {
			text = "\n" + text
		}
		if _, err := io.WriteString(w, text); err != nil {
			return err
		}
	}
	return nil
}

// crowded reports whether there is no room for gaps.
func (t *Text) crowded(s Style) bool {
	if t.within == 0 {
		return false
	}
	lines := 0
	for i := range t.blocks {
		lines += strings.Count(s.block(&t.blocks[i]), "\n")
		if i > 0 && !t.tight(i) {
			lines++
		}
	}
	return lines > t.within
}

// tight reports whether block i follows its heading without a gap.
func (t *Text) tight(i int) bool { return t.blocks[i-1].kind == headingBlock }

func (s Style) block(b *block) string {
	var out strings.Builder
	switch b.kind {
	case headingBlock:
		for _, line := range Wrap(b.text, s.Width) {
			out.WriteString(s.paint(line, Strong) + "\n")
		}
	case textBlock:
		for _, line := range Wrap(b.text, s.Width) {
			out.WriteString(line + "\n")
		}
	case listBlock:
		for _, item := range b.items {
			for i, line := range Wrap(item, s.Width-4) {
				out.WriteString([2]string{"  - ", "    "}[min(i, 1)] + line + "\n")
			}
		}
	case verbatimBlock:
		for _, line := range b.items {
			out.WriteString("  " + line + "\n")
		}
	case entryBlock:
		s.entry(&out, b)
	case notesBlock:
		s.notes(&out, b.notes, 0, Strong)
	case tableBlock:
		out.WriteString(b.table.text(s))
	}
	return out.String()
}

// entry lays out an entry with its notes, their labels in a column.
func (s Style) entry(out *strings.Builder, b *block) {
	const indent = 4
	for i, line := range Wrap(b.text, s.Width-indent) {
		if i > 0 {
			line = strings.Repeat(" ", indent) + line
		}
		out.WriteString(line + "\n")
	}
	s.notes(out, b.notes, indent, Faint)
}

// notes lays out notes, their labels in a column.
func (s Style) notes(out *strings.Builder, notes []Note, indent int, tone Tone) {
	labels := 0
	for _, n := range notes {
		labels = max(labels, Width(n.Label))
	}
	before, column := strings.Repeat(" ", indent), labels+Gap
	for _, n := range notes {
		lead := before + s.paint(n.Label, tone) + strings.Repeat(" ", column-Width(n.Label))
		room := s.Width - indent - column
		switch {
		case !n.Typed:
			for i, line := range Wrap(n.Text, room) {
				if i > 0 {
					lead = before + strings.Repeat(" ", column)
				}
				out.WriteString(lead + line + "\n")
			}
		case Width(n.Text) <= room || Width(n.Text) > s.Width-indent-Gap:
			out.WriteString(lead + n.Text + "\n")
		default: // below its label it is whole
			out.WriteString(before + s.paint(n.Label, tone) + "\n" + before + strings.Repeat(" ", Gap) + n.Text + "\n")
		}
	}
}

// WriteMarkdown writes the text as Markdown.
func (t *Text) WriteMarkdown(w io.Writer) error {
	for i := range t.blocks {
		text := t.blocks[i].markdown()
		if i > 0 {
			text = "\n" + text
		}
		if _, err := io.WriteString(w, text); err != nil {
			return err
		}
	}
	return nil
}

func (b *block) markdown() string {
	switch b.kind {
	case headingBlock:
		return "## " + Escape(b.text) + "\n"
	case textBlock:
		return Escape(b.text) + "\n"
	case listBlock:
		var out strings.Builder
		for _, item := range b.items {
			out.WriteString("- " + Escape(item) + "\n")
		}
		return out.String()
	case entryBlock:
		out := "- " + Escape(b.text) + "\n"
		for _, n := range b.notes {
			out += "  - " + n.Label + ": " + Escape(n.Text) + "\n"
		}
		return out
	case notesBlock:
		var out strings.Builder
		for _, n := range b.notes {
			text := Escape(n.Text)
			if n.Typed {
				text = "`" + n.Text + "`"
			}
			out.WriteString("- " + n.Label + ": " + text + "\n")
		}
		return out.String()
	case verbatimBlock:
		fence := "```"
		for strings.Contains(strings.Join(b.items, "\n"), fence) {
			fence += "`"
		}
		return fence + "\n" + strings.Join(b.items, "\n") + "\n" + fence + "\n"
	default:
		return b.table.markdown()
	}
}
