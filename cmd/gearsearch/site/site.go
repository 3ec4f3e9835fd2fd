// Package site is the static page: its files, the engine that they compute
// with, and how they are written to a folder.
package site

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

	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/say"
)

// NoticesName is the file with the notices in the folder of the page and in an
// archive.
const NoticesName = "NOTICES.txt"

// pages are the files of the static page as they stand in its folder.
//
//go:embed index.html page.css icon.svg script/*.js
var pages embed.FS

// workerScript is the script of the page's worker. It goes into the engine's
// file: a page that is opened from a disk may not load a worker from a file.
//
//go:embed worker.js
var workerScript string

// folderScript is the folder in memory that the program has there.
//
//go:embed folder.js
var folderScript string

// Worker is all of it.
var Worker = folderScript + "\n" + workerScript

// The files of the engine and of the program, which the page fetches once it is
// wanted, and the page, which is written last.
const (
	EngineName   = "engine.js"
	DrawingsName = "drawings.js"
	IndexName    = "index.html"
)

// Engines are these two files, and what goes with them.
type Engines struct {
	Plain, Draws []byte
	Notices      []byte // the licences of all that is in them
	Source       string // the folder of the page in the clone that they are built from; "" for a release
}

// file is a file of the page, under its name in the page's folder.
type file struct {
	name string
	data []byte
}

// filesOf are the page's files in the order in which they are written: the page
// itself last, so that it is never there without what it needs.
func filesOf(engines Engines) ([]file, error) {
	files := []file{{EngineName, engines.Plain}, {DrawingsName, engines.Draws}, {NoticesName, engines.Notices}}
	var index []byte
	err := fs.WalkDir(pages, ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := fs.ReadFile(pages, name)
		if name == IndexName {
			index = data
			return err
		}
		files = append(files, file{name, data})
		return err
	})
	return append(files, file{IndexName, index}), err
}

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
	own := err == nil && bytes.Contains(there, []byte(`<meta name="generator" content="gearsearch page">`))
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
	for _, file := range list {
		if err := file.mayGo(dir, own); err != nil {
			return err
		}
	}
	_, err = targets(f, dir, list)
	return err
}

// mayGo reports what the file would replace that is not of a page that is
// there: one that was interrupted has the same files.
func (x *file) mayGo(dir string, own bool) error {
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
	if err := os.MkdirAll(filepath.Join(dir, "script"), 0o777); err != nil {
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

// EngineScript is an engine's file: all of it as texts in one script, which
// loads wherever a script does, from a disk too. name is where the page finds
// it, version what the program says of itself, code the compressed WebAssembly, runtime the script that goes with it.
func EngineScript(version, name string, code []byte, runtime string) ([]byte, error) {
	line, _, _ := strings.Cut(version, "\n")
	texts, err := json.Marshal(map[string]string{
		"version": line,
		"runtime": runtime,
		"worker":  Worker,
		"code":    base64.StdEncoding.EncodeToString(code),
	})
	if err != nil {
		return nil, err
	}
	return fmt.Appendf(nil, "globalThis.%s = %s;\n", name, texts), nil
}
