// Package output writes a file whole or not at all: into a temporary file in
// the same folder, flushed to the disk, then renamed over the target. An error
// or an Abort on the way leaves what was there before. Errors name the file that
// was asked for.
package output

import (
	"bufio"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// File is a file being written. Commit or Abort ends it; what is written in
// between is not seen by others.
type File struct {
	path   string      // as it was asked for
	target string      // what the temporary file becomes; "" when written in place
	mode   fs.FileMode // of the file that is replaced, 0 for a new one
	file   *os.File
	lent   bool // the file is not to be closed
	buffer *bufio.Writer
	ended  bool
}

// Create opens a file for writing. A link is followed, and the file that it
// leads to is replaced, or made where there is none. A file that must not be
// written is not replaced. What is no regular file, such as a device or a named
// pipe, cannot be replaced and is written in place, and so is what standard
// output goes to, by its name. Temporary files that a run left beside the target
// when it was killed are removed.
func Create(path string) (*File, error) {
	if file := standard(path); file != nil {
		return &File{path: path, file: file, lent: true, buffer: bufio.NewWriter(file)}, nil
	}
	target := Resolve(path)
	if err := Writable(path); err != nil {
		return nil, err
	}
	var mode fs.FileMode
	switch info, err := os.Stat(target); {
	case err == nil && !info.Mode().IsRegular():
		file, err := os.OpenFile(target, os.O_WRONLY, 0)
		if err != nil {
			return nil, named(path, err)
		}
		return &File{path: path, file: file, buffer: bufio.NewWriter(file)}, nil
	case err == nil:
		mode = info.Mode().Perm()
	}
	tidy(target)
	file, err := temporary(target)
	if err != nil {
		return nil, named(path, err)
	}
	return &File{path: path, target: target, mode: mode, file: file, buffer: bufio.NewWriter(file)}, nil
}

// Writable reports why a file cannot be written or replaced, as far as that can
// be seen beforehand.
func Writable(path string) error {
	if standard(path) != nil {
		return nil
	}
	target := Resolve(path)
	dir := filepath.Dir(target)
	if info, err := os.Stat(dir); err != nil || !info.IsDir() {
		return named(path, errors.New("there is no folder "+shown(filepath.Dir(path), dir)))
	}
	switch info, err := os.Stat(target); {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return named(path, err)
	case info.IsDir():
		return named(path, errors.New("is a directory"))
	case !info.Mode().IsRegular():
		return nil // opening a pipe waits for its reader
	case info.Mode().Perm()&0o222 == 0:
		return named(path, errReadOnly) // also where the user may write anything
	}
	file, err := os.OpenFile(target, os.O_WRONLY, 0)
	switch {
	case errors.Is(err, fs.ErrPermission):
		return named(path, errReadOnly)
	case err != nil:
		return named(path, err)
	}
	return file.Close()
}

var errReadOnly = errors.New("it is read-only, and is not replaced")

// shown is a folder as it was asked for, or where a link leads.
func shown(asked, real string) string {
	if info, err := os.Stat(asked); err == nil && info.IsDir() {
		return real
	}
	return asked
}

// named is an error of writing that names the file asked for in place of the
// temporary one.
func named(path string, err error) error {
	return &fs.PathError{Op: "write", Path: path, Err: cause(err)}
}

// cause is the reason in an error about a file.
func cause(err error) error {
	var p *fs.PathError
	var l *os.LinkError
	switch {
	case errors.As(err, &p):
		return p.Err
	case errors.As(err, &l):
		return l.Err
	}
	return err
}

// standard is standard output or standard error, where a name says so: the file
// that a shell sent them to may hold more than this answer.
func standard(path string) *os.File {
	switch filepath.ToSlash(filepath.Clean(path)) {
	case "/dev/stdout", "/dev/fd/1", "/proc/self/fd/1":
		return os.Stdout
	case "/dev/stderr", "/dev/fd/2", "/proc/self/fd/2":
		return os.Stderr
	}
	return nil
}

// Resolve is the name of the file that a name leads to. It follows links, even to a
// file that is not there yet, but none to an open pipe, such as /dev/fd/63, which has
// no name.
func Resolve(path string) string {
	const most = 40 // as systems have it
	for range most {
		if real, err := filepath.EvalSymlinks(path); err == nil {
			return real
		}
		if _, err := os.Stat(path); err == nil {
			return path
		}
		to, err := os.Readlink(path)
		switch {
		case err != nil:
			return path
		case filepath.IsAbs(to):
			path = to
		default:
			path = filepath.Join(filepath.Dir(path), to)
		}
	}
	return path
}

// Write buffers p.
func (f *File) Write(p []byte) (int, error) {
	n, err := f.buffer.Write(p)
	if err != nil {
		err = named(f.path, err)
	}
	return n, err
}

// Commit makes what was written the content of the file. After an error the
// file is as it was before.
func (f *File) Commit() error {
	if err := f.commit(); err != nil {
		f.Abort()
		return named(f.path, err)
	}
	f.ended = true
	return nil
}

func (f *File) commit() error {
	if err := f.buffer.Flush(); err != nil {
		return err
	}
	if f.lent {
		return nil
	}
	if f.target == "" {
		return f.file.Close()
	}
	if f.mode != 0 {
		if err := f.file.Chmod(f.mode); err != nil {
			return err
		}
	}
	if err := f.file.Sync(); err != nil {
		return err
	}
	if err := rename(f.file, f.target); err != nil {
		return err
	}
	// The new name reaches the disk with the folder; some file systems cannot
	// sync one, and the content is there either way.
	if dir, err := os.Open(filepath.Dir(f.target)); err == nil {
		_ = dir.Sync()
		dir.Close()
	}
	return nil
}

// Abort drops what was written. After Commit it does nothing.
func (f *File) Abort() {
	if f.ended {
		return
	}
	f.ended = true
	if !f.lent {
		f.file.Close()
	}
	f.Remove()
}

// Remove removes the temporary file while another goroutine may be writing it,
// for a program that ends without waiting: then Commit fails.
func (f *File) Remove() {
	if f.target != "" {
		os.Remove(f.file.Name())
	}
}
