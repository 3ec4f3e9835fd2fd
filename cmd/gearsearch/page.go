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
		ArgsUsage: "[DIR]",
		Usage:     "write a folder with the program as a page for the browser",
		UsageText: "gearsearch page try\ngearsearch page --one-file gearsearch.html",
		Description: `The page asks what the board must do, shows what parts there are (catalog files can be dropped on it), and ranks the builds that do it. It computes in the browser, by the same engine as this program; nothing leaves the computer. Open DIR/index.html as a file, or put the folder on any web server: from there it opens without a network too, once it has been opened. A server that knows of the files ending in .br and .gz sends those, a sixth of the size.

--one-file writes all of it as one file instead, to be sent to a phone and opened there; with DIR as well, both.

A release has the engine in it. Any other program builds it, which takes the go command and a clone of the source: run it in the clone. The first time takes a minute.

The name of the page is printed. NOTICES.txt, or the foot of the one file, has the licences of all that is in it. Files in DIR that are not the page's are left alone, and none that gearsearch has not written is overwritten.

Exit code: 0 written, 2 wrong usage, 4 the engine could not be built, or a file could not be written.`,
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "one-file", Category: ask.ThemeOutput, Usage: "write the page as one HTML `FILE`, engine and all, for a phone or to send on"},
			&cli.BoolFlag{Name: "small", Category: ask.ThemeOutput, Usage: "make the .br files as small as they get, a sixth smaller, which takes minutes; those of a release are"},
			ask.QuietFlag(),
		},
		Action: p.page,
	}
}

// page writes the page's folder, or its one file, or both.
func (p *program) page(c *cli.Context) error {
	p.Quiet = c.Bool("quiet")
	one := c.String("one-file")
	if n := c.Args().Len(); n > 1 || n == 0 && one == "" || n == 1 && c.Args().First() == "" {
		return outcome.Usage("gearsearch page try writes it to the folder try", "page takes the name of one folder, not %d", n)
	}
	dir := c.Args().First()
	if dir != "" {
		if err := site.MayGo(&p.Files, dir, notices); err != nil {
			return err
		}
	}
	var whole *files.Target
	if one != "" {
		var err error
		if whole, err = site.MayGoInto(&p.Files, one); err != nil {
			return err
		}
	}
	engines, err := p.engines(c)
	if err != nil {
		return err
	}
	if dir != "" {
		if err := site.Write(&p.Files, dir, engines); err != nil {
			return err
		}
		index := filepath.Join(dir, site.IndexName)
		p.Note("open it in a browser, or put the folder on a web server:")
		if err := p.Print(index + "\n"); err != nil {
			return err
		}
	}
	if one == "" {
		return nil
	}
	page, err := site.OneFile(engines)
	if err != nil {
		return err
	}
	if err := whole.WriteData(page); err != nil {
		return err
	}
	p.Note("send it on, and open it in a browser:")
	return p.Print(one + "\n")
}

// engines are those of a release, or are built.
func (p *program) engines(c *cli.Context) (site.Engines, error) {
	engines := site.Released()
	if engines.Runtime == nil {
		p.Note("building the engine of the page, which takes a minute the first time")
		var err error
		if engines, err = site.Build(c.Context); err != nil {
			return engines, err
		}
	}
	engines.Version, engines.Notices = version(), notices
	if engines.Source != "" { // which the page must not be written over
		if err := p.Files.Reads(files.Input{Name: engines.Source, Folder: true}); err != nil {
			return engines, err
		}
	}
	quality := site.Quick
	if c.Bool("small") {
		quality = site.Smallest
	}
	return engines, engines.Squeeze(quality)
}
