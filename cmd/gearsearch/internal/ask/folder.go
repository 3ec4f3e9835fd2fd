package ask

import (
	"errors"
	"fmt"
	"io/fs"
	"os"

	"gearsearch/catalog"
	"gearsearch/cmd/gearsearch/internal/files"
	"gearsearch/cmd/gearsearch/internal/outcome"
)

// partsFolder is a folder of CSV files, which is the working folder's catalog where
// it has no parts.toml.
const partsFolder = "parts"

// thisFolder is what the working folder names: parts.toml or the folder parts,
// and brief.toml.
func thisFolder() supply {
	parts, brief := catalog.StarterNames()
	s := supply{by: byFolder}
	file, err := lies(parts, "catalog")
	info, absent := os.Stat(partsFolder)
	folder := absent == nil && info.IsDir()
	switch {
	case file && folder:
		s.noCatalog = outcome.Usage("say which, by --catalog "+parts+" or --catalog "+partsFolder, "this folder has both %s and a folder %s", parts, partsFolder)
	case err != nil:
		s.noCatalog = err
	case file:
		s.catalog = []string{parts}
	case folder:
		s.catalog = []string{partsFolder}
	}
	file, err = lies(brief, "brief")
	switch {
	case err != nil:
		s.noBrief = err
	case file:
		s.briefs = []string{brief}
	}
	return s
}

// lies reports whether a file of that name lies in the working folder, and why
// it cannot be what it is taken for where no flag names another.
func lies(name, what string) (bool, error) {
	link, err := os.Lstat(name)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	wrong := func(why error) (bool, error) {
		return true, &fs.PathError{Op: "read", Path: name, Err: fmt.Errorf("%w; it is the %s where no --%s names another", why, what, what)}
	}
	if err != nil {
		return wrong(err)
	}
	info, err := os.Stat(name)
	switch {
	case err != nil && link.Mode()&fs.ModeSymlink != 0:
		return wrong(errors.New("a link that leads to no file"))
	case err != nil:
		return wrong(err)
	case info.IsDir():
		return wrong(errors.New("this is a folder"))
	case info.Mode().IsRegular():
		if err := files.Readable(name); err != nil {
			return wrong(errors.Unwrap(err))
		}
	}
	return true, nil
}
