package main

import (
	"path/filepath"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/site"
)

func (p *program) pageCommand() *cli.Command {
	return &cli.Command{
		Name:      "page",
		ArgsUsage: "DIR",
		Usage:     "write a folder with the program as a page for the browser",
		UsageText: "gearsearch page try",
		Description: `The page asks what the board must do, shows what parts there are (catalog files can be dropped on it), and ranks the builds that do it. It computes in the browser, by the same engine as this program; nothing leaves the computer. Open DIR/index.html as a file, or put the folder on any web server.

A release has the engine in it. Any other program builds it, which takes the go command and a clone of the source: run it in the clone. The first time takes a minute.

The name of the page is printed. NOTICES.txt has the licences of all that is in it. Files in DIR that are not the page's are left alone, and none that gearsearch has not written is overwritten.

Exit code: 0 written, 2 wrong usage, 4 the engine could not be built, or a file could not be written.`,
		Flags:  []cli.Flag{ask.QuietFlag()},
		Action: p.page,
	}
}

// page writes the page's folder.
func (p *program) page(c *cli.Context) error {
	p.Quiet = c.Bool("quiet")
	if c.Args().Len() != 1 || c.Args().First() == "" {
		return outcome.Usage("gearsearch page try writes it to the folder try", "page takes the name of one folder, not %d", c.Args().Len())
	}
	dir := c.Args().First()
	if err := site.MayGo(&p.Files, dir, notices); err != nil {
		return err
	}
	engines := site.Released()
	if engines.Plain == nil {
		p.Note("building the engine of the page, which takes a minute the first time")
		var err error
		if engines, err = site.Build(c.Context, version()); err != nil {
			return err
		}
	}
	engines.Notices = notices
	if engines.Source != "" { // which the page must not be written over
		if err := p.Files.Reads(files.Input{Name: engines.Source, Folder: true}); err != nil {
			return err
		}
	}
	if err := site.Write(&p.Files, dir, engines); err != nil {
		return err
	}
	index := filepath.Join(dir, site.IndexName)
	p.Note("open it in a browser, or put the folder on a web server:")
	return p.Print(index + "\n")
}
