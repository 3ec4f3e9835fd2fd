package ask

import (
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"
	"golang.org/x/term"

	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/quantity"
	"gearsearch/cmd/gearsearch/internal/say"
)

// unread are the formats that nobody reads on a terminal.
var unread = []Format{FormatPNG, FormatHTML}

// Drawing reads the flags of an answer that is a file to look at, in the
// formats that endings of its name stand for.
func (d *Desk) Drawing(c *cli.Context, endings map[string]Format, fallback Format) (*Answer, error) {
	d.Quiet = c.Bool("quiet")
	a, err := d.answerTo(c, fallback)
	if err != nil {
		return nil, err
	}
	var names, ends []string
	for end, f := range endings {
		if !slices.Contains(names, string(f)) {
			names = append(names, string(f))
		}
		ends = append(ends, end)
	}
	slices.Sort(names)
	slices.Sort(ends)
	ending, known := endings[strings.ToLower(filepath.Ext(a.file))]
	switch {
	case c.IsSet("format"):
		a.Format = Format(c.String("format"))
		if !slices.Contains(names, c.String("format")) {
			return nil, outcome.Usage("write --format "+strings.Join(names, " or --format "), "%s does not answer in the format %s", c.Command.Name, say.Shown(c.String("format")))
		}
	case known:
		a.Format = ending
	case a.file != "":
		return nil, outcome.Usage("end the name in "+strings.Join(ends, " or ")+", or name the format, as in --format "+names[0],
			"-o %s: the ending tells no format of %s", say.Shown(a.file), c.Command.Name)
	}
	if c.IsSet("units") {
		if a.System, err = quantity.SystemNamed(c.String("units")); err != nil {
			return nil, outcome.Usage("", "--units: %v", err)
		}
	}
	if file, ok := d.Stdout.(*os.File); ok && a.file == "" && slices.Contains(unread, a.Format) && term.IsTerminal(int(file.Fd())) {
		return nil, outcome.Usage("as in -o "+c.Command.Name+"."+string(a.Format), "%s writes no %s to a terminal: name a file with -o", c.Command.Name, a.Format)
	}
	return a, nil
}
