package layout

import (
	"html"
	"io"
	"strings"
)

// WriteHTML writes the text as a fragment of a page: what stands in a body, with
// no element around it and no style, and nothing in it but what the text says.
//
// Headings are h3, tables have their first column of words, or of numbers where there are
// no words, as heads of rows, and
// commands to type are code. Classes say what a terminal says by place and colour:
//
//	number                   a cell, or a head, of a column that is aligned right
//	strong, faint, warn, bad the tone of a cell
//	sign                     a sign behind a word; hidden: what it stands for
//	legend                   the paragraph below a table
//	entries, entry           a list of lines with notes, and such a line
//	notes                    remarks under labels
func (t *Text) WriteHTML(w io.Writer) error {
	m := &markup{}
	for i := range t.blocks {
		b := &t.blocks[i]
		if b.kind != entryBlock {
			b.html(m)
			continue
		}
		if i == 0 || t.blocks[i-1].kind != entryBlock {
			m.open("ul", "entries")
		}
		b.html(m)
		if i == len(t.blocks)-1 || t.blocks[i+1].kind != entryBlock {
			m.shut("ul")
		}
	}
	_, err := io.WriteString(w, m.out.String())
	return err
}

// markup is HTML that is being written, a line for each element of a block.
type markup struct{ out strings.Builder }

// open begins an element that has others in it.
func (m *markup) open(name, class string) { m.out.WriteString(tag(name, class) + "\n") }

// shut ends it.
func (m *markup) shut(name string) { m.out.WriteString("</" + name + ">\n") }

// line is an element on a line of its own; inside is markup already.
func (m *markup) line(name, class, inside string) {
	m.out.WriteString(element(name, class, inside) + "\n")
}

// element is an element; inside is markup already.
func element(name, class, inside string) string {
	return tag(name, class) + inside + "</" + name + ">"
}

// tag begins an element; name may have attributes, and class be empty.
func tag(name, class string) string {
	if class != "" {
		name += ` class="` + class + `"`
	}
	return "<" + name + ">"
}

func (b *block) html(m *markup) {
	switch b.kind {
	case headingBlock:
		m.line("h3", "", html.EscapeString(b.text))
	case textBlock:
		m.line("p", "", html.EscapeString(b.text))
	case listBlock:
		m.open("ul", "")
		for _, item := range b.items {
			m.line("li", "", html.EscapeString(item))
		}
		m.shut("ul")
	case entryBlock:
		m.open("li", "entry")
		m.line("p", "", html.EscapeString(b.text))
		notesHTML(m, b.notes)
		m.shut("li")
	case notesBlock:
		notesHTML(m, b.notes)
	case verbatimBlock:
		m.line("pre", "", element("code", "", html.EscapeString(strings.Join(b.items, "\n"))))
	default:
		b.table.html(m)
	}
}

// notesHTML writes notes as a list of labels and what they say.
func notesHTML(m *markup, notes []Note) {
	if len(notes) == 0 {
		return
	}
	m.open("dl", "notes")
	for _, n := range notes {
		text := html.EscapeString(n.Text)
		if n.Typed {
			text = element("code", "", text)
		}
		m.out.WriteString(element("dt", "", html.EscapeString(n.Label)) + element("dd", "", text) + "\n")
	}
	m.shut("dl")
}

// html writes the table, columns side by side, and its legend.
func (t *Table) html(m *markup) {
	t = t.full()
	signs := t.signs()
	m.open("table", "")
	if t.titled() {
		m.open("thead", "")
		m.out.WriteString("<tr>")
		for _, c := range t.Columns {
			if c.Title == "" {
				m.out.WriteString("<td></td>") // a head with nothing in it is none
				continue
			}
			m.out.WriteString(tag(`th scope="col"`, c.class()) + html.EscapeString(c.Title) + "</th>")
		}
		m.out.WriteString("</tr>\n")
		m.shut("thead")
	}
	m.open("tbody", "")
	head := t.rowHead()
	for _, row := range t.Rows {
		m.out.WriteString("<tr>")
		for i, c := range row {
			m.out.WriteString(t.cellHTML(c, i, i == head, signs))
		}
		m.out.WriteString("</tr>\n")
	}
	m.shut("tbody")
	m.shut("table")
	if text := t.legend(); text != "" {
		m.line("p", "legend", html.EscapeString(text))
	}
}

// titled reports whether a column has a title.
func (t *Table) titled() bool {
	for _, c := range t.Columns {
		if c.Title != "" {
			return true
		}
	}
	return false
}

// rowHead is the column that tells what a row is about: the first of words, the
// first where all are numbers.
func (t *Table) rowHead() int {
	for i, c := range t.Columns {
		if !c.Right {
			return i
		}
	}
	return 0
}

// class is the class of the cells of a column.
func (c *Column) class() string {
	if c.Right {
		return "number"
	}
	return ""
}

// toneNames are the classes of tones.
var toneNames = [...]string{"", "strong", "faint", "warn", "bad"}

// cellHTML is a cell of column i, or the head of its row.
func (t *Table) cellHTML(c Cell, i int, head bool, signs map[string]string) string {
	text := strings.TrimRight(c.Text, " ")
	name, end := "td", "</td>"
	if head && text != "" {
		name, end = `th scope="row"`, "</th>"
	}
	class := strings.TrimSpace(t.Columns[i].class() + " " + toneNames[c.Tone])
	return tag(name, class) + signedHTML(text, signs) + end
}

// signs are the signs that the table explains, and what is said for them.
func (t *Table) signs() map[string]string {
	out := map[string]string{}
	for _, g := range t.Legend {
		if g.Sign != "" {
			out[g.Sign] = strings.Trim(g.Text, ": ")
		}
	}
	return out
}

// signedHTML is the text of a cell. Behind a sign that the table explains stands
// what it means, for those who are read to.
func signedHTML(text string, signs map[string]string) string {
	var out strings.Builder
	for i, word := range strings.Split(text, " ") {
		if i > 0 {
			out.WriteByte(' ')
		}
		bare := strings.TrimRight(word, "!?")
		sign := word[len(bare):]
		out.WriteString(html.EscapeString(bare))
		switch meaning, known := signs[sign]; {
		case sign == "":
		case !known:
			out.WriteString(html.EscapeString(sign))
		default:
			out.WriteString(element("span", "sign", sign+element("span", "hidden", " "+html.EscapeString(meaning))))
		}
	}
	return out.String()
}
