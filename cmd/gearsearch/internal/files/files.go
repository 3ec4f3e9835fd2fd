// Package files is the register of what a run reads and writes.
package files

import (
	"bytes"
	"context"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"sync"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/cmd/gearsearch/internal/outcome"
	"gearsearch/cmd/gearsearch/internal/output"
	"gearsearch/cmd/gearsearch/internal/say"
	"gearsearch/cmd/gearsearch/internal/workbook"
	"gearsearch/constraints"
)

// errThere says that a file is there already, and is not written over.
var errThere = errors.New("it exists, and nothing is overwritten: name another, or take it away first")

// Register is the register of what a run reads and writes. All that a command
// opens is opened by it, so that no answer takes the place of what it was made
// from, or of another answer: that is known before anything is written.
type Register struct {
	in      []Input
	targets []*Target
	out     fs.FileInfo // of standard output where that is a file; else nil

	mu   sync.Mutex
	work map[unfinished]struct{} // temporary files and folders
}

// unfinished is a temporary file or folder.
type unfinished interface{ Remove() }

// Input is a file that is read, or a folder.
type Input struct {
	Name   string
	info   fs.FileInfo // of what was opened under no name; nil: by name
	Folder bool        // every file of it with the ending is read
	ending string      // "" for any
}

// stat looks at the file that now has the name; nil: there is none.
func (i *Input) stat() fs.FileInfo {
	if i.info != nil {
		return i.info
	}
	info, _ := os.Stat(i.Name)
	return info
}

// Target is a file to write.
type Target struct {
	files  *Register
	Name   string
	origin string // what names it, for messages: -o x.csv
	vacant bool   // nothing may be there
}

// Target registers a file to write. The error is for a file that clearly cannot be
// written, or that would replace another in the register.
func (f *Register) Target(origin, name string) (*Target, error) {
	if name == "" {
		return nil, outcome.Usage("", "-o needs the name of a file, or - for standard output")
	}
	for _, t := range f.targets {
		if t.origin == origin && t.Name == name {
			return t, nil // asked for again
		}
	}
	t := &Target{files: f, Name: name, origin: origin}
	if err := output.Writable(name); err != nil {
		return nil, err
	}
	f.targets = append(f.targets, t)
	return t, f.clash()
}

// Build registers a build file to write. It may take the place of another build file,
// and of nothing else.
func (f *Register) Build(origin, name string) (*Target, error) {
	t, err := f.Target(origin, name)
	if err != nil {
		return nil, err
	}
	if there, err := os.Stat(name); err != nil || !there.Mode().IsRegular() || there.Size() == 0 {
		return t, nil
	}
	data, err := readAll(name, nil)
	if err != nil {
		return nil, err
	}
	if !constraints.IsBuild(field.Source{Name: name, Data: data}) {
		return nil, outcome.Usage("name another file", "%s: %s is there, is no build file, and would be lost", origin, say.Shown(name))
	}
	return t, nil
}

// Vacant registers a file or folder to write that must not be there.
func (f *Register) Vacant(name string) (*Target, error) {
	t := &Target{files: f, Name: name, origin: say.Shown(name), vacant: true}
	if err := t.free(); err != nil {
		return nil, err
	}
	if err := output.Writable(filepath.Clean(name)); err != nil {
		return nil, err
	}
	f.targets = append(f.targets, t)
	return t, f.clash()
}

// Prints registers standard output, which a shell may have sent to a file that
// is read.
func (f *Register) Prints(stdout io.Writer) {
	file, ok := stdout.(*os.File)
	if !ok {
		return
	}
	if info, err := file.Stat(); err == nil && info.Mode().IsRegular() {
		f.out = info
	}
}

// Reads registers a file that is read.
func (f *Register) Reads(i Input) error {
	f.in = append(f.in, i)
	return f.clash()
}

