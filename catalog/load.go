package catalog

import (
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"gearsearch/catalog/field"
)

// Source is a catalog file in memory. Its name is for messages; a name that
// ends in .csv or .tsv makes it a sheet, of the kinds that its column kind says, of
// the kind that the rest of the name says, or with the catalog's title and currency
// if that is catalog.csv; any other makes it TOML.
type Source = field.Source

// Read reads a catalog of the given files. What is wrong with their content is
// returned as field.Problems, all of it at once.
func Read(files ...Source) (*Catalog, error) {
	r := newReader()
	for _, f := range files {
		r.file(f)
	}
	return r.done()
}

// file notes a file to read.
func (r *reader) file(src Source) { r.catalog.sources = append(r.catalog.sources, src) }

// readAll reads the files noted, in their order.
func (r *reader) readAll() {
	r.changes.expect(r.catalog.sources)
	for i, src := range r.catalog.sources {
		if r.merge != nil {
			r.merge.at(i)
		}
		if isSheet(src) {
			r.csv(src)
		} else {
			r.toml(src)
		}
	}
	r.finishChanged()
	r.settle()
}

// hidden reports a file that its owner does not see, such as the ._motor.csv that
// some systems put beside a motor.csv on a foreign disk.
func hidden(name string) bool { return strings.HasPrefix(name, ".") }

// Load reads a catalog of files and directories. In a directory every CSV file
// is read, and must be named after the kind of its parts, motor.csv and so on,
// or catalog.csv; files with other endings and hidden files, whose names begin
// with a dot, are passed over. A file that cannot be read gives an *fs.PathError;
// what is wrong with the content of files is returned as field.Problems, all of
// it at once.
func Load(paths []string) (*Catalog, error) { return LoadWith(paths, readFile) }

// LoadWith is Load with another way to read a file, of which no more than
// field.MaxSize bytes and one are needed.
func LoadWith(paths []string, read func(path string) ([]byte, error)) (*Catalog, error) {
	return LoadBeside(paths, read)
}

// LoadBeside is LoadWith with files in memory, which are read after the others.
func LoadBeside(paths []string, read func(path string) ([]byte, error), more ...Source) (*Catalog, error) {
	return Opened{Read: read}.Load(paths, more...)
}

// Opened is how files are read and taken apart.
type Opened struct {
	Read func(path string) ([]byte, error) // as for LoadWith
	// Sheets are the sheets of a workbook (IsWorkbook), each as CSV with its name; nil
	// where none is read.
	Sheets func(book Source) ([]Source, error)
}

// Load is LoadBeside.
func (o Opened) Load(paths []string, more ...Source) (*Catalog, error) {
	r, err := o.noted(paths)
	if err != nil {
		return nil, err
	}
	for _, src := range more {
		r.file(src)
	}
	return r.done()
}

// Sources are the files of paths, as Load reads them.
func (o Opened) Sources(paths []string) ([]Source, error) {
	r, err := o.noted(paths)
	if err != nil {
		return nil, err
	}
	return r.catalog.sources, r.report.Err()
}

// noted notes the files of paths.
func (o Opened) noted(paths []string) (*reader, error) {
	r := newReader()
	r.opened = o
	for _, path := range paths {
		info, err := os.Stat(path)
		if err != nil {
			return nil, err
		}
		if !info.IsDir() {
			if err := r.load(path); err != nil {
				return nil, err
			}
			continue
		}
		if err := r.directory(path); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// readFile reads one file, of which no more than can be used is read into
// memory.
func readFile(path string) ([]byte, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, field.MaxSize+1))
}

// load reads one file.
func (r *reader) load(path string) error {
	data, err := r.opened.Read(path)
	if err != nil {
		return err
	}
	src := Source{Name: path, Data: data}
	if !IsWorkbook(path) || r.opened.Sheets == nil {
		r.file(src)
		return nil
	}
	sheets, err := r.opened.Sheets(src)
	if err != nil {
		return err
	}
	for _, sheet := range sheets {
		r.file(sheet)
	}
	return nil
}

// directory reads the CSV files of a directory, in the order of their names.
func (r *reader) directory(path string) error {
	entries, err := os.ReadDir(path) // sorted
	if err != nil {
		return err
	}
	found := 0
	var others []string // that are named one by one
	for _, e := range entries {
		switch name := e.Name(); {
		case e.IsDir(), hidden(name):
		case isSheet(Source{Name: name}):
			found++
			if err := r.load(filepath.Join(path, name)); err != nil {
				return err
			}
		case strings.HasSuffix(name, ".toml"), IsWorkbook(name):
			others = append(others, filepath.Join(path, name))
		}
	}
	if found == 0 {
		hint := "a directory is read as CSV files: " + strings.Join(KindNames(), ".csv, ") + ".csv"
		if len(others) > 0 {
			slices.Sort(others)
			hint = "other files are named one by one; there are " + field.Few(others)
			if len(others) == 1 {
				hint = "name the file itself: " + others[0]
			}
		}
		r.report.Add(r.report.Start(path), field.Missing, hint, "no CSV file in this directory")
	}
	return nil
}
