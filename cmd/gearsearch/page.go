package main

import (
	"bytes"
	"embed"
	"encoding/base64"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/urfave/cli/v2"

	"gearsearch/cmd/gearsearch/internal/output"
)

// pageFiles are the files of the static page as they stand in its folder.
//
//go:embed page/index.html page/page.css page/icon.svg page/script/*.js
var pageFiles embed.FS

// pageWorker is the script of the page's worker. It goes into the engine's
// file: a page that is opened from a disk may not load a worker from a file.
//
//go:embed page/worker.js
var pageWorker string

// The files of the engine and of the engine that draws, which the page fetches
// once it is wanted, and the page, which is written last.
const (
	pageEngineName   = "engine.js"
	pageDrawingsName = "drawings.js"
	pageIndexName    = "index.html"
)

// pageEngines are these two files.
type pageEngines struct{ plain, draws []byte }

func (p *program) pageCommand() *cli.Command {
	return &cli.Command{
		Name:      "page",
		ArgsUsage: "DIR",
		Usage:     "write a folder with the program as a page for the browser",
		UsageText: `gearsearch page try
gearsearch page /srv/www/gearsearch`,
		Description: `The page asks what the board must do, shows what parts there are (catalog files can be dropped on it), and ranks the builds that do it. It computes in the browser, by the same engine as this program; nothing leaves the computer. Open DIR/index.html as a file, or put the folder on any web server.

A release has the engine in it. Any other program builds it, which takes the go command and a clone of the source: run it in the clone. The first time takes a minute.

The name of the page is printed. NOTICES.txt has the licences of all that is in it. Files in DIR that are not the page's are left alone, and an index.html of another page is not overwritten.

Exit code: 0 written, 2 wrong usage, 4 the engine could not be built, or a file could not be written.`,
		Flags:  []cli.Flag{quietFlag()},
		Action: p.page,
	}
}

// page writes the page's folder.
func (p *program) page(c *cli.Context) error {
	p.quiet = c.Bool("quiet")
	if c.Args().Len() != 1 || c.Args().First() == "" {
		return usage("gearsearch page try writes it to the folder try", "page takes the name of one folder, not %d", c.Args().Len())
	}
	dir := c.Args().First()
	if err := pageMayGo(dir); err != nil {
		return err
	}
	engines := releasedEngines()
	if engines.plain == nil {
		p.note("building the engine of the page, which takes a minute the first time")
		var err error
		if engines, err = builtEngines(c.Context); err != nil {
			return err
		}
	}
	if err := writePage(dir, engines); err != nil {
		return err
	}
	index := filepath.Join(dir, pageIndexName)
	p.note("open it in a browser, or put the folder on a web server:")
	return p.print(index + "\n")
}

// pageMayGo reports a folder that is something else, or has another page in
// it.
func pageMayGo(dir string) error {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return &fs.PathError{Op: "write", Path: dir, Err: errors.New("is no folder")}
	}
	index := filepath.Join(dir, pageIndexName)
	there, err := os.ReadFile(index)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !bytes.Contains(there, []byte(`<meta name="generator" content="gearsearch page">`)):
		return usage("name another folder", "%s is a page that gearsearch has not written", shown(index))
	}
	return nil
}

// writePage writes the engines, the notices and the page's files, the page
// itself last, so that it is never there without what it needs.
func writePage(dir string, engines pageEngines) error {
	if err := os.MkdirAll(filepath.Join(dir, "script"), 0o777); err != nil {
		return err
	}
	if err := output.WriteFile(filepath.Join(dir, pageEngineName), engines.plain); err != nil {
		return err
	}
	if err := output.WriteFile(filepath.Join(dir, pageDrawingsName), engines.draws); err != nil {
		return err
	}
	if err := output.WriteFile(filepath.Join(dir, noticesName), notices); err != nil {
		return err
	}
	static, err := fs.Sub(pageFiles, "page")
	if err != nil {
		return err
	}
	write := func(name string) error {
		data, err := fs.ReadFile(static, name)
		if err != nil {
			return err
		}
		return output.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), data)
	}
	err = fs.WalkDir(static, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || name == pageIndexName {
			return err
		}
		return write(name)
	})
	if err != nil {
		return err
	}
	return write(pageIndexName)
}

// engineScript is an engine's file: all of it as texts in one script, which
// loads wherever a script does, from a disk too. name is where the page finds
// it, code the compressed WebAssembly, runtime the script that goes with it.
func engineScript(name string, code []byte, runtime string) ([]byte, error) {
	line, _, _ := strings.Cut(version(), "\n")
	texts, err := json.Marshal(map[string]string{
		"version": line,
		"runtime": runtime,
		"worker":  pageWorker,
		"code":    base64.StdEncoding.EncodeToString(code),
	})
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "globalThis.%s = %s;\n", name, texts), nil
}
