package webengine

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"gearsearch/catalog"
	"gearsearch/catalog/field"
	"gearsearch/constraints"
)

// sorted is what a file is.
type sorted struct {
	Is     string          `json:"is"`
	Values values          `json:"values,omitempty"` // of a brief
	Drafts []catalog.Draft `json:"drafts,omitempty"` // of the reader's own parts
	Build  string          `json:"build,omitempty"`  // a build file, without what it carries

	Carries bool `json:"carries,omitempty"` // the build has its parts, and its brief in Values: its file is a catalog too
}

// What a file may be.
const (
	isCatalog = "catalog"
	isABrief  = "brief"
	isBuild   = "build"
	isOwn     = "own"   // the parts that the page saved as the reader's own
	isSheet   = "sheet" // rows whose kind or columns are still to be told
	isBook    = "book"  // a workbook (.xlsx), which the page unpacks
	isWay     = "way"   // a way to ride, which the program reads
)

// ownSaved is the name of a file that the page saves for the reader's own parts, as
// browsers number it.
var ownSaved = regexp.MustCompile(`^own ?(\([0-9]+\))?\.toml$`)

// sortFile tells what a file is by what is in it. A build file has a [build], a
// brief any section of a brief; what is no TOML and has rows is a sheet; and all else
// is to be read as a catalog.
func sortFile(r *request) (*sorted, error) {
	if r.File == nil {
		return nil, fmt.Errorf("no file to look at")
	}
	src := r.File.source()
	if err := foreign(src); err != nil {
		return nil, err
	}
	name := strings.ToLower(src.Name)
	switch {
	case bytes.HasPrefix(src.Data, []byte("PK\x03\x04")):
		return &sorted{Is: isBook}, nil
	case isRecorded(src), isWayTable(src):
		return &sorted{Is: isWay}, nil
	case strings.HasSuffix(name, ".csv"), strings.HasSuffix(name, ".tsv"):
		if catalog.ReadsAsIs(src) {
			return &sorted{Is: isCatalog}, nil
		}
		return &sorted{Is: isSheet}, nil
	case constraints.IsBuild(src):
		return sortBuild(src)
	case isBrief(src):
		b, err := constraints.ReadBrief(src)
		if err != nil {
			return nil, err
		}
		return &sorted{Is: isABrief, Values: valuesOf(b)}, nil
	case !strings.HasSuffix(name, ".toml") && looksLikeRows(src):
		return &sorted{Is: isSheet}, nil
	case ownSaved.MatchString(name):
		if drafts, err := catalog.Drafts(src); err == nil {
			return &sorted{Is: isOwn, Drafts: drafts}, nil
		}
	}
	return &sorted{Is: isCatalog}, nil
}

// sortBuild reads a build file, and what it carries.
func sortBuild(src field.Source) (*sorted, error) {
	f, err := constraints.ReadBuild(src)
	if err != nil {
		return nil, err
	}
	out := &sorted{Is: isBuild, Build: string(f.TOML()), Carries: f.Carries}
	if !f.Carries {
		return out, nil
	}
	if _, err := catalog.Read(src); err != nil {
		return nil, err
	}
	b, err := constraints.ReadBrief(src)
	if err != nil {
		return nil, err
	}
	out.Values = valuesOf(b)
	return out, nil
}

// foreign refuses kinds of files that are known and not read, and says what to do.
func foreign(src field.Source) error {
	const openDocument = "mimetypeapplication/vnd.oasis.opendocument"
	for _, kind := range []struct {
		is   bool
		what string
		hint string
	}{
		{bytes.HasPrefix(src.Data, []byte("\xd0\xcf\x11\xe0")), "a spreadsheet in the old .xls form, or one with a password", "save it as .xlsx or as CSV, without a password"},
		{bytes.Contains(src.Data[:min(len(src.Data), 200)], []byte(openDocument)), "an OpenDocument file", "save it as .xlsx or as CSV"},
		{bytes.HasPrefix(src.Data, []byte("%PDF")), "a PDF, in which rows and columns cannot be told", "copy the rows of its table and paste them onto a table of this page"},
		{bytes.HasPrefix(src.Data, []byte("\x89PNG")) || bytes.HasPrefix(src.Data, []byte("\xff\xd8\xff")), "a picture", "type the values into a table of this page"},
	} {
		if kind.is {
			return field.Problems{{File: src.Name, Line: 1, Column: 1, Code: field.Syntax, Message: "this is " + kind.what + ", which is not read", Hint: kind.hint}}
		}
	}
	return nil
}

// looksLikeRows reports whether a text is no TOML and has the same mark between
// cells in its first rows.
func looksLikeRows(src field.Source) bool {
	var report field.Report
	field.Parse(src, &report)
	rows := bytes.SplitN(src.Data, []byte{'\n'}, 3)
	return report.Len() > 0 && len(rows) > 1 && slices.ContainsFunc([]string{"\t", ";", ","}, func(mark string) bool {
		n := bytes.Count(rows[0], []byte(mark))
		return n > 0 && bytes.Count(rows[1], []byte(mark)) == n
	})
}
