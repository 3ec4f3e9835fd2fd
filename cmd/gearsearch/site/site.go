// Package site is the static page: its files, the engine that they compute
// with, and how they are written to a folder.
package site

import (
	"bytes"
	"embed"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// NoticesName is the file with the notices in the folder of the page and in an
// archive.
const NoticesName = "NOTICES.txt"

// pages are the sources of the static page.
//
//go:embed index.html icon.svg page.css script/*.js css/*.css
var pages embed.FS

// workerScript is the script of the page's worker. It stands in the page's script: a
// page that is opened from a disk may not load a worker from a file.
//
//go:embed worker.js
var workerScript string

// folderScript is the folder in memory that the program has there.
//
//go:embed folder.js
var folderScript string

// Worker is all of it.
var Worker = folderScript + "\n" + workerScript

// offlineScript is that of the page's service worker.
//
//go:embed sw.js
var offlineScript string

// The files of the page's folder. An engine is there twice: as a script, for a
// page opened from a disk, which may fetch nothing, and as WebAssembly, for one
// that comes from a server, beside its squeezed forms, which servers that know
// them hand out in its place. The page is written last.
const (
	EngineName  = "engine.js"
	EngineWasm  = "engine.wasm"
	ProgramName = "program.js"
	ProgramWasm = "program.wasm"
	ScriptName  = "page.js"
	StyleName   = "page.css"
	IconName    = "icon.svg"
	OfflineName = "sw.js"
	IndexName   = "index.html"
)

// Engines are what the page computes with, and what goes with them.
type Engines struct {
	Version        string // what the program says of itself
	Runtime        []byte // the Go distribution's wasm_exec.js
	Plain, Program Engine
	Notices        []byte // the licences of all that is in them
	Source         string // the folder of the page in the clone that they are built from; "" for a release
}

// Engine is an engine in WebAssembly, as it is and squeezed.
type Engine struct {
	Wasm, Gzip, Brotli []byte
}

// Qualities of brotli for Squeeze: what a page of a clone has, in some seconds, and
// the smallest there is, in minutes, which saves a sixth.
const (
	Quick    = 5
	Smallest = 11
)

// file is a file of the page, under its name in the page's folder.
type file struct {
	name   string
	data   []byte
	engine bool // it has no sign of whose it is
	served bool // a page that comes from a server loads it
}

// filesOf are the page's files in the order in which they are written: first the
// engine's script, which says whose they are, and the page itself last, so that
// it is never there without what it needs.
func filesOf(engines Engines) ([]file, error) {
	h, err := assemble(engines, true)
	if err != nil {
		return nil, err
	}
	icon, err := fs.ReadFile(pages, IconName)
	if err != nil {
		return nil, err
	}
	files := []file{
		{name: EngineName, data: CodeScript("engine", engines.Plain.Gzip), engine: true},
		{name: ProgramName, data: CodeScript("program", engines.Program.Gzip), engine: true},
	}
	for _, x := range []struct {
		name string
		of   Engine
	}{{EngineWasm, engines.Plain}, {ProgramWasm, engines.Program}} {
		files = append(files, file{x.name, x.of.Wasm, true, true}, file{x.name + ".gz", x.of.Gzip, true, false}, file{x.name + ".br", x.of.Brotli, true, false})
	}
	files = append(files,
		file{name: ScriptName, data: h.script, engine: true, served: true},
		file{name: StyleName, data: h.style, served: true},
		file{name: IconName, data: icon, served: true},
		file{name: NoticesName, data: engines.Notices, served: true})
	index := file{name: IndexName, data: h.index}
	worker, err := offline(append(files, index))
	return append(files, file{name: OfflineName, data: worker, engine: true}, index), err
}

// generator is what the page says that it is.
const generator = `<meta name="generator" content="gearsearch page">`

// MayGo reports a folder that is something else, or has another page or
// files of others in it that the page's would replace.
func MayGo(f *files.Register, dir string, notices []byte) error {
	info, err := os.Stat(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case !info.IsDir():
		return &fs.PathError{Op: "write", Path: dir, Err: errors.New("is no folder")}
	}
	index := filepath.Join(dir, IndexName)
	there, err := os.ReadFile(index)
	own := err == nil && bytes.Contains(there, []byte(generator))
	switch {
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return err
	case err == nil && !own:
		return outcome.Usage("name another folder", "%s is a page that gearsearch has not written", say.Shown(index))
	}
	list, err := filesOf(Engines{Notices: notices})
	if err != nil {
		return err
	}
	begun, _ := os.ReadFile(filepath.Join(dir, EngineName)) // by a run that was interrupted
	for _, file := range list {
		if err := file.mayGo(dir, own, bytes.HasPrefix(begun, []byte("globalThis.gearsearch"))); err != nil {
			return err
		}
	}
	_, err = targets(f, dir, list)
	return err
}

// mayGo reports what the file would replace that is not of a page that is
// there, or was begun.
func (x *file) mayGo(dir string, own, begun bool) error {
	name := filepath.Join(dir, filepath.FromSlash(x.name))
	info, err := os.Lstat(name)
	if err != nil || own && info.Mode().IsRegular() {
		return nil
	}
	if info.Mode().IsRegular() {
		there, err := os.ReadFile(name)
		if err == nil && (bytes.Equal(there, x.data) || x.engine && begun) {
			return nil
		}
	}
	return outcome.Usage("name another folder", "%s is a file that gearsearch has not written", say.Shown(name))
}

// targets registers the page's files, those whose folders are there.
func targets(f *files.Register, dir string, list []file) ([]*files.Target, error) {
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

// Write writes the engines, the notices and the page's files.
func Write(f *files.Register, dir string, engines Engines) error {
	list, err := filesOf(engines)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return err
	}
	targets, err := targets(f, dir, list)
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

// MayGoInto registers the one file that the page is written into. It reports a
// file that is something else.
func MayGoInto(f *files.Register, name string) (*files.Target, error) {
	there, err := os.ReadFile(name)
	switch {
	case err == nil && len(there) > 0 && !bytes.Contains(there, []byte(generator)):
		return nil, outcome.Usage("name another file", "%s is a file that gearsearch has not written", say.Shown(name))
	case err != nil && !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	return f.Target("--one-file "+say.Shown(name), name)
}
