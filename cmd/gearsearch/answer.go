package main

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
	"gearsearch/cmd/gearsearch/internal/layout"
	"gearsearch/cmd/gearsearch/internal/quantity"
)

// format is the form of an answer.
type format string

// The formats.
const (
	formatTable    format = "table"
	formatJSON     format = "json"
	formatJSONL    format = "jsonl"
	formatCSV      format = "csv"
	formatMarkdown format = "markdown"
)

func formatNames() []string {
	return []string{string(formatTable), string(formatJSON), string(formatJSONL), string(formatCSV), string(formatMarkdown)}
}

// formatEndings are the formats that endings of file names stand for.
var formatEndings = map[string]format{
	".txt": formatTable, ".json": formatJSON, ".jsonl": formatJSONL,
	".csv": formatCSV, ".md": formatMarkdown, ".markdown": formatMarkdown,
}

// answer is where an answer goes and in what form.
type answer struct {
	format format
	file   string // "" for standard output
	target *target
	system quantity.System
	stdout io.Writer
}

// answer reads the flags of the answer's form.
func (d *desk) answer(c *cli.Context) (*answer, error) {
	d.quiet = c.Bool("quiet")
	a, err := d.answerTo(c, formatTable)
	if err != nil {
		return nil, err
	}
	ending := strings.ToLower(filepath.Ext(a.file))
	switch name := c.String("format"); {
	case c.IsSet("format"):
		a.format = format(name)
		if !slices.Contains(formatNames(), name) {
			hint := "the formats are " + strings.Join(formatNames(), ", ")
			if near, ok := field.Nearest(name, slices.Values(formatNames())); ok {
				hint = "did you mean " + near + "?"
			}
			return nil, usage(hint, "--format %s is no format", shown(name))
		}
	case a.file == "":
	case formatEndings[ending] == "":
		return nil, usage("name the format, as in --format json, or end the name in .txt, .json, .jsonl, .csv or .md",
			"-o %s: the ending tells no format", shown(a.file))
	default:
		a.format = formatEndings[ending]
	}
	if c.IsSet("units") {
		if a.system, err = quantity.SystemNamed(c.String("units")); err != nil {
			return nil, usage("", "--units: %v", err)
		}
	}
	return a, nil
}

// answerTo is an answer that goes where -o says.
func (d *desk) answerTo(c *cli.Context, f format) (*answer, error) {
	a := &answer{format: f, stdout: d.stdout}
	name := c.String("o")
	if !c.IsSet("o") || name == "-" {
		return a, nil
	}
	a.file = name
	var err error
	a.target, err = d.files.target("-o "+shown(name), name)
	return a, err
}

// people reports whether the answer is one that people read, which says by
// itself what scripts are told on stderr.
func (a *answer) people() bool { return a.format == formatTable || a.format == formatMarkdown }

// write writes the answer: to a file whole or not at all.
func (a *answer) write(to func(w io.Writer) error) error {
	if a.target == nil {
		return to(a.stdout)
	}
	return a.target.write(to)
}

// page writes an answer for people.
func (a *answer) page(p *layout.Page) error {
	return a.write(func(w io.Writer) error {
		if a.format == formatMarkdown {
			return p.WriteMarkdown(w)
		}
		return p.WriteText(w, a.style())
	})
}

// defaultWidth is the width of a page that goes to no terminal.
const defaultWidth = 80

// style is how a text page looks where it goes.
func (a *answer) style() layout.Style {
	s := layout.Style{Width: defaultWidth}
	file, ok := a.stdout.(*os.File)
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
