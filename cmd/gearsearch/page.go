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

	"gearsearch/cmd/gearsearch/internal/ask"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// pageFiles are the files of the static page as they stand in its folder.
//
//go:embed site/index.html site/page.css site/icon.svg site/script/*.js
var pageFiles embed.FS

// pageWorker is the script of the page's worker. It goes into the engine's
// file: a page that is opened from a disk may not load a worker from a file.
//
//go:embed site/worker.js
var pageWorker string

// The files of the engine and of the engine that draws, which the page fetches
// once it is wanted, and the page, which is written last.
const (
	pageEngineName   = "engine.js"
	pageDrawingsName = "drawings.js"
	pageIndexName    = "index.html"
)

// pageEngines are these two files.
type pageEngines struct {
	plain, draws []byte
	source       string // the folder of the page in the clone that they are built from; "" for a release
}

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

// Page writes the page's folder.
func (p *program) page(c *cli.Context) error {
	p.Quiet = c.Bool("quiet")
	if c.Args().Len() != 1 || c.Args().First() == "" {
		return outcome.Usage("gearsearch page try writes it to the folder try", "page takes the name of one folder, not %d", c.Args().Len())
	}
	dir := c.Args().First()
	if err := pageMayGo(&p.Files, dir); err != nil {
		return err
	}
	engines := releasedEngines()
	if engines.plain == nil {
		p.Note("building the engine of the page, which takes a minute the first time")
		var err error
		if engines, err = builtEngines(c.Context); err != nil {
			return err
		}
	}
	if engines.source != "" { // which the page must not be written over
		if err := p.Files.Reads(files.Input{Name: engines.source, Folder: true}); err != nil {
			return err
		}
	}
	if err := writePage(&p.Files, dir, engines); err != nil {
		return err
	}
	index := filepath.Join(dir, pageIndexName)
	p.Note("open it in a browser, or put the folder on a web server:")
	return p.Print(index + "\n")
}

// pageFile is a file of the page, under its name in the page's folder.
type pageFile struct {
	name string
	data []byte
}

// filesOf are the page's files in the order in which they are written: the page
// itself last, so that it is never there without what it needs.
func filesOf(engines pageEngines) ([]pageFile, error) {
	files := []pageFile{{pageEngineName, engines.plain}, {pageDrawingsName, engines.draws}, {noticesName, notices}}
	static, err := fs.Sub(pageFiles, "site")
	if err != nil {
		return nil, err
	}
	var index []byte
	err = fs.WalkDir(static, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(static, name)
		if name == pageIndexName {
			index = data
			return err
		}
		files = append(files, pageFile{name, data})
		return err
	})
	return append(files, pageFile{pageIndexName, index}), err
}

// pageMayGo reports a folder that is something else, or has another page or
// files of others in it that the page's would replace.
func pageMayGo(f *files.Register, dir string) error {
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
	own := err == nil && bytes.Contains(there, []byte(`<meta name="generator" content="gearsearch page">`))
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	case err == nil && !own:
		return outcome.Usage("name another folder", "%s is a page that gearsearch has not written", say.Shown(index))
	}
	list, err := filesOf(pageEngines{})
	if err != nil {
		return err
	}
	for _, file := range list {
		if err := file.mayGo(dir, own); err != nil {
			return err
		}
	}
	_, err = pageTargets(f, dir, list)
	return err
}

// mayGo reports what the file would replace that is not of a page that is
// there: one that was interrupted has the same files.
func (x *pageFile) mayGo(dir string, own bool) error {
	name := filepath.Join(dir, filepath.FromSlash(x.name))
	info, err := os.Lstat(name)
	if err != nil || own && info.Mode().IsRegular() {
		return nil
	}
	if info.Mode().IsRegular() {
		there, err := os.ReadFile(name)
		if err == nil && (bytes.Equal(there, x.data) || x.data == nil && bytes.HasPrefix(there, []byte("globalThis.gearsearch"))) {
			return nil
		}
	}
	return outcome.Usage("name another folder", "%s is a file that gearsearch has not written", say.Shown(name))
}

// pageTargets registers the page's files, those whose folders are there.
func pageTargets(f *files.Register, dir string, list []pageFile) ([]*files.Target, error) {
	var out []*files.Target
	for _, file := range list {
		name := filepath.Join(dir, filepath.FromSlash(file.name))
		if _, err := os.Stat(filepath.Dir(name)); errors.Is(err, fs.ErrNotExist) {
			continue
		}
		t, err := f.Target("page "+say.Shown(dir), name)
		if err != nil {
			return nil, err
		}
		out = append(out, t)
	}
	return out, nil
}

// writePage writes the engines, the notices and the page's files.
func writePage(f *files.Register, dir string, engines pageEngines) error {
	list, err := filesOf(engines)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(dir, "script"), 0o777); err != nil {
		return err
	}
	targets, err := pageTargets(f, dir, list)
	if err != nil {
		return err
	}
	for i, t := range targets {
		if err := t.WriteData(list[i].data); err != nil {
			return err
		}
	}
	return nil
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