// clash is the one place that looks whether something written is read, or
// written twice.
func (f *Register) clash() error {
	for _, in := range f.in {
		if there := in.stat(); f.out != nil && there != nil && os.SameFile(f.out, there) {
			return outcome.Usage("send it to another file", "standard output goes to %s, which is read for the answer", say.Shown(in.Name))
		}
	}
	for i, t := range f.targets {
		for _, in := range f.in {
			if err := t.spares(in); err != nil {
				return err
			}
		}
		for _, other := range f.targets[:i] {
			if sameFile(t.Name, other.Name) {
				return outcome.Usage("name another file", "%s: %s writes that file", t.origin, other.origin)
			}
		}
	}
	return nil
}

// spares is an error where writing the target would lose an input, or put
// something else into a folder that is read.
func (t *Target) spares(in Input) error {
	if in.Folder {
		parent, err := os.Stat(filepath.Dir(output.Resolve(t.Name)))
		if there := in.stat(); err != nil || there == nil || !os.SameFile(parent, there) || !hasEnding(t.Name, in.ending) {
			return nil
		}
		kind := ""
		if in.ending != "" {
			kind = strings.ToUpper(in.ending[1:]) + " "
		}
		return outcome.Usage("name a file elsewhere", "%s: every %sfile of %s is read for the answer", t.origin, kind, say.Shown(in.Name))
	}
	there, err := os.Stat(t.Name)
	read := in.stat()
	if err != nil || read == nil || !os.SameFile(there, read) || shares(there) {
		return nil
	}
	if in.info != nil {
		return outcome.Usage("name another file", "%s: that file is read as %s, and would be lost", t.origin, in.Name)
	}
	return outcome.Usage("name another file", "%s: %s is read for the answer, and would be lost", t.origin, say.Shown(in.Name))
}

func hasEnding(name, ending string) bool {
	return ending == "" || strings.EqualFold(filepath.Ext(name), ending)
}

// sameFile reports whether two names are those of one file, there or not yet.
func sameFile(a, b string) bool {
	x, err := os.Stat(a)
	y, err2 := os.Stat(b)
	if err == nil && err2 == nil {
		return os.SameFile(x, y) && !shares(x)
	}
	return err != nil && err2 != nil && whole(a) == whole(b)
}

// whole is the name, from the root, of a file that is not there yet.
func whole(name string) string {
	dir, base := filepath.Split(output.Resolve(name))
	if real, err := filepath.EvalSymlinks(filepath.Clean("./" + dir)); err == nil && !filepath.IsAbs(dir) {
		dir = real
	} else if real, err := filepath.EvalSymlinks(dir); err == nil {
		dir = real
	}
	if abs, err := filepath.Abs(dir); err == nil {
		dir = abs
	}
	return filepath.Join(dir, base)
}

// shares reports whether a file is a device, which loses nothing.
func shares(info fs.FileInfo) bool { return info.Mode()&fs.ModeDevice != 0 }

// free is an error where the target is there and must not be.
func (t *Target) free() error {
	if t.Name == "" {
		return outcome.Usage("", "the name of what to write is empty")
	}
	if _, err := os.Lstat(t.Name); t.vacant && err == nil {
		return &fs.PathError{Op: "write", Path: t.Name, Err: errThere}
	}
	return nil
}

// Write writes the file, whole or not at all.
func (t *Target) Write(to func(w io.Writer) error) error {
	if err := t.files.clash(); err != nil { // files may have come to be there
		return err
	}
	if err := t.free(); err != nil {
		return err
	}
	f, err := output.Create(t.Name)
	if err != nil {
		return err
	}
	defer t.files.begin(f)()
	defer f.Abort()
	if err := to(f); err != nil {
		return err
	}
	return f.Commit()
}

