// Package output writes a file whole or not at all: into a temporary file in
// the same folder, flushed to the disk, then renamed over the target. An error
// or an Abort on the way leaves what was there before.
package output

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
)

// File is a file being written. Commit or Abort ends it; what is written in
// between is not seen by others.
type File struct {
	target string      // what the temporary file becomes; "" when written in place
	mode   fs.FileMode // of the file that is replaced, 0 for a new one
	file   *os.File
	buffer *bufio.Writer
	ended  bool
}

// Create opens a file for writing. A link is followed, and the file that it
// leads to is replaced. What is no regular file, such as a device or a named
// pipe, cannot be replaced and is written in place.
func Create(path string) (*File, error) {
	target := path
	if real, err := filepath.EvalSymlinks(path); err == nil {
		target = real
	}
	var mode fs.FileMode
	switch info, err := os.Stat(target); {
	case err == nil && info.IsDir():
		return nil, &fs.PathError{Op: "write", Path: path, Err: errors.New("is a directory")}
	case err == nil && !info.Mode().IsRegular():
		file, err := os.OpenFile(target, os.O_WRONLY, 0)
		if err != nil {
			return nil, err
		}
		return &File{file: file, buffer: bufio.NewWriter(file)}, nil
	case err == nil:
		mode = info.Mode().Perm()
	case !errors.Is(err, fs.ErrNotExist):
		return nil, err
	}
	file, err := temporary(target)
	if err != nil {
		return nil, &fs.PathError{Op: "write", Path: path, Err: cause(err)}
	}
	return &File{target: target, mode: mode, file: file, buffer: bufio.NewWriter(file)}, nil
}

// cause is the reason in a PathError, so that a message names the file asked
// for and not the temporary one.
func cause(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

// temporary creates a file of a new name beside the target, with the rights
// that a new file gets, which os.CreateTemp does not give.
func temporary(target string) (*os.File, error) {
	const attempts = 100
	dir, base := filepath.Split(target)
	for i := 0; ; i++ {
		name := dir + "." + base + "." + strconv.FormatUint(rand.Uint64(), 36) + ".tmp"
		file, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if errors.Is(err, fs.ErrExist) && i < attempts {
			continue
		}
		return file, err
	}
}

// Write buffers p.
func (f *File) Write(p []byte) (int, error) { return f.buffer.Write(p) }

// Commit makes what was written the content of the file. After an error the
// file is as it was before.
func (f *File) Commit() error {
	if err := f.commit(); err != nil {
		f.Abort()
		return fmt.Errorf("nothing written: %w", err)
	}
	f.ended = true
	return nil
}

func (f *File) commit() error {
	if err := f.buffer.Flush(); err != nil {
		return err
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
	if err := f.file.Close(); err != nil {
		return err
	}
	if err := os.Rename(f.file.Name(), f.target); err != nil {
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
	f.file.Close()
	if f.target != "" {
		os.Remove(f.file.Name())
	}
}

// WriteFile writes data to a file, whole or not at all.
func WriteFile(path string, data []byte) error {
	f, err := Create(path)
	if err != nil {
		return err
	}
	if _, err := f.Write(data); err != nil {
		f.Abort()
		return err
	}
	return f.Commit()
}
