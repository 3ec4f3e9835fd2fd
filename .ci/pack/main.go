// Command pack puts a folder into an archive that is the same, byte for byte,
// whenever and by whomever it is made of the same files: names in order, one
// time, no owner, permissions of a file that is run or read.
//
//	go run ./.ci/pack -time SECONDS FOLDER ARCHIVE
//
// The name of the archive ends in .tar.gz or .zip; the names in it begin with
// the folder's. The time is in seconds since 1970, UTC.
package main

import (
	"archive/tar"
	"archive/zip"
	"compress/gzip"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"strings"
	"time"
)

func main() {
	seconds := flag.Int64("time", -1, "the time of every file, in `seconds` since 1970")
	flag.Parse()
	if flag.NArg() != 2 || *seconds < 0 {
		flag.Usage()
		os.Exit(2)
	}
	if err := pack(flag.Arg(0), flag.Arg(1), time.Unix(*seconds, 0)); err != nil {
		fmt.Fprintln(os.Stderr, "pack:", err)
		os.Exit(1)
	}
}

// pack writes the archive of a folder.
func pack(folder, archive string, at time.Time) (err error) {
	write := writeTar
	switch {
	case strings.HasSuffix(archive, ".zip"):
		write = writeZip
	case !strings.HasSuffix(archive, ".tar.gz"):
		return fmt.Errorf("%s: an archive ends in .tar.gz or .zip", archive)
	}
	out, err := os.Create(archive)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, out.Close()) }()
	return write(out, folder, at.UTC()) // a zip file knows the zone of a time
}

// each calls add for everything in a folder, in the order of the names, with
// the name that it has in the archive.
func each(folder string, add func(name, file string, mode fs.FileMode) error) error {
	root := filepath.Base(filepath.Clean(folder))
	return filepath.WalkDir(folder, func(file string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := entry.Info()
		if err != nil {
			return err
		}
		sub, err := filepath.Rel(folder, file)
		if err != nil {
			return err
		}
		name := path.Join(root, filepath.ToSlash(sub))
		switch mode := info.Mode(); {
		case mode.IsDir():
			return add(name+"/", file, fs.ModeDir|0o755)
		case !mode.IsRegular():
			return fmt.Errorf("%s is neither a file nor a folder", file)
		case mode&0o100 != 0 || strings.HasSuffix(name, ".exe"):
			return add(name, file, 0o755)
		default:
			return add(name, file, 0o644)
		}
	})
}

func writeTar(out io.Writer, folder string, at time.Time) error {
	packed, err := gzip.NewWriterLevel(out, gzip.BestCompression)
	if err != nil {
		return err
	}
	w := tar.NewWriter(packed)
	err = each(folder, func(name, file string, mode fs.FileMode) error {
		header := tar.Header{Typeflag: tar.TypeDir, Name: name, Mode: int64(mode.Perm()), ModTime: at, Format: tar.FormatUSTAR}
		if mode.IsDir() {
			return w.WriteHeader(&header)
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		header.Typeflag, header.Size = tar.TypeReg, int64(len(data))
		if err := w.WriteHeader(&header); err != nil {
			return err
		}
		_, err = w.Write(data)
		return err
	})
	return errors.Join(err, w.Close(), packed.Close())
}

func writeZip(out io.Writer, folder string, at time.Time) error {
	w := zip.NewWriter(out)
	err := each(folder, func(name, file string, mode fs.FileMode) error {
		header := zip.FileHeader{Name: name, Modified: at, Method: zip.Deflate}
		if header.SetMode(mode); mode.IsDir() {
			header.Method = zip.Store
		}
		entry, err := w.CreateHeader(&header)
		if err != nil || mode.IsDir() {
			return err
		}
		data, err := os.ReadFile(file)
		if err != nil {
			return err
		}
		_, err = entry.Write(data)
		return err
	})
	return errors.Join(err, w.Close())
}