// WriteData is write for bytes.
func (t *Target) WriteData(data []byte) error {
	return t.Write(func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Grow writes a file anew that was read, whole or not at all: an error where it
// is not what it was any more.
func (f *Register) Grow(name string, was, data []byte) error {
	now, err := readAll(name, nil)
	if err != nil {
		return err
	}
	if !bytes.Equal(now, was) {
		return &fs.PathError{Op: "write", Path: name, Err: errors.New("it was changed meanwhile, and is left as it is")}
	}
	file, err := output.Create(name)
	if err != nil {
		return err
	}
	defer f.begin(file)()
	defer file.Abort() // after Commit there is nothing
	if _, err := file.Write(data); err != nil {
		return err
	}
	return file.Commit()
}

// WriteAll writes files that were vacant, all of them or none.
func (f *Register) WriteAll(targets []*Target, data [][]byte) error {
	if err := f.clash(); err != nil {
		return err
	}
	written := make([]*output.File, len(targets))
	for i, t := range targets {
		if err := t.free(); err != nil {
			return err
		}
		file, err := output.Create(t.Name)
		if err != nil {
			return err
		}
		defer f.begin(file)()
		defer file.Abort() // after Commit there is nothing
		if _, err := file.Write(data[i]); err != nil {
			return err
		}
		written[i] = file
	}
	for i, file := range written {
		if err := file.Commit(); err != nil {
			for _, t := range targets[:i] {
				os.Remove(t.Name)
			}
			return err
		}
	}
	return nil
}

// WriteFolder makes the target a new folder of files.
func (t *Target) WriteFolder(files []catalog.Source) (names []string, err error) {
	if err := t.free(); err != nil {
		return nil, err
	}
	f, err := output.CreateFolder(t.Name)
	if err != nil {
		return nil, err
	}
	defer t.files.begin(f)()
	defer f.Abort() // after Commit there is nothing
	for _, src := range files {
		if err := f.Write(output.Entry{Name: src.Name, Data: src.Data}); err != nil {
			return nil, err
		}
		names = append(names, src.Name)
	}
	return names, f.Commit()
}

// begin notes a temporary file, until end.
func (f *Register) begin(u unfinished) (end func()) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.work == nil {
		f.work = map[unfinished]struct{}{}
	}
	f.work[u] = struct{}{}
	return func() {
		f.mu.Lock()
		defer f.mu.Unlock()
		delete(f.work, u)
	}
}

// Abandon removes the temporary files, for a run that ends at once.
func (f *Register) Abandon() {
	f.mu.Lock()
	defer f.mu.Unlock()
	for u := range f.work {
		u.Remove()
	}
}

// Read registers a file and reads it, or standard input for no name: not more
// than a parser takes, which says when that is too much. It does not wait for
// input when ctx ends.
func (f *Register) Read(ctx context.Context, name string, stdin io.Reader) (data []byte, err error) {
	err = f.open(ctx, name, stdin, func(r io.Reader) (err error) {
		data, err = io.ReadAll(io.LimitReader(r, field.MaxSize+1))
		return err
	})
	if err != nil { // data may still be written to
		return nil, err
	}
	return data, nil
}

// Stream registers a file and hands it to read, or standard input for no name. When ctx
// ends it waits for no input, and what read is handed ends.
func (f *Register) Stream(ctx context.Context, name string, stdin io.Reader, read func(r io.Reader) error) error {
	return f.open(ctx, name, stdin, func(r io.Reader) error { return read(&ending{ctx, r}) })
}

// open is Stream of which what read is handed does not end before its end.
func (f *Register) open(ctx context.Context, name string, stdin io.Reader, read func(r io.Reader) error) error {
	in := Input{Name: name}
	if file, ok := stdin.(*os.File); ok && name == "" {
		in.Name = StandardInput
		in.info, _ = file.Stat()
	}
	if name != "" || in.info != nil { // else it is no file
		if err := f.Reads(in); err != nil {
			return err
		}
	}
	if info := in.stat(); info != nil && info.Mode().IsRegular() {
		return handed(name, stdin, read) // which does not wait for anyone
	}
	done := make(chan error, 1)
	go func() { done <- handed(name, stdin, read) }()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return outcome.ErrInterrupted
	}
}

