// Package ask makes a question of flags: the brief, put to a catalog, and the
// form in which it is to be answered. It reads and writes at the desk, where a
// run is spoken to.
package ask

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
)

// Format is the form of an answer.
type Format string

// The formats.
const (
	FormatTable    Format = "table"
	FormatJSON     Format = "json"
	FormatJSONL    Format = "jsonl"
	FormatCSV      Format = "csv"
	formatMarkdown Format = "markdown"
	FormatHTML     Format = "html" // a fragment of a page; of report and page, a page
)

// FormatNames lists the formats of tables and data.
func FormatNames() []string {
	return []string{string(FormatTable), string(FormatJSON), string(FormatJSONL), string(FormatCSV), string(formatMarkdown), string(FormatHTML)}
}

// formatEndings are the formats that endings of file names stand for.
var formatEndings = map[string]Format{
	".txt": FormatTable, ".json": FormatJSON, ".jsonl": FormatJSONL,
	".csv": FormatCSV, ".md": formatMarkdown, ".markdown": formatMarkdown, ".html": FormatHTML, ".htm": FormatHTML,
}

// Answer is where an answer goes and in what form.
type Answer struct {
	Format Format
	file   string // "" for standard output
	target *files.Target
	System quantity.System
	Stdout io.Writer
	full   bool
}

// Answer reads the flags of the answer's form.
func (d *Desk) Answer(c *cli.Context) (*Answer, error) {
	d.Quiet = c.Bool("quiet")
	a, err := d.answerTo(c, FormatTable)
	if err != nil {
		return nil, err
	}
	ending := strings.ToLower(filepath.Ext(a.file))
	switch name := c.String("format"); {
	case c.IsSet("format"):
		if a.Format, err = formatNamed(name); err != nil {
			return nil, err
		}
	case a.file == "":
	case formatEndings[ending] == "":
		return nil, outcome.Usage("name the format, as in --format json, or end the name in .txt, .json, .jsonl, .csv, .md or .html",
			"-o %s: the ending tells no format", say.Shown(a.file))
	default:
		a.Format = formatEndings[ending]
	}
	a.full = c.Bool("full")
	if c.IsSet("units") {
		if a.System, err = quantity.SystemNamed(c.String("units")); err != nil {
			return nil, outcome.Usage("", "--units: %v", err)
		}
	}
	return a, nil
}

// Spoken is an answer on standard output, of a command whose -o names something else.
func (d *Desk) Spoken(c *cli.Context) (a *Answer, err error) {
	d.Quiet = c.Bool("quiet")
	a = &Answer{Format: FormatTable, Stdout: d.Stdout}
	if c.IsSet("format") {
		a.Format, err = formatNamed(c.String("format"))
	}
	return a, err
}

// formatNamed is the format of a name.
func formatNamed(name string) (Format, error) {
	if slices.Contains(FormatNames(), name) {
		return Format(name), nil
	}
	hint := "the formats are " + strings.Join(FormatNames(), ", ")
	if near, ok := field.Nearest(name, slices.Values(FormatNames())); ok {
		hint = "did you mean " + near + "?"
	}
	return "", outcome.Usage(hint, "--format %s is no format", say.Shown(name))
}

// answerTo is an answer that is written to the target of -o.
func (d *Desk) answerTo(c *cli.Context, f Format) (*Answer, error) {
	a := &Answer{Format: f, Stdout: d.Stdout}
	name := c.String("o")
	if !c.IsSet("o") || name == "-" {
		return a, nil
	}
	a.file = name
	var err error
	a.target, err = d.Files.Target("-o "+say.Shown(name), name)
	return a, err
}

// People reports whether people read the answer: it then says itself what scripts
// read on stderr.
func (a *Answer) People() bool { return a.Format == FormatTable || a.document() }

// Whole reports whether an answer for people is to have everything, and not the
// first page alone: as asked for, and always in Markdown and HTML.
func (a *Answer) Whole() bool { return a.full || a.document() }

// document reports whether an answer for people goes into a document.
func (a *Answer) document() bool { return a.Format == formatMarkdown || a.Format == FormatHTML }

// Write writes the answer: to a file whole or not at all.
func (a *Answer) Write(to func(w io.Writer) error) error {
	if a.target == nil {
		return to(a.Stdout)
	}
	return a.target.Write(to)
}

// Text writes an answer for people.
func (a *Answer) Text(t *layout.Text) error {
	return a.Write(func(w io.Writer) error {
		switch a.Format {
		case formatMarkdown:
			return t.WriteMarkdown(w)
		case FormatHTML:
			return t.WriteHTML(w)
		default:
			return t.Write(w, a.Style())
		}
	})
}

// defaultWidth is the width of a text that goes to no terminal.
const defaultWidth = 80

// Style is how a text looks where it goes.
func (a *Answer) Style() layout.Style {
	s := layout.Style{Width: defaultWidth}
	file, ok := a.Stdout.(*os.File)
	tty := ok && a.file == "" && term.IsTerminal(int(file.Fd()))
	if n, err := strconv.Atoi(os.Getenv("COLUMNS")); err == nil && n > 0 {
		s.Width = n
	}
	if tty {
		if width, _, err := term.GetSize(int(file.Fd())); err == nil && width > 0 {
			s.Width = width
		}
		s.Colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	}
	return s
}

// The formats of drawings.
const (
	FormatSVG Format = "svg"
	FormatPNG Format = "png"
)