// ending is a reader that ends with a context.
type ending struct {
	ctx context.Context
	r   io.Reader
}

func (e *ending) Read(p []byte) (int, error) {
	if e.ctx.Err() != nil {
		return 0, outcome.ErrInterrupted
	}
	return e.r.Read(p)
}

// StandardInput is the name of standard input in messages.
const StandardInput = "standard input"

// readAll reads a file, or standard input for no name.
func readAll(name string, stdin io.Reader) (data []byte, err error) {
	err = handed(name, stdin, func(r io.Reader) (err error) {
		data, err = io.ReadAll(io.LimitReader(r, field.MaxSize+1))
		return err
	})
	return data, err
}

// handed hands a file to read, or standard input for no name.
func handed(name string, stdin io.Reader, read func(r io.Reader) error) error {
	label := name
	if name == "" {
		label = StandardInput
	} else {
		file, err := os.Open(name)
		if err != nil {
			return err
		}
		defer file.Close()
		stdin = file
	}
	err := read(stdin)
	var path *fs.PathError
	var problems field.Problems
	if err != nil && !errors.As(err, &path) && !errors.As(err, &problems) && !errors.Is(err, outcome.ErrInterrupted) {
		err = &fs.PathError{Op: "read", Path: label, Err: err}
	}
	return err
}

// Readable is an error where a file may not be read.
func Readable(name string) error {
	file, err := os.Open(name)
	if err != nil {
		return err
	}
	return file.Close()
}

// Load reads a catalog of files and folders.
func (f *Register) Load(ctx context.Context, paths []string) (*catalog.Catalog, error) {
	if err := f.folders(paths); err != nil {
		return nil, err
	}
	return opened(func(path string) ([]byte, error) { return f.Read(ctx, path, nil) }).Load(paths)
}

// Sources reads the files of a catalog as they are.
func (f *Register) Sources(ctx context.Context, paths []string) ([]catalog.Source, error) {
	if err := f.folders(paths); err != nil {
		return nil, err
	}
	return opened(func(path string) ([]byte, error) { return f.Read(ctx, path, nil) }).Sources(paths)
}

// folders registers the folders among paths.
func (f *Register) folders(paths []string) error {
	for _, path := range paths {
		if info, err := os.Stat(path); err == nil && info.IsDir() {
			if err := f.Reads(Input{Name: path, Folder: true, ending: ".csv"}); err != nil {
				return err
			}
		}
	}
	return nil
}

// opened is how catalogs are read, workbooks among them.
func opened(read func(path string) ([]byte, error)) catalog.Opened {
	return catalog.Opened{Read: read, Sheets: workbook.Read}
}

// Sheets registers a file with rows of a spreadsheet and reads it, a workbook sheet by
// sheet.
func (f *Register) Sheets(ctx context.Context, name string) ([]catalog.Source, error) {
	data, err := f.Read(ctx, name, nil)
	if err != nil {
		return nil, err
	}
	src := catalog.Source{Name: name, Data: data}
	if catalog.IsWorkbook(name) {
		return workbook.Read(src)
	}
	return []catalog.Source{src}, nil
}

// LoadKept is Load of files only, with what was read of each. They may be written
// after it.
func (f *Register) LoadKept(ctx context.Context, paths []string) (*catalog.Catalog, map[string][]byte, error) {
	kept := map[string][]byte{}
	c, err := opened(func(path string) ([]byte, error) {
		data, err := f.Read(ctx, path, nil)
		kept[path] = data
		return data, err
	}).Load(paths)
	return c, kept, err
}

// LoadAgain reads a catalog from what was kept of its files, and from more files
// in memory.
func LoadAgain(paths []string, kept map[string][]byte, more ...catalog.Source) (*catalog.Catalog, error) {
	return opened(func(path string) ([]byte, error) { return kept[path], nil }).Load(paths, more...)
}
